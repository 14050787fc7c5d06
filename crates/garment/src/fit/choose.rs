//! Which size suits a body, and what each of the nearest would leave as ease.

use super::{Body, FitFault};
use crate::{Units, format_length};

/// The sizes of a pattern.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SizeChart {
    /// Small to large within each figure type.
    pub sizes: Vec<Size>,
    /// What a size is chosen by.
    pub by: ChooseBy,
}

/// One size.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Its name, unique in its figure type.
    pub name: String,
    /// Its figure type; empty when the pattern has one only.
    pub figure: String,
    /// The body it is drafted for.
    pub body: Body,
}

impl Size {
    /// What it is called beside the others of its pattern: its name, and its figure type where there are several.
    ///
    /// ```
    /// use ellwand_garment::{Body, Size};
    ///
    /// let size = |figure: &str| Size { name: "38".into(), figure: figure.into(), body: Body::default() };
    /// assert_eq!(size("").label(), "38");
    /// assert_eq!(size("short").label(), "38 short");
    /// ```
    pub fn label(&self) -> String {
        if self.figure.is_empty() { self.name.clone() } else { format!("{} {}", self.name, self.figure) }
    }
}

/// What a size is chosen by.
///
/// Tops, dresses and jackets by bust, skirts and trousers by waist or hip; high bust is the better guide to shoulder and neck (learn-to-sew
/// guidelines of a US sewing trade association).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ChooseBy {
    /// The bust, or the high bust where the body is full-busted.
    #[default]
    Bust,
    /// The hip, or the waist where that asks for a larger size.
    HipOrWaist,
}

/// A full bust exceeds the high bust by this much or more, mm: 2 in. From memory; widely followed.
const FULL_BUST: f64 = 50.8;

/// What is advised.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// The size.
    pub size: String,
    /// Why, in a sentence.
    pub reason: String,
    /// The sizes nearest to the body, small to large, the advised one among them.
    pub nearest: Vec<Candidate>,
    /// By how much the body lies outside the chart in the measure chosen by, mm: below zero when smaller.
    pub outside: f64,
}

/// A size near the body.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidate {
    /// The size.
    pub size: String,
    /// For each measure of both the body and the size, what the body has more than the size, mm.
    pub differences: Vec<(String, f64)>,
}

impl SizeChart {
    /// The figure types, in the order of the chart.
    pub fn figures(&self) -> Vec<&str> {
        let mut figures: Vec<&str> = Vec::new();
        for size in &self.sizes {
            if !figures.contains(&size.figure.as_str()) {
                figures.push(&size.figure);
            }
        }
        figures
    }

    /// The sizes of one figure type.
    pub fn of_figure<'c>(&'c self, figure: &'c str) -> impl Iterator<Item = &'c Size> + Clone {
        self.sizes.iter().filter(move |size| size.figure == figure)
    }
}

/// The size of `figure` that suits `body`.
///
/// The reason is told in `units`. The nearest in the measure chosen by; half-way between two the larger, as where EN 13402-3 puts class boundaries: a bust of
/// 82 cm is the first of the class from 82 to 86.
///
/// # Errors
///
/// [`FitFault::MissingMeasure`] when the body or a size lacks what the choice needs.
pub fn advise(chart: &SizeChart, figure: &str, body: &Body, units: Units) -> Result<Advice, FitFault> {
    let sizes: Vec<&Size> = chart.of_figure(figure).collect();
    match chart.by {
        ChooseBy::Bust => {
            let bust = *body.get("bust").ok_or_else(|| FitFault::BodyLacks { measure: "bust".into() })?;
            let full = body.get("high bust").filter(|&&high| bust - high >= FULL_BUST);
            // By the high bust only where every size tells one.
            let tells = sizes.iter().all(|size| size.body.contains_key("high bust"));
            match full.filter(|_| tells) {
                Some(&high) => nearest_by(&sizes, (body, units), "high bust", high).map(|advice| Advice {
                    reason: format!(
                        "{}; the bust is {} fuller than the high bust, so shoulders and neck fit by the high bust and the \
                         bust is let out",
                        advice.reason,
                        format_length(bust - high, units)
                    ),
                    ..advice
                }),
                None => nearest_by(&sizes, (body, units), "bust", bust),
            }
        }
        ChooseBy::HipOrWaist => {
            let by = |measure: &'static str| {
                body.get(measure).map(|&is| nearest_by(&sizes, (body, units), measure, is)).transpose()
            };
            match (by("hip")?, by("waist")?) {
                (Some(hip), Some(waist)) => {
                    let rank = |advice: &Advice| sizes.iter().position(|size| size.name == advice.size);
                    if rank(&waist) > rank(&hip) {
                        let reason = format!("{}; the hip alone would take {}", waist.reason, hip.size);
                        Ok(Advice { reason, ..waist })
                    } else {
                        Ok(hip)
                    }
                }
                (Some(advice), None) | (None, Some(advice)) => Ok(advice),
                (None, None) => Err(FitFault::BodyLacks { measure: "hip".into() }),
            }
        }
    }
}

