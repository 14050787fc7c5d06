//! Each kind of block but tables as passages.

use ellwand_drawing::leaves::{Flush, Keep, Passage, Role, Strip};

use super::{BODY, LABEL, Setting};
use crate::{CheckItem, CheckList, Drawing, Row};

/// Between paragraphs, mm.
const APART: f64 = 1.8;
/// The column of labels, mm.
const LABELS: f64 = 52.0;
/// How far what follows a number, a dot or a box stands in, mm.
const INDENT: f64 = 6.0;
/// Up to so many lines stay on one leaf.
const WHOLE: usize = 12;

impl Setting {
    pub(super) fn paragraph(&self, text: &str) -> Passage {
        Passage::new(Role::Words, self.strips(text, BODY, self.leaf.measure())).after(APART)
    }

    pub(super) fn row(&self, row: &Row) -> Passage {
        let labels = self.lines(&row.label, LABEL, LABELS - 3.0);
        let width = self.leaf.measure() - LABELS;
        let said: Vec<String> = row.lines.iter().flat_map(|line| self.lines(line, BODY, width)).collect();
        let strips = (0..labels.len().max(said.len())).map(|k| {
            let strip = labels.get(k).map_or_else(Strip::default, |label| Strip::of(label, LABEL));
            match said.get(k) {
                Some(line) => strip.with(line, BODY, Flush::Left(LABELS)),
                None => strip,
            }
        });
        whole(Passage::new(Role::Words, strips.collect())).after(APART)
    }

    pub(super) fn note(&self, note: &str) -> Passage {
        let mut strips = self.indented(&format!("{note}."));
        if let Some(first) = strips.first_mut() {
            *first = std::mem::take(first).dot(2.0);
        }
        whole(Passage::new(Role::Words, strips)).after(0.6)
    }

    pub(super) fn step(&self, number: usize, step: &str) -> Passage {
        let mut strips = self.indented(step);
        if let Some(first) = strips.first_mut() {
            *first = std::mem::take(first).with(&format!("{number}."), BODY, Flush::Left(0.0));
        }
        whole(Passage::new(Role::Words, strips)).after(0.6)
    }

    fn indented(&self, text: &str) -> Vec<Strip> {
        let lines = self.lines(text, BODY, self.leaf.measure() - INDENT);
        lines.iter().map(|line| Strip::default().with(line, BODY, Flush::Left(INDENT))).collect()
    }

    pub(super) fn check_list(&self, list: &CheckList) -> Vec<Passage> {
        let caption = Passage::new(Role::Words, self.strips(&list.caption, LABEL, self.leaf.measure()));
        let caption = caption.keep(Keep::WithNext).after(3.0);
        std::iter::once(caption).chain(list.items.iter().map(|item| self.check_item(item))).collect()
    }

    fn check_item(&self, item: &CheckItem) -> Passage {
        let width = self.leaf.measure() - INDENT;
        let at = Flush::Left(INDENT);
        let what = self.lines(&item.what, LABEL, width);
        let mut strips: Vec<Strip> = what.iter().map(|line| Strip::default().with(line, LABEL, at)).collect();
        if let Some(first) = strips.first_mut() {
            *first = std::mem::take(first).tick_box(0.0);
        }
        let how = self.lines(&item.how.join("; "), BODY, width);
        strips.extend(how.iter().map(|line| Strip::default().with(line, BODY, at)));
        whole(Passage::new(Role::Words, strips)).after(APART)
    }

    pub(super) fn drawing(&self, drawing: &Drawing) -> Vec<Passage> {
        let strips = |text: &str| self.strips(text, BODY, self.leaf.measure());
        let instead = strips(&format!("{}: drawn after this page.", drawing.caption));
        let figure =
            Passage::figure(drawing.sheet.clone(), drawing.alternative.clone(), strips(&drawing.caption), instead);
        vec![figure.after(2.0)]
    }
}

fn whole(passage: Passage) -> Passage {
    if passage.is_longer_than(WHOLE) { passage } else { passage.keep(Keep::Whole) }
}
