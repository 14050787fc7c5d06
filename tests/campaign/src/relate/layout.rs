//! The ways of laying cloth: what the answer in one of them says about the others.

use toml::{Table, Value};

use super::{CLOSE, Say, both, stricter, words};
use crate::{
    make::Scene,
    question::{Laying, Way},
    trial::{Bench, NotPlanned, Planned, judge_planned},
};

/// Holds the answer to what each way comes to alone.
pub(super) fn layout(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    never_crosswise_with_nap(bench, scene, say);
    // What is cut in as many strips or widths as the cloth asks for is cut otherwise from folded cloth.
    if !words::is_cut_to_width(scene) {
        each_way_alone(bench, scene, base, say);
        buys_no_more_than_plainer(bench, scene, say);
    }
}

/// Where several ways will do, the answer is no worse than in any of them.
fn each_way_alone(bench: &Bench<'_>, scene: &Scene, base: &Planned, say: Say<'_>) {
    for (word, way) in Way::WORDS {
        let strict = words::of_fabrics(scene, |fabric| {
            let is_one_of_them = match Laying::of(fabric) {
                Laying::Any => true,
                Laying::Either => matches!(way, Way::Open | Way::CentreFold),
                Laying::Only(_) => false,
            };
            if is_one_of_them {
                lay(fabric, word);
            }
        });
        if strict != *scene {
            stricter(bench, &strict, base, word, true, say);
        }
    }
}

/// A fold that may be as deep as the middle or no deeper than not at all, along all of the cloth or none of it, comprises the fold down the middle and
/// the open layer. A longer one that is bought all the same may be less work.
fn buys_no_more_than_plainer(bench: &Bench<'_>, scene: &Scene, say: Say<'_>) {
    let laid = |word: &str| words::of_fabrics(scene, |fabric| lay(fabric, word));
    let Some(plainer) = planned(bench, &laid("either"), "either", say) else { return };
    for word in ["off centre", "part folded"] {
        let Some(found) = planned(bench, &laid(word), word, say) else { continue };
        for (plainer, folded) in both(&plainer, &found).filter(|(cloth, _)| cloth.layout.remnant.is_none()) {
            let (most, buy) = (plainer.layout.purchase.buy, folded.layout.purchase.buy);
            if buy > most + CLOSE {
                say("ways", format!("{word} buys {buy:.4} mm, and open or folded down the middle {most:.4}"));
            }
        }
    }
}

/// The second layer of a crosswise fold runs the other way.
fn never_crosswise_with_nap(bench: &Bench<'_>, scene: &Scene, say: Say<'_>) {
    let napped = words::of_fabrics(scene, |fabric| {
        lay(fabric, "crosswise");
        fabric.insert("nap".to_owned(), Value::String("with".to_owned()));
    });
    if planned(bench, &napped, "crosswise with nap", say).is_some() {
        say("ways", "cloth with nap is folded crosswise".to_owned());
    }
}

/// The answer where there is one, sound or not.
fn planned(bench: &Bench<'_>, scene: &Scene, how: &str, say: Say<'_>) -> Option<Planned> {
    match bench.plan(scene, 1) {
        Ok((planned, _)) => {
            for complaint in judge_planned(&planned) {
                say(complaint.judge, format!("{how}: {}", complaint.text));
            }
            Some(planned)
        }
        Err(NotPlanned::Refused) => None,
        Err(NotPlanned::Fault(complaint)) => {
            say(complaint.judge, format!("{how}: {}", complaint.text));
            None
        }
    }
}

fn lay(fabric: &mut Table, word: &str) {
    fabric.remove("layer");
    fabric.insert("layout".to_owned(), Value::String(word.to_owned()));
}
