//! Names that a job of several garments gives to pieces and seams, written out as the joined pattern has them.
//!
//! "Apron: pocket" is the pocket of the apron; "pocket" alone is the pocket of every garment that has one on the cloth in question. What is none of
//! these is left as it is, and is judged where it is used.

use ellwand_garment::{Pattern, PieceSet, Seam, SeamSide, ToJoin};

use crate::{
    document::{At, Count, Name},
    job::{
        format::JobFile,
        matching::{border_name, line_name, motif_name},
        matching_format::{AddEntry, BorderRuleEntry, LineEntry, MatchingEntry, MotifEntry, PiecePointEntry},
    },
    pattern::supply_format::EdgeWord,
};

/// Writes out every name in what the job says of matching and of its own trims.
pub(super) fn write_out(file: &mut JobFile, pattern: &Pattern, joining: &[ToJoin<'_>], sets: &[PieceSet]) {
    let called = Called { pattern, joining, sets };
    for (role, entry) in file.fabric.iter_mut().flat_map(|fabrics| &mut fabrics.value.0) {
        if let Some(matching) = &mut entry.value.matching {
            called.matching(&mut matching.value, &role.value);
        }
    }
    for trim in file.trim.iter_mut().flat_map(|trims| &mut trims.value) {
        if let Some(edges) = &mut trim.value.edges {
            edges.value = std::mem::take(&mut edges.value).into_iter().flat_map(|edge| called.edge(edge)).collect();
        }
    }
}

/// What pieces and seams are called.
struct Called<'a> {
    pattern: &'a Pattern,
    joining: &'a [ToJoin<'a>],
    sets: &'a [PieceSet],
}