fn nearest_by(sizes: &[&Size], (body, units): (&Body, Units), measure: &str, is: f64) -> Result<Advice, FitFault> {
    let of = |size: &Size| {
        size.body
            .get(measure)
            .copied()
            .ok_or_else(|| FitFault::MissingMeasure { size: size.name.clone(), measure: measure.to_owned() })
    };
    let values: Vec<f64> = sizes.iter().map(|size| of(size)).collect::<Result<_, _>>()?;
    let (Some(&least), Some(&most)) = (values.first(), values.last()) else { return Err(FitFault::NoSizes) };
    // Of two equally near the larger.
    let mut best = 0;
    for (k, value) in values.iter().enumerate() {
        if (value - is).abs() <= (values[best] - is).abs() {
            best = k;
        }
    }
    let outside = if is < least {
        is - least
    } else if is > most {
        is - most
    } else {
        0.0
    };
    let around = best.saturating_sub(1)..(best + 2).min(sizes.len());
    let candidate = |size: &&Size| Candidate {
        size: size.name.clone(),
        differences: (size.body.iter())
            .filter_map(|(measure, of_size)| Some((measure.clone(), body.get(measure)? - of_size)))
            .collect(),
    };
    let say = |mm: f64| format_length(mm, units);
    let reason = if outside == 0.0 {
        format!("{measure} {} is nearest to its {}", say(is), say(values[best]))
    } else {
        let which = if outside < 0.0 { "smallest" } else { "largest" };
        format!("{measure} {} lies {} outside the chart; this is the {which} size", say(is), say(outside.abs()))
    };
    Ok(Advice {
        size: sizes[best].name.clone(),
        reason,
        nearest: sizes[around].iter().map(candidate).collect(),
        outside,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// EN 13402-3, women: bust, waist and hip of its twelve sizes, cm. The class boundaries of the bust are published; these middle values are
    /// from memory and consistent with them.
    const EN: [(f64, f64, f64); 12] = [
        (76.0, 60.0, 84.0),
        (80.0, 64.0, 88.0),
        (84.0, 68.0, 92.0),
        (88.0, 72.0, 96.0),
        (92.0, 76.0, 100.0),
        (96.0, 80.0, 104.0),
        (100.0, 84.0, 108.0),
        (104.0, 88.0, 112.0),
        (110.0, 94.0, 117.0),
        (116.0, 100.0, 122.0),
        (122.0, 106.0, 127.0),
        (128.0, 112.0, 132.0),
    ];

    fn chart(by: ChooseBy) -> SizeChart {
        let size = |(bust, waist, hip): (f64, f64, f64)| Size {
            name: format!("{bust}"),
            figure: String::new(),
            body: [("bust", bust), ("waist", waist), ("hip", hip)].map(|(k, v)| (k.to_owned(), v * 10.0)).into(),
        };
        SizeChart { sizes: EN.map(size).to_vec(), by }
    }

    fn body(measures: &[(&str, f64)]) -> Body {
        measures.iter().map(|&(k, v)| (k.to_owned(), v * 10.0)).collect()
    }

    fn advised(by: ChooseBy, measures: &[(&str, f64)]) -> String {
        advise(&chart(by), "", &body(measures), Units::Centimetres).unwrap().size
    }

    #[test]
    fn class_boundaries_of_the_bust_belong_to_the_larger_size() {
        // EN 13402-3, women, class boundaries of bust girth, cm, as coded in the documentation of an open statistical data package:
        // 74, 78, 82, 86, 90, 94, 98, 102, 107, 113, 119, 125, 131.
        let boundaries = [78.0, 82.0, 86.0, 90.0, 94.0, 98.0, 102.0, 107.0, 113.0, 119.0, 125.0];
        for (k, boundary) in boundaries.into_iter().enumerate() {
            assert_eq!(advised(ChooseBy::Bust, &[("bust", boundary)]), EN[k + 1].0.to_string(), "{boundary} cm");
            assert_eq!(
                advised(ChooseBy::Bust, &[("bust", boundary - 0.1)]),
                EN[k].0.to_string(),
                "just below {boundary} cm"
            );
        }
    }

    #[test]
    fn a_full_bust_is_fitted_by_the_high_bust() {
        let mut chart = chart(ChooseBy::Bust);
        for size in &mut chart.sizes {
            let high = size.body["bust"] - 20.0;
            size.body.insert("high bust".into(), high);
        }
        let size =
            |high: f64| advise(&chart, "", &body(&[("bust", 100.0), ("high bust", high)]), Units::Centimetres).unwrap();
        assert_eq!(size(96.0).size, "100", "4 cm is no full bust");
        assert_eq!(size(90.0).size, "92");
        assert!(size(90.0).reason.contains("let out"));
    }

    #[test]
    fn a_bust_is_full_from_two_inches_over_the_high_bust() {
        let mut chart = chart(ChooseBy::Bust);
        for size in &mut chart.sizes {
            let high = size.body["bust"] - 20.0;
            size.body.insert("high bust".into(), high);
        }
        // A high bust of 95 cm is that of 96 or 100; the bust by itself takes 100.
        let size = |fuller: f64| {
            let body = body(&[("bust", 100.0), ("high bust", 100.0 - fuller / 10.0)]);
            advise(&chart, "", &body, Units::Centimetres).unwrap().size
        };
        assert_eq!((size(50.7).as_str(), size(50.9).as_str()), ("100", "96"));
        // Where the sizes tell no high bust it cannot be gone by.
        let plain = self::chart(ChooseBy::Bust);
        let full = body(&[("bust", 100.0), ("high bust", 90.0)]);
        assert_eq!(advise(&plain, "", &full, Units::Centimetres).unwrap().size, "100");
    }

    #[test]
    fn the_nearest_sizes_are_told_with_what_the_body_has_more() {
        let body = body(&[("bust", 93.0), ("waist", 74.0), ("height", 170.0)]);
        let advice = advise(&chart(ChooseBy::Bust), "", &body, Units::Centimetres).unwrap();
        assert_eq!((advice.size.as_str(), advice.outside), ("92", 0.0));
        assert_eq!(advice.reason, "bust 93 cm is nearest to its 92 cm");
        let told: Vec<(&str, &[(String, f64)])> =
            advice.nearest.iter().map(|near| (near.size.as_str(), near.differences.as_slice())).collect();
        let differences = |bust: f64, waist: f64| [("bust".to_owned(), bust), ("waist".to_owned(), waist)];
        assert_eq!(
            told,
            [
                ("88", &differences(50.0, 20.0)[..]),
                ("92", &differences(10.0, -20.0)),
                ("96", &differences(-30.0, -60.0))
            ]
        );
    }

    #[test]
    fn skirts_go_by_the_hip_unless_the_waist_asks_for_more() {
        assert_eq!(advised(ChooseBy::HipOrWaist, &[("hip", 101.0), ("waist", 76.0)]), "92");
        assert_eq!(advised(ChooseBy::HipOrWaist, &[("hip", 101.0), ("waist", 81.0)]), "96");
        assert_eq!(advised(ChooseBy::HipOrWaist, &[("waist", 64.5)]), "80");
    }

    #[test]
    fn a_body_outside_the_chart_is_told_by_how_much() {
        let advice = advise(&chart(ChooseBy::Bust), "", &body(&[("bust", 131.5)]), Units::Centimetres).unwrap();
        assert_eq!((advice.size.as_str(), advice.outside), ("128", 35.0));
        assert!(advice.reason.contains("3.5 cm outside"));
        assert_eq!(
            advise(&chart(ChooseBy::Bust), "", &body(&[("bust", 70.0)]), Units::Centimetres).unwrap().outside,
            -60.0
        );
    }
}
