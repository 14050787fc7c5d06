//! Counts on how many remnants everything is found to fit where it is known to, and that nothing is found to fit where it cannot.
#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::process::ExitCode;
use std::time::Instant;

use clap::{Parser, ValueEnum};
use ellwand_benches::remnants::{Trial, that_cannot_fit, that_fit_together, that_fits};
use ellwand_garment::{Question, check};
use ellwand_planner::{Budget, Effort, Options, PlanError, Unheard, Verdict, plan_job, plan_remnant};

/// Counts what is found on remnants of which it is known whether everything fits.
#[derive(Parser)]
struct Arguments {
    /// How many that fit, and as many that cannot.
    #[arg(long, default_value_t = 200)]
    trials: u64,
    /// The first of them.
    #[arg(long, default_value_t = 0)]
    from: u64,
    /// Join so many of those that fit, and count how often nothing is bought and how much is saved.
    #[arg(long)]
    spread: Option<u64>,
    /// How much to search.
    #[arg(long, value_enum, default_value_t = Much::Normal)]
    effort: Much,
}

#[derive(Clone, Copy, PartialEq, ValueEnum)]
enum Much {
    Quick,
    Normal,
    Thorough,
}

fn main() -> ExitCode {
    let arguments = Arguments::parse();
    let effort = match arguments.effort {
        Much::Quick => Effort::Quick,
        Much::Normal => Effort::Normal,
        Much::Thorough => Effort::Thorough,
    };
    let options = Options { budget: Budget::Effort(effort), ..Options::default() };
    let counted = match arguments.spread {
        Some(of) => spread(&arguments, of, &options).map(|()| true).map_err(|fault| fault.to_string()),
        None => run(&arguments, &options).map_err(|fault| fault.to_string()),
    };
    match counted {
        Ok(sound) if sound => ExitCode::SUCCESS,
        Ok(_) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("remnants: {error}");
            ExitCode::from(2)
        }
    }
}

/// Whether nothing was told that is not so.
fn run(arguments: &Arguments, options: &Options) -> Result<bool, PlanError> {
    let numbers = arguments.from..arguments.from + arguments.trials;
    let (mut found, mut of_irregular, mut irregular) = (0, 0, 0);
    let mut wrong = Vec::new();
    let mut missed: Vec<(f64, u64)> = Vec::new();
    let began = Instant::now();
    let mut searching = 0.0;
    for number in numbers.clone() {
        let trial = that_fits(number)?;
        irregular += u32::from(!trial.remnant.is_rectangle());
        let start = Instant::now();
        let verdict = verdict(&trial, options)?;
        searching += start.elapsed().as_secs_f64();
        match verdict {
            Verdict::Fits(plan) => {
                found += 1;
                of_irregular += u32::from(!trial.remnant.is_rectangle());
                let fabric = trial.job.fabrics[0].on_remnant(&trial.remnant);
                let question = Question::of(&trial.job, &trial.pattern, "main", plan.layout.way)?.on(fabric);
                if !check::check(&plan.layout, &question).is_empty() || plan.layout.beyond_remnant() > 0.0 {
                    wrong.push(number);
                }
            }
            Verdict::CannotFit(_) => wrong.push(number),
            Verdict::NotFound { more } => {
                missed.push((more.unwrap_or(f64::INFINITY) / trial.remnant.length(), number));
            }
        }
    }
    let seconds = searching / arguments.trials as f64;
    println!(
        "fits: {found} of {} found ({of_irregular} of {irregular} irregular), {seconds:.2} s each",
        arguments.trials
    );
    missed.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (share, number) in &missed {
        println!("  not found: {number}, {:.2} per cent too long", 100.0 * share);
    }
    let (mut proven, mut told) = (0, 0);
    for number in numbers {
        match verdict(&that_cannot_fit(number)?, options)? {
            Verdict::Fits(_) => {
                told += 1;
                wrong.push(number);
            }
            Verdict::CannotFit(_) => proven += 1,
            Verdict::NotFound { .. } => {}
        }
    }
    println!("cannot fit: {told} of {} told to fit, {proven} proven", arguments.trials);
    println!("{:.0} s in all; told wrongly: {wrong:?}", began.elapsed().as_secs_f64());
    Ok(wrong.is_empty())
}

/// Spreads pieces that are known to fit several remnants.
fn spread(arguments: &Arguments, of: u64, options: &Options) -> Result<(), Box<dyn std::error::Error>> {
    let (mut nothing, mut saved, mut pieces) = (0, 0.0, 0);
    let began = Instant::now();
    let mut searching = 0.0;
    for number in arguments.from..arguments.from + arguments.trials {
        let numbers: Vec<u64> = (number * of..(number + 1) * of).collect();
        let (pattern, job) = that_fit_together(&numbers)?;
        let start = Instant::now();
        let plan = plan_job(&job, &pattern, &["main".to_owned()], options, &Unheard)
            .map_err(|faults| faults.first().map_or_else(String::new, ToString::to_string))?;
        searching += start.elapsed().as_secs_f64();
        let off_the_roll = plan.of_role("main").filter(|cloth| cloth.fabric.cloth.remnant.is_none());
        let (mut bought, mut from_remnants) = (0.0, 0);
        off_the_roll.for_each(|cloth| bought += cloth.layout().length);
        plan.cloths.iter().for_each(|cloth| from_remnants += cloth.layout().cuts.len());
        let all = plan.stash("main").map_or(0.0, |stash| stash.all_bought.layout().length);
        nothing += u32::from(bought == 0.0);
        saved += 1.0 - bought / all;
        pieces += from_remnants;
    }
    let trials = arguments.trials as f64;
    println!(
        "{of} remnants that are known to take everything: nothing is bought in {nothing} of {}, {:.1} per cent less in the mean; {:.0} pieces and {:.1} s each",
        arguments.trials,
        100.0 * saved / trials,
        pieces as f64 / trials,
        searching / trials
    );
    println!("{:.0} s in all", began.elapsed().as_secs_f64());
    Ok(())
}

fn verdict(trial: &Trial, options: &Options) -> Result<Verdict, PlanError> {
    Ok(plan_remnant(&trial.job, &trial.pattern, "main", &trial.remnant, &[], options, &Unheard)?.verdict)
}
