//! What may be said on the command line, parsed into plain values. No file is opened here and nothing is asked of the machine.

use std::{path::PathBuf, time::Duration};

use clap::{Args, Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use ellwand_files::{Length, Money, QuantityFault};
use ellwand_planner::ClothKind;

use crate::exit::EXIT_CODES;

/// How much of this cloth does this garment need, and how is it cut?
///
/// Reads a job (a pattern, a view, and the cloth at hand) and finds a short cutting layout for every cloth: what to buy, what it
/// costs, and sheets to cut from. Every layout is checked piece by piece before it is shown.
#[derive(Debug, Parser)]
#[command(name = "ellwand", version, after_help = EXIT_CODES, max_term_width = 100)]
pub(crate) struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// One command.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lay out every cloth of a job: what to buy, what it costs, sheets to cut from
    Plan(PlanArgs),
    /// Check a job or a pattern, list every error at once, and draw the pieces
    Check(CheckArgs),
    /// Show how the pieces fit the body: size, finished girths and ease, alterations, seams walked
    Fit(FitArgs),
    /// Lay out the same job on cloth of several widths, in one table
    Compare(CompareArgs),
    /// Make the yardage table of an envelope: sizes, figure types, views, widths, nap or design
    Chart(ChartArgs),
    /// Understand a drawing (PDF, SVG or DXF) as a pattern: a pattern file to complete, and a sheet of what was understood
    Read(ReadArgs),
    /// Write pieces or a layout for other programs, as SVG, DXF or PDF; to sew from paper use `ellwand print`
    Write(WriteArgs),
    /// Print pieces or a layout at full size, to sew from paper: pages to join, large sheets, rolls, or one page for a projector (PDF)
    Print(PrintArgs),
    /// Print a completion script for a shell
    Completions {
        /// The shell
        shell: Shell,
    },
    /// Print the manual page
    Man,
    /// Print the JSON Schema of a kind of file, for editors
    Schema {
        /// The kind of file
        file: FileKind,
    },
}

/// Options of `plan`.
#[derive(Debug, Args)]
pub(crate) struct PlanArgs {
    /// The job: a file like tote.job.toml
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Folder for the sheets, records, placing tables and lists; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Paper of report.pdf; by default letter for a job in inches, a4 for one in centimetres
    #[arg(long, value_name = "PAPER", requires = "out")]
    pub(crate) paper: Option<ReportPaper>,
    /// A font for letters of report.pdf that the built-in one lacks; may be given several times
    #[arg(long, value_name = "FILE", requires = "out")]
    pub(crate) font: Vec<PathBuf>,
    /// Also plan the job with one thing changed at a time, and say what each change would save or cost
    #[arg(long)]
    pub(crate) changes: bool,
    /// Also plan the job with each of the candidates that it names for its cloths, as `compare` does, and put the table into the report
    #[arg(long)]
    pub(crate) candidates: bool,
    /// Keep the largest rectangles that are left of each cloth in this file of remnants, for other jobs; it is made if missing. The sheets show
    /// them
    #[arg(long, value_name = "FILE")]
    pub(crate) leftovers: Option<PathBuf>,
    /// Print how far each piece lies from the selvage and from the cut end
    #[arg(long)]
    pub(crate) table: bool,
    /// Print the same as a list for a narrow screen, a piece a row in the order of laying
    #[arg(long, conflicts_with = "table")]
    pub(crate) list: bool,
    /// Give the reasons: why no layout can be shorter, and each rule of thumb
    #[arg(long, conflicts_with = "json")]
    pub(crate) explain: bool,
    /// Print the layout records as JSON instead of the summary
    #[arg(long, conflicts_with_all = ["table", "list"])]
    pub(crate) json: bool,
    /// How to search
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// Paper of a report.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum ReportPaper {
    /// 210 x 297 mm
    A4,
    /// 8 1/2 x 11 in
    Letter,
}