impl Called<'_> {
    /// The sets that a name may be of, and its own part: all of them, or those of the garment that stands before it.
    fn meant<'n>(&self, name: &'n str) -> (Vec<&PieceSet>, &'n str) {
        if let Some((garment, own)) = name.split_once(": ")
            && let Some(index) = self.joining.iter().position(|of| of.name == garment)
        {
            return (self.sets.iter().filter(|set| set.garment == index).collect(), own);
        }
        (self.sets.iter().collect(), name)
    }

    /// What `name` stands for, `is` telling which names there are, and `here` which of them belong to the cloth.
    fn written_out(&self, name: &str, is: impl Fn(&str) -> bool, here: impl Fn(&str) -> bool) -> Vec<String> {
        if is(name) {
            return vec![name.to_owned()];
        }
        let (sets, own) = self.meant(name);
        let known: Vec<String> = sets.iter().map(|set| set.name(own)).filter(|name| is(name)).collect();
        let of_cloth: Vec<String> = known.iter().filter(|name| here(name)).cloned().collect();
        match (known.as_slice(), of_cloth.as_slice()) {
            ([], _) => vec![name.to_owned()],
            (_, []) => known,
            _ => of_cloth,
        }
    }

    fn is_piece(&self, name: &str) -> bool {
        self.pattern.piece(name).is_some()
    }

    fn is_cut(&self, piece: &str, role: &str) -> bool {
        self.pattern.piece(piece).is_some_and(|piece| piece.cuts.iter().any(|rule| rule.role == role))
    }

    fn pieces(&self, name: &str, role: &str) -> Vec<String> {
        self.written_out(name, |name| self.is_piece(name), |name| self.is_cut(name, role))
    }

    fn seams(&self, name: &str, role: &str) -> Vec<String> {
        let seam = |name: &str| self.pattern.seams.iter().find(|seam| seam.name == name);
        let sides =
            |seam: &Seam| [Some(seam.a.clone()), seam.b.clone()].into_iter().flatten().collect::<Vec<SeamSide>>();
        let here =
            |name: &str| seam(name).is_some_and(|seam| sides(seam).iter().all(|side| self.is_cut(&side.piece, role)));
        self.written_out(name, |name| seam(name).is_some(), here)
    }

    fn matching(&self, entry: &mut MatchingEntry, role: &str) {
        // A match that the job names is one of each garment; so is its name where it is ranked.
        let mut named: Vec<(String, Vec<String>)> = Vec::new();
        let seams = [&mut entry.require, &mut entry.wish, &mut entry.chevrons, &mut entry.leave];
        for names in seams.into_iter().flatten() {
            names.value = all(&names.value, |name| self.seams(name, role));
        }
        if let Some(names) = &mut entry.bias {
            names.value = all(&names.value, |name| self.pieces(name, role));
        }
        if let Some(points) = &mut entry.at {
            let of = |(seam, point): (At<String>, At<Name>)| {
                let seams = self.seams(&seam.value, role);
                seams
                    .into_iter()
                    .map(move |name| (At { value: name, ..seam.clone() }, point.clone()))
                    .collect::<Vec<_>>()
            };
            points.value.0 = std::mem::take(&mut points.value.0).into_iter().flat_map(of).collect();
        }
        if let Some(lines) = &mut entry.lines {
            self.of_pieces(lines, role, &mut named);
        }
        if let Some(motifs) = &mut entry.motifs {
            self.of_pieces(motifs, role, &mut named);
        }
        if let Some(border) = &mut entry.border {
            self.of_pieces(border, role, &mut named);
        }
        if let Some(added) = &mut entry.add {
            let entries = std::mem::take(&mut added.value);
            added.value = entries.into_iter().flat_map(|at| self.added(at, role, &mut named)).collect();
        }
        if let Some(rank) = &mut entry.rank {
            rank.value = all(&rank.value, |name| match named.iter().find(|(given, _)| given == name) {
                Some((_, called)) => called.clone(),
                None => self.seams(name, role),
            });
        }
    }

    /// Entries that each speak of one piece, written out for every piece that is meant.
    fn of_pieces<T: OfPiece>(&self, listed: &mut At<Vec<At<T>>>, role: &str, named: &mut Vec<(String, Vec<String>)>) {
        let written_out = |at: At<T>, named: &mut Vec<(String, Vec<String>)>| {
            let Some(piece) = at.value.clone().parts().0.clone() else { return vec![at] };
            let pieces = self.pieces(&piece.value.0, role);
            let several = pieces.len() > 1;
            let of = |name: String| {
                let (mut own, by_itself) = (at.clone(), at.value.usual_name());
                let (of_piece, given) = own.value.parts();
                *of_piece = Some(At { value: Name(name.clone()), ..piece.clone() });
                if let (Some(given), true) = (given, several) {
                    let called = self.called(&name, &given.value.0);
                    told_of(named, &given.value.0, &called);
                    given.value = Name(called);
                } else if let (Some(before), Some(now)) = (by_itself, own.value.usual_name()) {
                    told_of(named, &before, &now);
                }
                own
            };
            pieces.into_iter().map(of).collect()
        };
        listed.value = std::mem::take(&mut listed.value).into_iter().flat_map(|at| written_out(at, named)).collect();
    }

    /// What a match of the name `given` is called for the garment of a piece.
    fn called(&self, piece: &str, given: &str) -> String {
        piece.split_once(": ").map_or_else(|| given.to_owned(), |(garment, _)| format!("{garment}: {given}"))
    }

    /// A pair of points, for each set that has both; points of two garments that are named in full meet as they are.
    fn added(&self, at: At<AddEntry>, role: &str, named: &mut Vec<(String, Vec<String>)>) -> Vec<At<AddEntry>> {
        fn piece(side: &Option<At<PiecePointEntry>>) -> Option<&str> {
            Some(side.as_ref()?.value.piece.as_ref()?.value.0.as_str())
        }
        let (Some(a), Some(b)) = (piece(&at.value.a), piece(&at.value.b)) else { return vec![at] };
        if self.is_piece(a) && self.is_piece(b) {
            return vec![at];
        }
        let in_set = |set: &PieceSet, name: &str| {
            let (sets, own) = self.meant(name);
            let is_of = sets.contains(&set);
            let called = if self.is_piece(name) { name.to_owned() } else { set.name(own) };
            (is_of && self.is_piece(&called)).then_some(called)
        };
        let pairs: Vec<[String; 2]> =
            self.sets.iter().filter_map(|set| Some([in_set(set, a)?, in_set(set, b)?])).collect();
        let here: Vec<[String; 2]> =
            pairs.iter().filter(|pair| pair.iter().all(|piece| self.is_cut(piece, role))).cloned().collect();
        let pairs = if here.is_empty() { pairs } else { here };
        if pairs.is_empty() {
            return vec![at];
        }
        let several = pairs.len() > 1;
        let of = |[a, b]: [String; 2]| {
            let mut own = at.clone();
            if let (Some(given), true) = (&mut own.value.name, several) {
                let called = self.called(&a, &given.value.0);
                told_of(named, &given.value.0, &called);
                given.value = Name(called);
            }
            for (side, piece) in [(&mut own.value.a, a), (&mut own.value.b, b)] {
                if let Some(named) = side.as_mut().and_then(|side| side.value.piece.as_mut()) {
                    named.value = Name(piece);
                }
            }
            own
        };
        pairs.into_iter().map(of).collect()
    }

    /// An edge with a trim, of each garment that has its piece; how often it is trimmed is said of one garment.
    fn edge(&self, at: At<EdgeWord>) -> Vec<At<EdgeWord>> {
        let edges: Vec<EdgeWord> =
            match &at.value {
                EdgeWord::Word(Name(text)) => {
                    if self.pattern.pieces.iter().any(|piece| {
                        text.strip_prefix(&piece.name).is_some_and(|rest| rest.trim_start().starts_with(':'))
                    }) {
                        return vec![at];
                    }
                    let (sets, own) = self.meant(text);
                    let of_set = |set: &&PieceSet| {
                        let parts = own.match_indices(':').map(|(k, _)| (own[..k].trim(), own[k + 1..].trim()));
                        let mut known = parts.map(|(piece, edge)| (set.name(piece), edge));
                        let (piece, edge) = known.find(|(piece, _)| self.is_piece(piece))?;
                        Some(EdgeWord::Word(Name(format!("{piece}: {edge}"))))
                    };
                    sets.iter().filter_map(of_set).collect()
                }
                EdgeWord::Counted(along) => {
                    let Some(piece) = along.piece.as_ref().filter(|piece| !self.is_piece(&piece.value.0)) else {
                        return vec![at];
                    };
                    let (sets, own) = self.meant(&piece.value.0);
                    let of_set = |set: &&PieceSet| {
                        let name = Some(set.name(own)).filter(|name| self.is_piece(name))?;
                        let mut along = along.clone();
                        along.piece = Some(At { value: Name(name), ..piece.clone() });
                        if let Some(times) = &mut along.times {
                            times.value = Count(times.value.0.saturating_mul(u64::from(set.count)));
                        }
                        Some(EdgeWord::Counted(along))
                    };
                    sets.iter().filter_map(of_set).collect()
                }
            };
        if edges.is_empty() {
            return vec![at];
        }
        edges.into_iter().map(|value| At { value, span: at.span.clone(), sound: at.sound }).collect()
    }
}

