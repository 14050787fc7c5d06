//! Pattern and job files in, records out, with every fault named where it stands.
//!
//! # In short
//!
//! | | |
//! | --- | --- |
//! | [`Source`] | a text and its name; readers take this and do not ask where it came from |
//! | [`Shelf`] | where the pattern is that a job names: a `Folder` of the file system, another `Source`, or what you write |
//! | [`parse_pattern`], [`parse_job`] | read; `read_pattern` and `read_job` take a path (feature `file-system`, on unless left out) |
//! | [`ReadJob`] | the job, its pattern as it is cut, how it was fitted; its [`Places`] and [`Note`]s |
//! | [`Faults`] | all that is wrong, each at its [`Place`] with what would be right |
//! | [`Limits`] | how much is read |
//! | [`ReadOptions`] | limits, and the way to lay every cloth in, whatever the job says |
//! | [`layout_record`], [`pieces_record`] | what other programs read |
//!
//! ```
//! use ellwand_files::{Limits, Source, parse_job};
//!
//! let pattern = Source::new("scarf.pattern.toml", r#"
//! format = "ellwand-pattern-1"
//! name = "Scarf"
//! sizes = ["one"]
//! view = [{ name = "A", pieces = ["Scarf"] }]
//! piece = [{ name = "Scarf", cut = [{ from = "main", count = 1 }], shape = { strip = { length = "5 ft", width = "12 in" } } }]
//! "#);
//! let job = Source::new("scarf.job.toml", r#"
//! format = "ellwand-job-1"
//! name = "Scarf for the ferry"
//! pattern = "scarf.pattern.toml"
//! view = "A"
//! units = "in"
//! fabric.main = { name = "cashmere", width = '44/45"', selvage = "3/8 in", nap = "with" }
//! "#);
//!
//! let read = parse_job(&job, &pattern, &Limits::default())?;
//! assert_eq!(read.job.fabrics[0].cloth.width, 44.0 * 25.4);      // lengths are mm from here on
//! assert_eq!(read.pattern.pieces[0].outline.bounds().height(), 60.0 * 25.4);
//! // What is no fault is told beside the job, and whoever finds one later can say where.
//! assert!(read.notes[0].to_string().starts_with("scarf.job.toml:7:44: note: the width \"44/45\"\" names two widths"));
//! assert_eq!(read.places.width("main").to_string(), "scarf.job.toml:7:44");
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! # What the files say
//!
//! Files are TOML. Lengths are texts with a unit, as people write them: `"60 in"`, `'44"'`, `"2 3/4 yd"`, `"5/8 in"`,
//! `"150 cm"`, `"12 mm"`. Points of a drawing are bare pairs in the pattern's one unit of coordinates, or lengths.
//!
//! A **pattern** holds what envelope and tissue hold: pieces, drawn or measured, and the views that pick from them.
//!
//! ```
//! use ellwand_files::{Limits, Source, parse_pattern, pieces_record};
//!
//! let pattern_text = r#"
//! format = "ellwand-pattern-1"
//! name = "Landing tote"
//! coordinates = "cm"                       # the unit of every [x, y]
//! sizes = ["one"]
//!
//! [roles]                                  # every cloth, with a word on what to use
//! main = "canvas or denim"
//! lining = "any light cotton"
//!
//! [[view]]
//! name = "A"
//! title = "Lined tote with a round pocket"
//! pieces = ["Side", "Pocket", "Handle"]
//!
//! [[piece]]                                # measured: a half, its left side on the fold
//! name = "Side"
//! cut = [{ from = "main", count = 2, on_fold = true }, { from = "lining", count = 2, on_fold = true }]
//! shape = { rectangle = { width = "21 cm", height = "44 cm" } }
//! fold_edge = "left"
//! seam_allowance = "1 cm"                  # added to every edge but the fold; a measured shape may do without
//! allowances = { top = "4 cm" }            # one side's own
//! points = { bottom = [0, 0], "pocket corner" = [9, 36] }   # both halves have it, one as "pocket corner (other half)"
//!
//! [[piece]]                                # drawn: a closed path of straight edges, curves and arcs
//! name = "Pocket"
//! cut = [{ from = "main", count = 1 }]     # an even count is cut in pairs of hands, unless `hands` says otherwise
//! grainline = [[9, 4], [9, 16]]            # low end, high end
//! seam_allowance = "1 cm"                  # or "included", when the outline is the cutting line
//! start = [0, 8]
//! edges = [
//!   { name = "bottom", to = [18, 8], arc = [9, 1] },
//!   { name = "right", to = [18, 20], curve = [[18.5, 12], [18.5, 16]] },
//!   { name = "top", to = [0, 20], allowance = "2.5 cm" },
//!   { name = "left", to = [0, 8] },
//! ]
//! notches = [{ name = "middle", at = [9, 20] }]
//! points = { corner = [18, 20] }
//!
//! [[piece]]
//! name = "Handle"
//! cut = [{ from = "main", count = 2, hands = "any" }]
//! shape = { strip = { length = "60 cm", width = "9 cm" } }
//!
//! [[seam]]                                 # what is sewn to what; needed only for cloth with a design
//! name = "pocket"
//! kind = "pocket"                          # says in which directions a design is matched, and how much it matters
//! a = { piece = "Pocket", meets = ["corner"] }
//! b = { piece = "Side", meets = ["pocket corner"] }
//! [[seam]]
//! name = "bottom"
//! kind = "other"                           # matched only when a job asks for it
//! a = { piece = "Side", edges = ["bottom"], meets = ["bottom"] }   # the piece meets its other copy
//! "#;
//!
//! let pattern = parse_pattern(&Source::new("tote.pattern.toml", pattern_text), &Limits::default())?.pattern;
//! let side = pattern.piece("Side").unwrap().outline.bounds();
//! assert_eq!((side.width(), side.height()), (2.0 * (210.0 + 10.0), 440.0 + 40.0 + 10.0));
//! assert_eq!(pattern.seams[0].a.meets, ["corner"]);
//! assert!(pieces_record(&pattern).starts_with("{\n  \"format\": \"ellwand-pieces-1\""));
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! A **job** is one garment on the cloth at hand.
//!
//! ```
//! # use ellwand_files::{Limits, Source, parse_job};
//! let job_text = r#"
//! format = "ellwand-job-1"
//! name = "Handles for the landing tote"
//! pattern = "tote.pattern.toml"            # from the folder of this file
//! view = "A"
//! size = "one"                             # may be left out while the pattern holds one size
//! units = "in"                             # of everything printed: "in" or "cm"
//! currency = "GBP"
//!
//! [fabric.main]                            # one table for each role the view cuts from
//! name = "green canvas"
//! width = "45 in"                          # as sold, before washing
//! selvage = "1/4 in"                       # each edge
//! nap = "without"                          # or "with": all pieces up the same way
//! right_side = "one"                       # or "both": left and right hands are the same
//! layout = "either"                        # "open", "centre fold" … or any way
//! price = "14.50"                          # in quotes, so that no penny is lost
//! price_per = "yd"
//! sold_by = "1/8 yd"
//! shrinkage = { along = "3%", across = "1%" }
//! straighten_ends = "1/8 yd"               # for both ends together
//! on_hand = "2 3/4 yd"
//! flaws = [{ at = ["10 in", "14 in"], size = ["2 in", "1 in"] }]   # from the left edge and the cut end
//! creases = ["22 1/2 in"]                  # old folds along cloth on hand, from the left edge, that no piece may lie over
//! "#;
//! # const PATTERN: &str = r#"
//! # format = "ellwand-pattern-1"
//! # name = "Landing tote"
//! # sizes = ["one"]
//! # view = [{ name = "A", pieces = ["Handle"] }]
//! # [[piece]]
//! # name = "Handle"
//! # cut = [{ from = "main", count = 2, hands = "any" }]
//! # shape = { strip = { length = "60 cm", width = "9 cm" } }
//! # "#;
//!
//! let read = parse_job(
//!     &Source::new("tote.job.toml", job_text),
//!     &Source::new("tote.pattern.toml", PATTERN),
//!     &Limits::default(),
//! )?;
//! assert_eq!(read.job.fabric("main").unwrap().cloth.width, 45.0 * 25.4 * 0.99);
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! A pattern of **several sizes** says for what body each is drafted, and draws a piece once for each. A job then names a size, one for
//! each level of the body, or the body itself; it may alter what comes of that, and choose among the pieces.
//!
//! ```
//! # use ellwand_files::{Limits, Source, parse_job};
//! let pattern_text = r#"
//! format = "ellwand-pattern-1"
//! name = "Barge skirt"
//! coordinates = "cm"
//! kind = "skirt"                           # or "dress", "jacket", "coat": tells the usual ease
//! choose_by = "hip or waist"               # or "bust"
//! view = [{ name = "A", pieces = ["Panel", "Pocket"] }]
//!
//! [[size]]                                 # small to large; `figure` tells figure types apart
//! name = "38"
//! body = { waist = "72 cm", hip = "96 cm" }
//! [[size]]
//! name = "40"
//! body = { waist = "76 cm", hip = "100 cm" }
//!
//! [[piece]]
//! name = "Panel"
//! cut = [{ from = "main", count = 4 }]     # common to all sizes
//! seam_allowance = "1.5 cm"
//! [[piece.drawn]]
//! size = "38"
//! grainline = [[9, 5], [9, 55]]
//! start = [0, 0]
//! edges = [{ name = "hem", to = [26, 0] }, { name = "side", to = [25, 40] }, { name = "side", to = [19, 60] }, { to = [0, 60] }, { to = [0, 0] }]
//! levels = { waist = 60, hip = 40 }        # heights of the drawing at which the body is measured
//! lines = { skirt = 20 }                   # where it may be lengthened or shortened
//! [[piece.drawn]]
//! size = "40"
//! grainline = [[9, 5], [9, 55]]
//! start = [0, 0]
//! edges = [{ name = "hem", to = [27, 0] }, { name = "side", to = [26, 40] }, { name = "side", to = [20, 60] }, { to = [0, 60] }, { to = [0, 0] }]
//! levels = { waist = 60, hip = 40 }
//! lines = { skirt = 20 }
//!
//! [[piece]]
//! name = "Pocket"                          # drawn once, or measured: the same in all sizes
//! cut = [{ from = "main", count = 2 }]
//! shape = { rectangle = { width = "14 cm", height = "16 cm" } }
//!
//! [[girth]]                                # compared with the measure of the body of that name
//! name = "hip"
//! level = "hip"
//! parts = [{ piece = "Panel", times = 4 }]
//!
//! [[option]]
//! name = "pocket"
//! default = "patch"
//! choices = { patch = ["Pocket"], none = [] }
//! "#;
//! let job_text = r#"
//! format = "ellwand-job-1"
//! name = "A skirt for Ada"
//! pattern = "barge-skirt.pattern.toml"
//! view = "A"
//! units = "cm"
//! size = "to measure"                      # or "recommended", "38", { waist = "38", hip = "40" }
//!
//! [body]
//! hip = "98 cm"
//!
//! [alter]
//! lengthen = [{ line = "skirt", by = "5 cm" }]
//! allowances = [{ edge = "hem", depth = "4 cm" }]
//! options = { pocket = "none" }
//!
//! [fabric.main]
//! name = "brown wool"
//! width = "150 cm"
//! nap = "without"
//! "#;
//!
//! let read = parse_job(
//!     &Source::new("ada.job.toml", job_text),
//!     &Source::new("barge-skirt.pattern.toml", pattern_text),
//!     &Limits::default(),
//! )?;
//! let panel = read.pattern.piece("Panel").unwrap().outline.bounds();
//! assert!((panel.height() - (600.0 + 50.0 + 15.0 + 40.0)).abs() < 1e-6);
//! assert_eq!(read.pattern.view("A").unwrap().pieces, ["Panel"]);
//! // The pattern leaves 40 mm of ease at the hip in either size.
//! let fit = read.fit;
//! assert!((fit.report.levels[0].finished - (980.0 + 40.0)).abs() < 0.1);
//! assert_eq!(fit.before.size, "40");
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! Cloth with a **design** says where it stands, and the job what is to match on it. The usual seams of the pattern match without
//! being named; pieces that only show their own design are placed.
//!
//! ```
//! # use ellwand_files::{Limits, Source, parse_job};
//! let job_text = r##"
//! format = "ellwand-job-1"
//! name = "Tote in a red check"
//! pattern = "tote.pattern.toml"
//! view = "A"
//! units = "in"
//!
//! [fabric.main]
//! name = "red check"
//! width = "45 in"
//! nap = "without"
//!
//! [fabric.main.design]                     # all lengths as bought; they shrink with the cloth
//! across = { repeat = "3 in", offset = "1 in", balance = "even", bars = [{ at = "0 in", width = "1/2 in", colour = "#a33327" }] }
//! along = { repeat = "4 in", balance = "uneven" }      # without an offset the cloth is still on the roll
//! drop = "straight"                        # or "half": every other column half a repeat lower
//! ground = "#efe6d8"                       # colours are for the drawing
//!
//! [fabric.main.matching]
//! centre = "on a bar"                      # where centre lines stand, or "midway"
//! wish = ["pocket"]                        # given up when it takes more cloth than the limit; see also `require`, `leave`
//! limit = "1/4 yd"                         # or limit_cost = "3.50"
//! lines = [{ piece = "Side", point = "top", on = "bar" }]          # or "midway", or a length above the bar
//! "##;
//! # const PATTERN: &str = r#"
//! # format = "ellwand-pattern-1"
//! # name = "Landing tote"
//! # coordinates = "cm"
//! # sizes = ["one"]
//! # view = [{ name = "A", pieces = ["Side", "Pocket"] }]
//! # [[piece]]
//! # name = "Side"
//! # cut = [{ from = "main", count = 2, on_fold = true }]
//! # shape = { rectangle = { width = "21 cm", height = "44 cm" } }
//! # fold_edge = "left"
//! # points = { "pocket corner" = [9, 36], top = [0, 44] }
//! # [[piece]]
//! # name = "Pocket"
//! # cut = [{ from = "main", count = 1 }]
//! # shape = { rectangle = { width = "18 cm", height = "20 cm" } }
//! # points = { corner = [18, 20] }
//! # [[seam]]
//! # name = "pocket"
//! # kind = "pocket"
//! # a = { piece = "Pocket", meets = ["corner"] }
//! # b = { piece = "Side", meets = ["pocket corner"] }
//! # "#;
//!
//! let read = parse_job(
//!     &Source::new("check.job.toml", job_text),
//!     &Source::new("tote.pattern.toml", PATTERN),
//!     &Limits::default(),
//! )?;
//! let main = read.job.fabric("main").unwrap();
//! let names: Vec<&str> = main.matching.matches.iter().map(|wanted| wanted.name.as_str()).collect();
//! assert_eq!(names, ["line at top of Side", "pocket"]);
//! assert!(main.cloth.is_one_way());
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! A piece may be **like** another, but for what it says itself. Here a front with an overlap for buttons:
//!
//! ```
//! use ellwand_files::{Limits, Source, parse_pattern};
//!
//! let text = r#"
//! format = "ellwand-pattern-1"
//! name = "Smock"
//! coordinates = "cm"
//! sizes = ["one"]
//! view = [{ name = "A", pieces = ["Front"] }, { name = "B", pieces = ["Buttoned front"] }]
//!
//! [[piece]]
//! name = "Front"
//! cut = [{ from = "main", count = 1, on_fold = true }]
//! grainline = [[10, 10], [10, 50]]
//! seam_allowance = "1 cm"
//! start = [0, 0]
//! edges = [
//!   { name = "hem", to = [30, 0] }, { name = "side", to = [30, 60] }, { name = "neck", to = [0, 60] },
//!   { name = "centre front", to = [0, 0], fold = true },
//! ]
//!
//! [[piece]]
//! name = "Buttoned front"
//! like = "Front"
//! cut = [{ from = "main", count = 2 }]
//! move = [{ edges = ["centre front"], by = [-2, 0] }]
//! change = [{ edge = "centre front", fold = false }]
//! "#;
//! let read = parse_pattern(&Source::new("smock.pattern.toml", text), &Limits::default())?;
//! let width = |name: &str| read.pattern.piece(name).unwrap().outline.bounds().width();
//! assert!((width("Front") - 2.0 * 310.0).abs() < 0.01);
//! assert!((width("Buttoned front") - (10.0 + 20.0 + 300.0 + 10.0)).abs() < 0.01);
//! # Ok::<(), ellwand_files::Faults>(())
//! ```
//!
//! Besides lines, `matching` may hold `motifs` to centre on a point, pieces that stand at a `border`, pieces cut on the `bias`, pairs
//! of points to `add`, another meeting point of a seam (`at`), and the order of importance (`rank`). All keys are in [`job_schema`].
//!
//! Whatever is wrong comes back as [`Faults`], all at once, each at its line with what would be right:
//!
//! ```
//! use ellwand_files::{Limits, Source, parse_pattern};
//!
//! let text = "format = \"ellwand-pattern-1\"\nname = \"Apron\"\nsizes = [\"one\"]\nviews = []\npiece = []\n";
//! let faults = parse_pattern(&Source::new("apron.pattern.toml", text), &Limits::default()).unwrap_err();
//! assert_eq!(
//!     faults.to_string(),
//!     "apron.pattern.toml:4:1: error: `views` is not a key of a pattern; did you mean `view`?\n\
//!      apron.pattern.toml:5:9: error: the pattern has no piece; \
//!      add a [[piece]] with a name, an outline and what it is cut from"
//! );
//! ```
//!
//! [`layout_record`], [`pieces_record`] and [`view_record`] write what was found for other programs, and a job may name a record of pieces as its
//! pattern; an `OutputFolder` puts files in
//! place whole or not at all (feature `file-system`); [`pattern_schema`] and [`job_schema`] tell editors what the files may hold.