/// Options of `check`.
#[derive(Debug, Args)]
pub(crate) struct CheckArgs {
    /// The job or pattern: a file like tote.job.toml or tote.pattern.toml
    #[arg(value_name = "JOB|PATTERN")]
    pub(crate) file: PathBuf,
    /// Write the pieces, sized and with their allowances, as a JSON record
    #[arg(long, value_name = "FILE")]
    pub(crate) json: Option<PathBuf>,
    /// Folder for sheets of the pieces; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Say nothing when nothing is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `fit`.
#[derive(Debug, Args)]
pub(crate) struct FitArgs {
    /// The job: a file like tote.job.toml
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Folder for sheets with each piece over the same piece in the nearest size; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Print the fit as JSON
    #[arg(long)]
    pub(crate) json: bool,
    /// Say nothing when nothing is wrong
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `compare`.
#[derive(Debug, Args)]
pub(crate) struct CompareArgs {
    /// The job: a file like tote.job.toml
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Full widths of cloth to try, as a list: 45in,60in, or with the price of each: 45in@11.50,60in@16.90; left out, the candidates that the job names are compared
    #[arg(long = "width", value_name = "WIDTHS", value_parser = parse_widths)]
    pub(crate) widths: Vec<Widths>,
    /// Views to compare the candidates in, as a list [default: that of the job]
    #[arg(long, value_name = "VIEWS", value_delimiter = ',', conflicts_with = "widths")]
    pub(crate) view: Vec<String>,
    /// Choices of an option to compare the candidates with, as a list: pocket=welt,patch; may be given several times [default: as the job chooses]
    #[arg(long, value_name = "OPTION=CHOICES", value_parser = parse_choices, conflicts_with = "widths")]
    pub(crate) choice: Vec<Choices>,
    /// Print the comparison as JSON instead of a table
    #[arg(long)]
    pub(crate) json: bool,
    /// How to search
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// Options of `chart`.
#[derive(Debug, Args)]
pub(crate) struct ChartArgs {
    /// The job: a file like tote.job.toml; its cloths are taken off the roll and made for the bodies of the pattern's own sizes
    #[arg(value_name = "JOB")]
    pub(crate) job: PathBuf,
    /// Folder for the table and, in `cells`, for what it is made of: each cell is kept as it ends, and the same command goes on with what is missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: PathBuf,
    /// Sizes, as a list: 34,36,38, or "38 short" [default: all]
    #[arg(long, value_name = "SIZES", value_delimiter = ',')]
    pub(crate) size: Vec<String>,
    /// Figure types, as a list [default: all]
    #[arg(long, value_name = "FIGURES", value_delimiter = ',')]
    pub(crate) figure: Vec<String>,
    /// Views, as a list [default: that of the job]
    #[arg(long, value_name = "VIEWS", value_delimiter = ',')]
    pub(crate) view: Vec<String>,
    /// Full widths of a cloth, as a list: 45in,60in for the main cloth, lining:45in,55in for another; may be given several times [default: as the job
    /// says]
    #[arg(long, value_name = "WIDTHS", value_parser = parse_widths_of)]
    pub(crate) width: Vec<WidthsOf>,
    /// Kinds of a cloth, as a list of with-nap, without-nap and design: with-nap,without-nap for the main cloth, lining:with-nap for another; may be given
    /// several times [default: as the job says]
    #[arg(long, value_name = "KINDS", value_parser = parse_kinds_of)]
    pub(crate) kind: Vec<KindsOf>,
    /// Only this share of the table, such as 3/10; several machines make it together, each in a folder of its own or all in one
    #[arg(long, value_name = "K/N", value_parser = parse_part, conflicts_with = "gather")]
    pub(crate) part: Option<Share>,
    /// Make the table of the cells that are there, and search for none
    #[arg(long)]
    pub(crate) gather: bool,
    /// Another folder with cells, to be copied from; may be given several times
    #[arg(long, value_name = "DIR", requires = "gather")]
    pub(crate) from: Vec<PathBuf>,
    /// Print the table as JSON
    #[arg(long)]
    pub(crate) json: bool,
    /// How to search; every cell gets the same work, so that --time has no use here
    #[command(flatten)]
    pub(crate) search: SearchArgs,
}

/// Choices of one option.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Choices {
    /// The option.
    pub(crate) option: String,
    /// What may be chosen.
    pub(crate) choices: Vec<String>,
}

fn parse_choices(text: &str) -> Result<Choices, String> {
    let (option, choices) = text.split_once('=').ok_or("choices are like pocket=welt,patch")?;
    let choices = choices.split(',').map(|choice| choice.trim().to_owned()).collect();
    Ok(Choices { option: option.trim().to_owned(), choices })
}

/// Widths of one cloth.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct WidthsOf {
    /// The part it plays; none for the main cloth.
    pub(crate) role: Option<String>,
    /// From edge to edge.
    pub(crate) widths: Vec<Length>,
}

/// Kinds of one cloth.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct KindsOf {
    /// The part it plays; none for the main cloth.
    pub(crate) role: Option<String>,
    /// What it may be.
    pub(crate) kinds: Vec<ClothKind>,
}