/// An entry of the job that speaks of one piece.
trait OfPiece: Clone {
    /// The piece, and what the job calls the match, if anything.
    fn parts(&mut self) -> (&mut Option<At<Name>>, Option<&mut At<Name>>);
    /// What the match is called where the job gives it no name.
    fn usual_name(&self) -> Option<String>;
}

macro_rules! of_piece {
    ($entry:ty, $usual:expr) => {
        impl OfPiece for $entry {
            fn parts(&mut self) -> (&mut Option<At<Name>>, Option<&mut At<Name>>) {
                (&mut self.piece, self.name.as_mut())
            }
            fn usual_name(&self) -> Option<String> {
                let usual: fn(&Self) -> Option<String> = $usual;
                usual(self).filter(|_| self.name.is_none())
            }
        }
    };
}

of_piece!(LineEntry, |of| Some(line_name(&of.point.as_ref()?.value.0, &of.piece.as_ref()?.value.0)));
of_piece!(MotifEntry, |of| Some(motif_name(&of.point.as_ref()?.value.0, &of.piece.as_ref()?.value.0)));
of_piece!(BorderRuleEntry, |of| Some(border_name(&of.piece.as_ref()?.value.0)));

fn all(names: &[At<Name>], of: impl Fn(&str) -> Vec<String>) -> Vec<At<Name>> {
    let written_out = |at: &At<Name>| {
        of(&at.value.0).into_iter().map(|name| At { value: Name(name), ..at.clone() }).collect::<Vec<_>>()
    };
    names.iter().flat_map(written_out).collect()
}

fn told_of(named: &mut Vec<(String, Vec<String>)>, given: &str, called: &str) {
    match named.iter_mut().find(|(of, _)| of == given) {
        Some((_, all)) => all.push(called.to_owned()),
        None => named.push((given.to_owned(), vec![called.to_owned()])),
    }
}
