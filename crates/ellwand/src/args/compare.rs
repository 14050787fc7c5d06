//! Options of `compare`: widths, or views and choices for the job's candidates.

use std::path::PathBuf;

use clap::Args;
use ellwand_files::{Length, Money, QuantityFault};

use super::SearchArgs;

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

/// Widths of cloth, as given in one list, each with the price of a yard or metre of it where one is given.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Widths(pub(crate) Vec<(Length, Option<Money>)>);

/// Widths like `45in,60in`, or `45in@11.50,60in@16.90`. Where units are missing, the message gives the whole list as it may be meant.
pub(super) fn parse_widths(text: &str) -> Result<Widths, String> {
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

#[cfg(test)]
mod tests {
    use clap::Parser;

    use super::*;
    use crate::args::{Cli, Command};

    #[test]
    fn widths_are_a_list_of_lengths() {
        let cli = Cli::parse_from(["ellwand", "compare", "a.job.toml", "--width", "45in,150 cm"]);
        let Command::Compare(args) = cli.command else { panic!("compare was asked for") };
        let widths: Vec<f64> = args.widths.iter().flat_map(|list| &list.0).map(|(width, _)| width.mm()).collect();
        assert_eq!(widths, [45.0 * 25.4, 1500.0]);
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
