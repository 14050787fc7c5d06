//! The judges of an answer. Each knows one thing that must hold, works it out by means of its own from the question and the records, and says
//! what does not.

mod corners;
mod counts;
mod drawing;
mod figures;
mod left;
mod lie;
mod matches;
mod shapes;
mod touching;

pub(crate) use left::judge_left;
use toml::{Table, Value};

use crate::{
    make::Scene,
    motion::{Motion, fit},
    question::{ClothAsked, Order},
    record::{Cut, Layout, PieceRecord},
};

/// What a judge found wrong.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Complaint {
    /// The judge.
    pub(crate) judge: &'static str,
    /// What is wrong.
    pub(crate) text: String,
}

/// How far a place may be off, mm: what the program's own checker allows, and a little for our own rounding.
const PLACE: f64 = 0.0015;

/// A wish that was given up, and what it would have added to what is bought, where that is told.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct GivenUp {
    pub(crate) name: String,
    pub(crate) buy: Option<f64>,
    pub(crate) cost: Option<String>,
}

/// One cloth, what was asked of it and what came.
pub(crate) struct Answer<'a> {
    pub(crate) asked: &'a ClothAsked,
    pub(crate) layout: &'a Layout,
    pub(crate) pieces: &'a [PieceRecord],
    /// What the wishes that were given up would have cost, where that is told.
    pub(crate) prices: &'a [GivenUp],
}

/// A cut with its piece and order, and how it lies.
struct Lying<'a> {
    cut: &'a Cut,
    order: &'a Order,
    /// How it lies with its printed side up, and turned over; none when it does not lie so.
    up: Option<Motion>,
    over: Option<Motion>,
}

impl Lying<'_> {
    /// As the record says it lies.
    fn as_recorded(&self) -> Option<Motion> {
        if self.cut.mirrored { self.over } else { self.up }
    }
}

impl Answer<'_> {
    /// Whether a match was given up.
    fn gave_up(&self, name: &str) -> bool {
        self.layout.given_up.iter().any(|given_up| given_up == name)
    }

    /// Every cut whose piece was asked for and has a record.
    fn lying(&self) -> Vec<Lying<'_>> {
        let of = |cut| {
            let cut: &Cut = cut;
            let order = self.asked.orders.iter().find(|order| order.piece == cut.piece)?;
            let piece = self.pieces.iter().find(|piece| piece.piece == cut.piece)?;
            let [up, over] = [false, true].map(|mirrored| {
                let (motion, off) = fit(piece, cut, mirrored);
                (off <= PLACE).then_some(motion)
            });
            Some(Lying { cut, order, up, over })
        };
        self.layout.cuts.iter().filter_map(of).collect()
    }
}

/// Every complaint about one cloth.
pub(crate) fn judge(answer: &Answer<'_>) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut say = |judge: &'static str, text: String| found.push(Complaint { judge, text });
    let lying = answer.lying();
    counts::counts(answer, &mut say);
    counts::outlines(answer, &lying, &mut say);
    counts::hands(answer, &lying, &mut say);
    lie::edges(answer, &mut say);
    lie::grain(answer, &lying, &mut say);
    lie::laid(answer, &mut say);
    lie::fold(answer, &lying, &mut say);
    touching::overlap(answer, &mut say);
    touching::within(answer, &mut say);
    matches::matches(answer, &lying, &mut say);
    matches::told(answer, &mut say);
    figures::cloth(answer, &mut say);
    figures::length(answer, &mut say);
    figures::bound(answer, &mut say);
    figures::purchase(answer, &mut say);
    figures::given_up(answer, &mut say);
    found
}

/// Every complaint about the pieces, before any is laid.
pub(crate) fn judge_pieces(scene: &Scene, pieces: &[PieceRecord]) -> Vec<Complaint> {
    let mut found = Vec::new();
    let mut say = |judge: &'static str, text: String| found.push(Complaint { judge, text });
    touching::cutting_lines(pieces, &mut say);
    if !is_altered(scene) {
        shapes::shapes(scene, pieces, &mut say);
        for record in pieces {
            let listed = scene.pattern.get("piece").and_then(Value::as_array).into_iter().flatten();
            let named = |piece: &&Value| piece.get("name").and_then(Value::as_str) == Some(&record.piece);
            if let Some(piece) = listed.filter_map(|piece| Some(piece).filter(named)).find_map(Value::as_table) {
                drawing::drawing((scene.typed(piece), piece.contains_key("pick")), &scene.pattern, record, &mut say);
            }
        }
    }
    found
}

/// Whether pieces are not as they are drawn: blended, or altered.
fn is_altered(scene: &Scene) -> bool {
    let alter = scene.job.get("alter").and_then(Value::as_table);
    let altered =
        |alter: &Table| alter.keys().any(|key| ["lengthen", "widen", "allowances", "pieced"].contains(&key.as_str()));
    scene.pattern.contains_key("size") || alter.is_some_and(altered)
}

/// "Front" copy 1.
fn name(cut: &Cut) -> String {
    format!("\"{}\" copy {}", cut.piece, cut.copy)
}
