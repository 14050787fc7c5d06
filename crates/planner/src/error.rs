//! Why a cloth cannot be planned, in sentences a maker can act on.

use ellwand_garment::{InputFault, Job, MatchFault, Pattern, QuestionFault, Way, WayRefusal, validate};

/// Why a cloth cannot be planned.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum PlanError {
    /// The pattern or the job is not sound: everything that [`validate`](ellwand_garment::validate) finds in them.
    #[error("{}", input_list(.0))]
    Input(Vec<InputFault>),
    /// The job and the pattern do not belong together.
    #[error(transparent)]
    Question(#[from] QuestionFault),
    /// A piece cut on the fold whose grain cannot run along the fold.
    #[error("\"{piece}\" is cut on the fold of the cloth \"{role}\", but its grain may not run along the fold")]
    NoPose {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
    },
    /// One hand of a pair alone, as where the other is cut from a remnant.
    #[error("of \"{piece}\" only one hand is cut from the cloth \"{role}\", and a fold gives both; lay it open")]
    OneHandOnFold {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
    },
    /// A piece that may lie on the cloth, but in none of the ways in which its matches can be kept.
    #[error(
        "\"{piece}\" has room on the cloth \"{role}\", but no way that its grain and hands allow shows the design as its matches ask; \
         leave one of them out"
    )]
    NoMatchedPose {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
    },
    /// The matches of a cloth contradict each other, or its design cannot show them.
    #[error("the cloth \"{role}\" cannot be matched as asked: {}", fault_list(faults))]
    Unmatchable {
        /// The role of the cloth.
        role: String,
        /// Why.
        faults: Vec<MatchFault>,
    },
    /// Matched pieces would be cut through both layers of an uneven design.
    #[error(
        "the design of the cloth \"{role}\" is uneven across, so the two layers of a fold never show it alike; \
         lay it open, in one layer"
    )]
    UnevenFold {
        /// The role of the cloth.
        role: String,
    },
    /// A pair at a border that runs along one selvage only.
    #[error(
        "\"{piece}\" lies at the border of the cloth \"{role}\", but on the fold its other copy would lie at the selvage without one; \
         lay the cloth open"
    )]
    BorderOnFold {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
    },
    /// A pair at borders along both selvages, on a fold that lies on an axis of the design and not in the middle.
    #[error(
        "\"{piece}\" lies at the border of the cloth \"{role}\", but the fold lies on an axis of the design, off the middle: its other copy would \
         lie {by:.1} mm off its border; lay the cloth open"
    )]
    BorderOffFold {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
        /// How far off, mm.
        by: f64,
    },
    /// A piece on the fold that must show another place of the design there.
    #[error(
        "\"{piece}\" is cut on the fold of the cloth \"{role}\", where the design is {by:.1} mm off what its matches ask for; \
         lay the cloth open, or centre the garment on what the fold shows"
    )]
    FoldOffPhase {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
        /// By how much, mm.
        by: f64,
    },
    /// A piece fits across the cloth, but nowhere as its matches ask.
    #[error(
        "\"{piece}\" fits across the cloth \"{role}\", but nowhere with the design where its matches ask for it; \
         leave one of them out, centre the garment midway between bars instead of on one, or take wider cloth"
    )]
    NoPlaceOnDesign {
        /// The piece.
        piece: String,
        /// The role of the cloth.
        role: String,
    },
    /// No phase was found at which all pieces of a group fit across the cloth.
    #[error(
        "no layout was found that fits everything to be matched on the cloth \"{role}\" across it at once; \
         leave one of the matches out, or take wider cloth"
    )]
    NoCommonPhase {
        /// The role of the cloth.
        role: String,
    },
    /// A way of laying that the cloth does not allow.
    #[error("the cloth \"{role}\" is not laid {}: {why}; lay it open, or folded down the middle", way.name())]
    WayRefused {
        /// The role of the cloth.
        role: String,
        /// The way of laying.
        way: Way,
        /// Why it is not for this cloth.
        why: WayRefusal,
    },
    /// Pieces that the cloth is too narrow for, whichever way they may be turned.
    #[error("{}", misfit_list(.0))]
    TooNarrow(Vec<Misfit>),
    /// A layout that the checker refused: a fault of the program and never the maker's.
    #[error(
        "the layout found for \"{role}\" failed its own check, so it was thrown away; this is a bug, please report it with \
         the job, the pattern and seed {seed}: {}",
        faults.join("; ")
    )]
    Bug {
        /// The role of the cloth.
        role: String,
        /// Seed of the search that found it.
        seed: u64,
        /// What the checker said.
        faults: Vec<String>,
    },
    /// The budget is a time, and the options have no clock to read it from.
    #[error("a time to search for needs a clock: give the options one, or set a budget of work instead")]
    NoClock,
    /// The search refused the problem it was given: a fault of the program.
    #[error(
        "the search for \"{role}\" refused its problem; this is a bug, please report it with the job and pattern: {what}"
    )]
    Refused {
        /// The role of the cloth.
        role: String,
        /// What the search said.
        what: String,
    },
}