mod body;
#[cfg(feature = "file-system")]
mod cells;
mod document;
mod fault;
mod findings;
#[cfg(feature = "file-system")]
mod folder;
mod job;
mod limits;
mod nearest;
mod note;
#[cfg(feature = "file-system")]
mod output;
mod pattern;
mod places;
mod quantity;
mod read;
mod record;
mod schema;
mod shelf;
mod source;
mod stash;
mod to_complete;

#[cfg(feature = "file-system")]
pub use cells::{Cell, CellFolder, CellName, CellsTaken, KeptCell, LaidCell, TakenIn};
pub use fault::{
    DartFault, DartTrouble, DesignFault, DocumentFault, Fault, FaultKind, Faults, FileFault, JobFault, LikeFault,
    LikeTrouble, LimitFault, PatternFault, PickedFault, QuantityFault, RecordFault, RemnantFault, SizeFault,
    SupplyFault,
};
#[cfg(feature = "file-system")]
pub use folder::{Folder, kept_in, read_bytes, read_changed_job, read_job, read_layout, read_pattern};
pub use job::{Alternatives, Candidates, Change, Fit, FittedGarment, NamedSize, OpenOption};
pub use limits::{Counted, Limits};
pub use note::{Note, NoteKind, WhyGivenUp};
#[cfg(feature = "file-system")]
pub use output::{OutputFault, OutputFolder, Written};
pub use places::Places;
pub use quantity::{Angle, ClothWeight, ClothWidth, Length, Money, Share, SignedLength, TaxRate};
pub use read::{
    ReadJob, ReadOptions, ReadPattern, drawing_grades, drawing_hints, parse_changed_job, parse_job, parse_pattern,
    parse_pattern_from,
};
pub use record::{
    AllowanceRecord, AskedMatchRecord, AskedRecord, ClothRecord, CutRecord, CutRuleRecord, DartRecord, EdgeRecord,
    FoldRecord, LaidCloth, LaidCut, LayoutRecord, MatchRecord, NotchRecord, Number, OnHandRecord, PieceRecord,
    PiecesRecord, PointRef, PurchaseRecord, RemnantRecord, RepeatRecord, SeamRecord, SeamSideRecord, SearchRecord,
    StripsRecord, TraceRecord, ViewRecord, layout_record, parse_layout, pieces_record, view_record,
};
pub use schema::{job_schema, pattern_schema};
pub use shelf::Shelf;
pub use source::{Place, Source};
pub use stash::{Kept, KeptPiece, kept};
pub use to_complete::{left_out_list, pattern_to_complete, renumbered};
