//! Runs the search on published strip-packing instances and prints density against the published best.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use clap::Parser;
use ellwand_geometry::{Outline, Placement, Pose, point};
use ellwand_nest::{AllowedPose, Budget, Event, Item, Observer, Problem, Settings, solve};
use serde::Deserialize;

#[derive(Parser)]
struct Args {
    #[arg(long)]
    data: PathBuf,
    #[arg(long, default_value_t = 60.0)]
    seconds: f64,
    #[arg(long, default_value_t = 1)]
    seed: u64,
    #[arg(long, default_value_t = 2)]
    threads: usize,
    #[arg(long)]
    json: Option<PathBuf>,
    names: Vec<String>,
}

#[derive(Deserialize)]
struct Instance {
    name: String,
    strip_width: f64,
    items: Vec<Entry>,
}

#[derive(Deserialize)]
struct Entry {
    id: String,
    demand: usize,
    rotations_deg: Vec<f64>,
    outline: Vec<[f64; 2]>,
}

struct Trace(Instant, bool, f64, f64);
impl Observer for Trace {
    fn event(&self, event: &Event) {
        if self.1 && let Event::Shorter { length, .. } = event {
            eprintln!("{:.1}s {length:.3} {:.2}", self.0.elapsed().as_secs_f64(), 100.0 * self.2 / self.3 / length);
        }
    }
}

fn main() {
    let args = Args::parse();
    let mut files: Vec<_> = std::fs::read_dir(&args.data).unwrap().map(|e| e.unwrap().path()).filter(|p| p.extension().is_some_and(|e| e == "json")).collect();
    files.sort();
    for file in files {
        let instance: Instance = serde_json::from_str(&std::fs::read_to_string(&file).unwrap()).unwrap();
        if !args.names.is_empty() && !args.names.contains(&instance.name) {
            continue;
        }
        let mut problem = Problem { left: 0.0, right: instance.strip_width, shapes: vec![], items: vec![], obstacles: vec![], gap: 0.0 };
        let mut ids = Vec::new();
        for entry in &instance.items {
            let outline = Outline::new(entry.outline.iter().map(|p| point(p[0], p[1])).collect()).unwrap();
            problem.shapes.push(outline);
            for _ in 0..entry.demand {
                problem.items.push(Item { shape: problem.shapes.len() - 1, poses: entry.rotations_deg.iter().map(|&t| AllowedPose::anywhere(Pose::turned(t))).collect(), twin: None });
                ids.push(entry.id.clone());
            }
        }
        let area: f64 = problem.items.iter().map(|i| problem.shapes[i.shape].area()).sum();
        let began = Instant::now();
        let settings = Settings { seed: args.seed, budget: Budget::Time(Duration::from_secs_f64(args.seconds)), threads: args.threads, known: None };
        let out = solve(&problem, &settings, &Trace(began, std::env::var_os("ELLWAND_TRACE").is_some(), area, instance.strip_width)).unwrap();
        println!("{:10} {:3} start {:.2} length {:.3} density {:.2} {:.1}s work {}", instance.name, problem.items.len(), 100.0 * area / instance.strip_width / out.start.length, out.best.length, 100.0 * area / instance.strip_width / out.best.length, began.elapsed().as_secs_f64(), out.work);
        let _ = Placement::new(Pose::AS_DRAWN, 0.0, 0.0);
    }
}