/// A share of a table: one of so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Share {
    /// Which, from 1.
    pub(crate) one: u32,
    /// Of how many.
    pub(crate) of: u32,
}

/// "lining:45in" as a role and the rest.
fn of_role(text: &str) -> (Option<String>, &str) {
    text.split_once(':').map_or((None, text), |(role, rest)| (Some(role.trim().to_owned()), rest))
}

fn parse_widths_of(text: &str) -> Result<WidthsOf, String> {
    let (role, rest) = of_role(text);
    let Widths(widths) = parse_widths(rest)?;
    if widths.iter().any(|(_, price)| price.is_some()) {
        return Err("a table of lengths has no prices; write 45in,60in".to_owned());
    }
    Ok(WidthsOf { role, widths: widths.into_iter().map(|(width, _)| width).collect() })
}

fn parse_kinds_of(text: &str) -> Result<KindsOf, String> {
    let (role, rest) = of_role(text);
    let kind = |word: &str| match word.trim() {
        "with-nap" => Ok(ClothKind::WithNap),
        "without-nap" => Ok(ClothKind::WithoutNap),
        "design" => Ok(ClothKind::Design),
        other => Err(format!("\"{other}\" is no kind of cloth; write with-nap, without-nap or design")),
    };
    Ok(KindsOf { role, kinds: rest.split(',').map(kind).collect::<Result<_, _>>()? })
}

fn parse_part(text: &str) -> Result<Share, String> {
    let wrong = || "a share is like 3/10: the third of ten".to_owned();
    let (one, of) = text.split_once('/').ok_or_else(wrong)?;
    let (Ok(one), Ok(of)) = (one.trim().parse(), of.trim().parse()) else { return Err(wrong()) };
    if (1..=of).contains(&one) && of <= 100_000 {
        Ok(Share { one, of })
    } else {
        Err(format!("{}; of {of} there are 1/{of} to {of}/{of}", wrong()))
    }
}

