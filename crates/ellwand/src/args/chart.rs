//! Options of `chart`: which cells of a yardage table are made.

use std::path::PathBuf;

use clap::Args;
use ellwand_files::Length;
use ellwand_planner::ClothKind;

use super::{
    SearchArgs,
    compare::{Widths, parse_widths},
};

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

#[cfg(test)]
mod tests {
    use super::*;

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
}
