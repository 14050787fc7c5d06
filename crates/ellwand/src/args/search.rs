//! Options that several commands share: how large files may be, and how to search.

use std::time::Duration;

use clap::{Args, ValueEnum};
use ellwand_garment::{Way, WayChoice};

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
    #[arg(long, alias = "layer", value_enum, value_name = "WAY")]
    pub(crate) layout: Option<LayoutArg>,
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

/// Ways to lay the cloth. The words of a job file do too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum LayoutArg {
    /// One layer, opened out
    Open,
    /// Folded lengthwise down the middle, selvages together
    #[value(aliases = ["centre fold", "fold"])]
    CentreFold,
    /// One selvage folded over as deep as it pays
    #[value(alias = "off centre")]
    OffCentre,
    /// Both selvages folded to the middle
    #[value(alias = "to the middle")]
    ToTheMiddle,
    /// A part folded down the middle, the rest single
    #[value(alias = "part folded")]
    PartFolded,
    /// Folded across; never with nap or a one-way design
    Crosswise,
    /// Cut across, the far half turned over onto the near one like a page
    #[value(alias = "cut and turned")]
    CutAndTurned,
    /// Open or folded down the middle, whichever takes less cloth
    Either,
    /// Any way that the cloth allows: of those that buy least the one that is least work
    Any,
}

impl LayoutArg {
    /// The ways that it lets the cloth be laid in.
    pub(crate) fn ways(self) -> WayChoice {
        match self {
            Self::Open => WayChoice::Only(Way::Open),
            Self::CentreFold => WayChoice::Only(Way::CentreFold),
            Self::OffCentre => WayChoice::Only(Way::OffCentre),
            Self::ToTheMiddle => WayChoice::Only(Way::ToTheMiddle),
            Self::PartFolded => WayChoice::Only(Way::PartFolded),
            Self::Crosswise => WayChoice::Only(Way::Crosswise),
            Self::CutAndTurned => WayChoice::Only(Way::CutAndTurned),
            Self::Either => WayChoice::Either,
            Self::Any => WayChoice::Any,
        }
    }
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
    use super::*;

    #[test]
    fn every_way_of_laying_is_called_as_in_a_job() {
        let of = |word: &str| LayoutArg::from_str(word, false).map(LayoutArg::ways);
        for way in Way::ALL {
            let dashed = way.name().replace(' ', "-");
            assert_eq!((of(way.name()), of(&dashed)), (Ok(WayChoice::Only(way)), Ok(WayChoice::Only(way))));
        }
        assert_eq!((of("either"), of("any")), (Ok(WayChoice::Either), Ok(WayChoice::Any)));
        assert_eq!(of("fold"), Ok(WayChoice::Only(Way::CentreFold)), "as it was called before there were others");
        assert!(of("double").is_err());
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
}