/// Options of `read`.
#[derive(Debug, Args)]
pub(crate) struct ReadArgs {
    /// The drawing: a PDF, SVG or DXF file
    #[arg(value_name = "FILE")]
    pub(crate) drawing: PathBuf,
    /// The table of grade rules (.rul) of a DXF file that is drawn in one size
    #[arg(value_name = "TABLE")]
    pub(crate) grades: Option<PathBuf>,
    /// Folder for the pattern file, the sheet and the list; created if missing
    #[arg(long, value_name = "DIR")]
    pub(crate) out: PathBuf,
    /// How large the drawing may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `write`.
#[derive(Debug, Args)]
pub(crate) struct WriteArgs {
    /// The job or pattern whose pieces are written, or the record of a layout: a file like tote.job.toml, tote.pattern.toml or main.layout.json
    #[arg(value_name = "JOB|PATTERN|LAYOUT")]
    pub(crate) file: PathBuf,
    /// The file to write; its ending says how: .svg, .dxf or .pdf
    #[arg(value_name = "FILE")]
    pub(crate) to: PathBuf,
    /// Write over a file that is there
    #[arg(long)]
    pub(crate) replace: bool,
    /// One size of a pattern instead of all, such as 38, or "38 short"
    #[arg(long, value_name = "SIZE")]
    pub(crate) size: Option<String>,
    /// Cut the drawing into pages of this paper for a home printer (PDF only)
    #[arg(long, value_enum, value_name = "PAPER")]
    pub(crate) tiles: Option<PaperArg>,
    /// How far the pages of --tiles overlap, mm
    #[arg(long, value_name = "MM", requires = "tiles", default_value_t = 0.0, hide_default_value = true)]
    pub(crate) overlap: f64,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// Options of `print`.
#[derive(Debug, Args)]
pub(crate) struct PrintArgs {
    /// The job or pattern whose pieces are printed, or the record of a layout: a file like tote.job.toml, tote.pattern.toml or main.layout.json
    #[arg(value_name = "JOB|PATTERN|LAYOUT")]
    pub(crate) file: PathBuf,
    /// The paper: a4, letter, legal, a3, tabloid, a2, a1, a0, 36x48in; a roll: 36in, 914mm, 24in; or measures such as 60x90cm or 42in; may be
    /// given several times [default: letter for a job or pattern in inches, a4 for one in centimetres]
    #[arg(long, value_name = "PAPER", allow_hyphen_values = true)]
    pub(crate) paper: Vec<String>,
    /// Folder for the files; created if missing
    #[arg(long, value_name = "DIR", default_value = ".")]
    pub(crate) out: PathBuf,
    /// A size of a pattern, such as 38, or "38 short"; may be given several times [default: all, one in the other, each in a colour and dashes of its
    /// own]
    #[arg(long, value_name = "SIZE")]
    pub(crate) size: Vec<String>,
    /// How far pages overlap where they are joined, such as 1/2in or 10mm, a bare number in mm; 0 to butt them [default: 10mm]
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub(crate) overlap: Option<f64>,
    /// What the printer leaves empty along every border, such as 1/4in or 8mm, a bare number in mm [default: 8mm]
    #[arg(long, value_name = "LENGTH", value_parser = length, allow_hyphen_values = true)]
    pub(crate) margin: Option<f64>,
    /// One page for a projector, with thick lines, a grid and a square to set it by
    #[arg(long)]
    pub(crate) projector: bool,
    /// The ground of the projected page [default: white]
    #[arg(long, value_enum)]
    pub(crate) ground: Option<GroundArg>,
    /// Left and right changed on the projected page
    #[arg(long)]
    pub(crate) mirrored: bool,
    /// The same pages as SVG files instead of a PDF, one a page, for programs that cut or plot; their words are set in the fonts of whoever shows them, so
    /// that --font has no use
    #[arg(long, conflicts_with = "font")]
    pub(crate) svg: bool,
    /// A font for letters that the built-in one lacks; may be given several times
    #[arg(long, value_name = "FILE")]
    pub(crate) font: Vec<PathBuf>,
    /// Most pages of one file
    #[arg(long, value_name = "N", default_value_t = 500)]
    pub(crate) max_pages: usize,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
}

/// The ground of a projected page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum GroundArg {
    /// Dark lines on white
    White,
    /// Light lines on black
    Black,
}

/// A length of 0 to 1000 mm, as people write it; a bare number in mm.
fn length(text: &str) -> Result<f64, String> {
    let bare = text.trim().parse::<f64>().ok();
    let mm = match bare {
        Some(mm) => mm,
        None if text.trim_start().starts_with(['-', '−']) => -1.0,
        None => text.parse::<Length>().map_err(|fault| format!("{fault}; write it like 8mm or \"1/2 in\""))?.mm(),
    };
    if (0.0..=1000.0).contains(&mm) {
        Ok(mm)
    } else {
        Err("it is 0 or more, and 1 m at most, such as 8mm, \"1/2 in\", or 8 for millimetres".to_owned())
    }
}

/// A paper of home printers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub(crate) enum PaperArg {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 in
    Letter,
}