impl PlanError {
    /// Whether the question has no answer, as against a fault of the program.
    pub fn is_of_the_question(&self) -> bool {
        match self {
            Self::Bug { .. } | Self::NoClock | Self::Refused { .. } => false,
            Self::Input(_)
            | Self::Question(_)
            | Self::NoPose { .. }
            | Self::OneHandOnFold { .. }
            | Self::NoMatchedPose { .. }
            | Self::Unmatchable { .. }
            | Self::UnevenFold { .. }
            | Self::FoldOffPhase { .. }
            | Self::BorderOnFold { .. }
            | Self::BorderOffFold { .. }
            | Self::NoPlaceOnDesign { .. }
            | Self::NoCommonPhase { .. }
            | Self::WayRefused { .. }
            | Self::TooNarrow(_) => true,
        }
    }
}

/// A piece that does not fit across the cloth. Lengths are mm.
#[derive(Debug, Clone, PartialEq)]
pub struct Misfit {
    /// The piece.
    pub piece: String,
    /// The role of the cloth.
    pub role: String,
    /// How the cloth was to lie.
    pub way: Way,
    /// How many layers the piece was to be cut through.
    pub cut_through: CutThrough,
    /// What the piece needs across, in the allowed turn that needs least.
    pub needs: f64,
    /// What the cloth offers it: the usable width, or half of it for a pair cut through both layers.
    pub offers: f64,
    /// Full width of cloth, as bought and before washing, that would do.
    pub width_that_would_do: f64,
    /// What else would do.
    pub remedies: Vec<Remedy>,
}

/// How many layers of cloth a piece is cut through at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutThrough {
    /// One: a single piece, or a whole piece with its axis on the fold.
    OneLayer,
    /// Two: a pair on folded cloth, each of the two in one half of the width.
    BothLayers,
}

/// A change that lets a piece fit the cloth as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Remedy {
    /// Let the piece lie across the grain; offered only on cloth without nap.
    AllowCrossGrain,
    /// Open the cloth out and cut each copy from one layer.
    OpenLayer,
    /// Buy cloth that has no old creases.
    NewCloth,
    /// Measure where the design stands across, so that nothing need be kept free at the edges.
    MeasureDesign,
}

impl Misfit {
    /// By how much the cloth is too narrow for it.
    pub fn short_by(&self) -> f64 {
        self.needs - self.offers
    }
}

/// Nothing, when pattern and job can be planned at all. A notch off its cutting line misplaces no cut: an alteration or a deep hem can carry the
/// line away from it, and the layout is none the worse.
///
/// # Errors
///
/// [`PlanError::Input`].
pub(crate) fn sound(pattern: &Pattern, job: &Job) -> Result<(), PlanError> {
    let mut faults = validate(pattern, job);
    faults.retain(|fault| !matches!(fault, InputFault::NotchOffLine { .. }));
    if faults.is_empty() { Ok(()) } else { Err(PlanError::Input(faults)) }
}

fn input_list(faults: &[InputFault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

fn fault_list(faults: &[MatchFault]) -> String {
    faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

/// One line a misfit, in millimetres; the command says it in the job's units.
fn misfit_list(misfits: &[Misfit]) -> String {
    let lines: Vec<String> = (misfits.iter())
        .map(|m| {
            format!(
                "\"{}\" is {:.1} mm across, but only {:.1} mm of the cloth \"{}\" can take it: {:.1} mm too narrow",
                m.piece,
                m.needs,
                m.offers,
                m.role,
                m.short_by()
            )
        })
        .collect();
    lines.join("; ")
}
