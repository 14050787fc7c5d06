//! Which properties an element is given: by attributes, by style sheets, and by its own `style`, in this order (CSS 2.1, 6.4; SVG 2, 6.6).

use roxmltree::Node;
use simplecss::{AttributeOperator, Declaration, DeclarationTokenizer, PseudoClass, Rule, StyleSheet};

use super::style::PROPERTIES;
use crate::{Counted, Format, ReadFault};

/// Most rules of all style sheets together, each selector of a list and each of its properties counted.
const MOST_RULES: usize = 20_000;

/// Most times a rule is held against an element.
const MOST_TRIALS: usize = 40_000_000;

/// All style sheets of a file.
pub(super) struct Css<'a> {
    rules: Vec<Rule<'a>>,
    trials: usize,
    /// What of the sheets is not read.
    pub(super) not_read: Vec<(&'static str, &'static str)>,
}

impl<'a> Css<'a> {
    /// Those of all `style` elements.
    pub(super) fn of(document: &'a roxmltree::Document) -> Self {
        let mut sheet = StyleSheet::new();
        let mut not_read = Vec::new();
        let mut size = 0;
        let styles = document.descendants().filter(|node| node.tag_name().name() == "style");
        for text in styles.flat_map(|style| style.children().filter_map(|child| child.text())) {
            let harmless = ["@font-face", "@charset", "@namespace"];
            if text.matches('@').count() > harmless.iter().map(|word| text.matches(word).count()).sum() {
                not_read.push((
                    "a rule of a style sheet that begins with `@`",
                    "other files and conditions are not followed",
                ));
            }
            if has_odd_selector(text) {
                not_read.push((
                    "a rule of a style sheet",
                    "only names, classes, ids, attributes and what lies in what are understood",
                ));
            }
            size += size_of(text);
            if size > MOST_RULES {
                not_read.push(("a style sheet", "the file has more than 20000 rules of style"));
                break;
            }
            sheet.parse_more(text);
        }
        Self { rules: sheet.rules, trials: 0, not_read }
    }

    /// Properties of an element in the order in which they hold: the last of a name wins.
    pub(super) fn declared<'b>(&mut self, node: Node<'b, '_>) -> Result<Vec<(&'b str, &'b str)>, ReadFault>
    where
        'a: 'b,
    {
        let mut found: Vec<(&str, &str)> = Vec::new();
        let mut important = Vec::new();
        let of_attributes = node.attributes().filter(|attribute| attribute.namespace().is_none());
        found.extend(
            of_attributes.map(|attribute| (attribute.name(), attribute.value())).filter(|(name, _)| is_read(name)),
        );
        self.trials += self.rules.len();
        if self.trials > MOST_TRIALS {
            return Err(ReadFault::TooMuch {
                format: Format::Svg,
                counted: Counted::Objects,
                limit: MOST_TRIALS as u64,
                at: Some("its style sheets, tried on every element".to_owned()),
            });
        }
        let mut take = |declaration: &Declaration<'b>| {
            let pair = (declaration.name, declaration.value);
            match (is_read(pair.0), declaration.important) {
                (false, _) => {}
                (true, false) => found.push(pair),
                (true, true) => important.push(pair),
            }
        };
        for rule in self.rules.iter().filter(|rule| rule.selector.matches(&Element(node))) {
            rule.declarations.iter().for_each(&mut take);
        }
        if let Some(style) = node.attribute("style") {
            DeclarationTokenizer::from(style).for_each(|declaration| take(&declaration));
        }
        found.append(&mut important);
        Ok(found)
    }
}

/// How much of a style sheet there is once each selector of a list has its properties to itself.
fn size_of(text: &str) -> usize {
    let size = |block: &str| {
        let (selectors, declarations) = block.split_once('{').unwrap_or((block, ""));
        (selectors.matches(',').count() + 1).saturating_mul(declarations.matches([';', ':']).count() / 2 + 1)
    };
    // An empty style sheet counts too: each is sorted in among the others.
    text.split('}').map(size).fold(1, usize::saturating_add)
}

/// Whether a style sheet has a selector that is not understood. Rules that begin with `@` are told elsewhere.
fn has_odd_selector(text: &str) -> bool {
    let without_comments = text
        .split("/*")
        .enumerate()
        .map(|(at, part)| if at == 0 { part } else { part.split_once("*/").map_or("", |(_, rest)| rest) });
    let plain: String = without_comments.collect();
    let is_odd = |selector: &str| !selector.contains('@') && simplecss::Selector::parse(selector.trim()).is_none();
    plain.split('}').filter_map(|rule| rule.split_once('{')).any(|(selectors, _)| selectors.split(',').any(is_odd))
}

fn is_read(name: &str) -> bool {
    PROPERTIES.contains(&name)
}

#[derive(Clone, Copy)]
struct Element<'a, 'input>(Node<'a, 'input>);

impl simplecss::Element for Element<'_, '_> {
    fn parent_element(&self) -> Option<Self> {
        self.0.parent_element().map(Self)
    }

    fn prev_sibling_element(&self) -> Option<Self> {
        self.0.prev_sibling_element().map(Self)
    }

    fn has_local_name(&self, name: &str) -> bool {
        self.0.tag_name().name() == name
    }

    fn attribute_matches(&self, name: &str, operator: AttributeOperator<'_>) -> bool {
        self.0.attribute(name).is_some_and(|value| operator.matches(value))
    }

    fn pseudo_class_matches(&self, class: PseudoClass<'_>) -> bool {
        matches!(class, PseudoClass::FirstChild) && self.prev_sibling_element().is_none()
    }
}