/// How large files may be, the same for every command that reads some.
#[derive(Debug, Args)]
pub(crate) struct LimitArgs {
    /// Largest number of shapes to cut from one cloth [default: 1000]
    #[arg(long, value_name = "N")]
    pub(crate) max_cuts: Option<u64>,
    /// Accept files N times as large as usual: pieces, edges, sizes and everything else that has a limit
    #[arg(long, value_name = "N", default_value_t = 1, hide_default_value = true, value_parser = clap::value_parser!(u32).range(1..=1000))]
    pub(crate) raise_limits: u32,
}

/// How to search, the same for every command that does.
#[derive(Debug, Args)]
pub(crate) struct SearchArgs {
    /// How much work to put into each cloth; the same work gives the same layout
    #[arg(long, value_enum, default_value_t = EffortArg::Normal)]
    pub(crate) effort: EffortArg,
    /// Search for this long in total instead, like 30s or 2m; two runs may then differ
    #[arg(long, value_name = "TIME", value_parser = parse_time, conflicts_with = "effort")]
    pub(crate) time: Option<Duration>,
    /// Seed of the random choices
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
    /// Threads to use; the layout does not depend on their number [default: one for each processor]
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub(crate) threads: Option<u16>,
    /// Lay the cloth this way, whatever the job says
    #[arg(long, value_enum, value_name = "WAY")]
    pub(crate) layer: Option<LayerArg>,
    /// Only this cloth, named by the part it plays (main, lining ...); may be repeated
    #[arg(long = "fabric", value_name = "ROLE")]
    pub(crate) fabrics: Vec<String>,
    /// How large the files may be
    #[command(flatten)]
    pub(crate) limits: LimitArgs,
    /// No progress and no summary
    #[arg(long, short)]
    pub(crate) quiet: bool,
}

/// Named amounts of work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum EffortArg {
    /// A first look
    Quick,
    /// Good enough to cut from
    Normal,
    /// For expensive cloth
    Thorough,
}

/// Ways to lay the cloth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum LayerArg {
    /// One layer, opened out
    Open,
    /// Folded lengthwise down the middle
    Fold,
    /// Whichever takes less cloth
    Either,
}

/// Kinds of file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum FileKind {
    /// A pattern: pieces and views
    Pattern,
    /// A job: a view of a pattern and the cloth at hand
    Job,
}

/// Widths of cloth, as given in one list, each with the price of a yard or metre of it where one is given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Widths(pub(crate) Vec<(Length, Option<Money>)>);

/// Widths like `45in,60in`, or `45in@11.50,60in@16.90`. Where units are missing, the message gives the whole list as it may be meant.
fn parse_widths(text: &str) -> Result<Widths, String> {
    let words: Vec<(&str, Option<&str>)> = (text.split(','))
        .map(|word| {
            word.split_once('@').map_or((word.trim(), None), |(width, price)| (width.trim(), Some(price.trim())))
        })
        .collect();
    let read: Vec<Result<Length, QuantityFault>> = words.iter().map(|(word, _)| word.parse()).collect();
    let bare = |read: &Result<Length, QuantityFault>| matches!(read, Err(QuantityFault::NoUnit { .. }));
    let without: Vec<&str> =
        words.iter().zip(&read).filter(|(_, read)| bare(read)).map(|((word, _), _)| *word).collect();
    if !without.is_empty() {
        let list = |unit: &str| -> String {
            let with_unit = |((word, price), read): (&(&str, Option<&str>), &_)| {
                let width = if bare(read) { format!("{word}{unit}") } else { (*word).to_owned() };
                price.map_or_else(|| width.clone(), |price| format!("{width}@{price}"))
            };
            words.iter().zip(&read).map(with_unit).collect::<Vec<_>>().join(",")
        };
        let (have, are) = if without.len() == 1 { ("has", "it is") } else { ("have", "they are") };
        let without = without.join(" and ");
        return Err(format!(
            "{without} {have} no unit; write {}, or {} if {are} in centimetres",
            list("in"),
            list("cm")
        ));
    }
    let told = |fault: QuantityFault| format!("{fault}; {}", fault.help());
    let mut widths = Vec::with_capacity(words.len());
    for ((_, price), width) in words.iter().zip(read) {
        let price = price.map(|price| price.parse::<Money>().map_err(told)).transpose()?;
        widths.push((width.map_err(told)?, price));
    }
    Ok(Widths(widths))
}

/// A time like `30s`, `2m`, `500ms` or `1h`.
fn parse_time(text: &str) -> Result<Duration, String> {
    let text = text.trim();
    let split = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    let (number, unit) = text.split_at(split);
    let seconds_each = match unit.trim() {
        "ms" => 0.001,
        "s" | "sec" => 1.0,
        "m" | "min" => 60.0,
        "h" => 3600.0,
        "" => return Err("a time needs a unit, like 30s, 2m or 500ms".into()),
        other => return Err(format!("\"{other}\" is not a unit of time; use ms, s, m or h")),
    };
    let count: f64 = number.parse().map_err(|_| "a time is a number and a unit, like 30s or 2m".to_owned())?;
    let seconds = count * seconds_each;
    if seconds > 0.0 && seconds <= 86_400.0 {
        Ok(Duration::from_secs_f64(seconds))
    } else {
        Err("a time must be above zero and at most a day".into())
    }
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_definitions_are_sound() {
        Cli::command().debug_assert();
    }

    #[test]
    fn times_are_a_number_and_a_unit() {
        assert_eq!(parse_time("30s"), Ok(Duration::from_secs(30)));
        assert_eq!(parse_time("1.5m"), Ok(Duration::from_secs(90)));
        assert_eq!(parse_time("500 ms"), Ok(Duration::from_millis(500)));
        for bad in ["30", "s", "-3s", "0s", "3 fortnights", "1.2.3s", "48h"] {
            assert!(parse_time(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn widths_are_a_list_of_lengths() {
        let cli = Cli::parse_from(["ellwand", "compare", "a.job.toml", "--width", "45in,150 cm"]);
        let Command::Compare(args) = cli.command else { panic!("compare was asked for") };
        let widths: Vec<f64> = args.widths.iter().flat_map(|list| &list.0).map(|(width, _)| width.mm()).collect();
        assert_eq!(widths, [45.0 * 25.4, 1500.0]);
    }

    #[test]
    fn widths_and_kinds_may_be_of_one_cloth_and_shares_are_one_of_many() {
        let widths = parse_widths_of("lining:45in,55in").unwrap();
        assert_eq!((widths.role.as_deref(), widths.widths.len()), (Some("lining"), 2));
        assert!(parse_widths_of("45in").unwrap().role.is_none());
        assert!(parse_widths_of("45in@9.50").unwrap_err().contains("prices"));
        assert!(parse_widths_of("lining:45").unwrap_err().contains("no unit"));
        let kinds = parse_kinds_of("with-nap,without-nap").unwrap();
        assert_eq!(kinds.kinds, [ClothKind::WithNap, ClothKind::WithoutNap]);
        assert!(parse_kinds_of("velvet").unwrap_err().contains("with-nap"));
        assert_eq!(parse_part("3/10"), Ok(Share { one: 3, of: 10 }));
        for bad in ["3", "0/4", "5/4", "a/b", "-1/3", "1/0"] {
            assert!(parse_part(bad).unwrap_err().contains("3/10"), "{bad}");
        }
    }

    #[test]
    fn widths_without_a_unit_are_told_as_they_may_be_meant() {
        let told = |text: &str| parse_widths(text).unwrap_err();
        assert_eq!(told("45,60"), "45 and 60 have no unit; write 45in,60in, or 45cm,60cm if they are in centimetres");
        assert_eq!(told("45in, 150"), "150 has no unit; write 45in,150in, or 45in,150cm if it is in centimetres");
        assert_eq!(told("45@11.50"), "45 has no unit; write 45in@11.50, or 45cm@11.50 if it is in centimetres");
        assert!(told("45in@cheap").contains("cheap"), "{}", told("45in@cheap"));
        assert!(told("45in,").starts_with("a length is missing"), "{}", told("45in,"));
        assert!(told("45inn").contains("did you mean"), "{}", told("45inn"));
    }
}
