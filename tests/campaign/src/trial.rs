//! One job through the programs: written, checked, planned, judged, and asked again in other words.

use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::{
    judge::{Answer, Complaint, GivenUp, judge, judge_left, judge_pieces},
    make::{
        JOB_FILE, PATTERN_FILE, Scene, TYPED_FILE,
        stash::{STASH_FILE, apart},
    },
    question::{Question, question},
    record::{self, Layout, PieceRecord},
    refusal,
    run::{Ended, Ran, Tools},
};

/// What came of a job.
#[derive(Debug, Default)]
pub(crate) struct Outcome {
    /// Whether it was planned.
    pub(crate) answered: bool,
    pub(crate) complaints: Vec<Complaint>,
    /// What it was told when it was refused.
    pub(crate) refusal: String,
}

/// Where and with what jobs are tried.
#[derive(Debug, Clone)]
pub(crate) struct Bench<'a> {
    pub(crate) tools: &'a Tools,
    pub(crate) folder: PathBuf,
    /// Positions a search may try.
    pub(crate) work: u64,
}

/// A planned job, with what its answers are judged by.
#[derive(Debug, Clone)]
pub(crate) struct Planned {
    pub(crate) scene: Scene,
    pub(crate) question: Question,
    pub(crate) pieces: Vec<PieceRecord>,
    pub(crate) cloths: Vec<ClothPlanned>,
    /// Totals with their money, and whether they are all there is to pay.
    pub(crate) bill: (Value, bool),
}

impl Planned {
    /// Whether a role is cut from several pieces of cloth: remnants, and what is bought beside them.
    pub(crate) fn is_parted(&self, role: &str) -> bool {
        self.cloths.iter().filter(|cloth| cloth.layout.fabric == role).count() > 1
    }
}

/// The answer for one cloth.
#[derive(Debug, Clone)]
pub(crate) struct ClothPlanned {
    pub(crate) layout: Layout,
    pub(crate) prices: Vec<GivenUp>,
    /// What the garments take one after the other, where there are several and that is told.
    pub(crate) one_after_the_other: Option<f64>,
    /// What is told to be left: from the left edge, from the cut end, across, along.
    pub(crate) left: Vec<[f64; 4]>,
}

/// A job that was refused, or a fault.
pub(crate) enum NotPlanned {
    Refused,
    Fault(Complaint),
}

impl Bench<'_> {
    /// Writes a scene into the folder.
    pub(crate) fn write(&self, scene: &Scene) -> Result<(), String> {
        write_scene(&self.folder, scene)
    }

    /// The piece record of the job in the folder: what `check` says.
    pub(crate) fn check(&self) -> Ran {
        // What an earlier job left must not be taken for this one's.
        let _ = std::fs::remove_file(self.folder.join("pieces.json"));
        self.tools.ellwand(&self.folder, &["check", JOB_FILE, "--json", "pieces.json", "--quiet"])
    }

    /// The piece record that `check` wrote.
    pub(crate) fn pieces(&self) -> Result<Vec<PieceRecord>, String> {
        let text = std::fs::read_to_string(self.folder.join("pieces.json")).map_err(|fault| fault.to_string())?;
        record::pieces(&serde_json::from_str(&text).map_err(|fault| fault.to_string())?)
    }

    /// Writes, checks and plans a scene, without judging it.
    pub(crate) fn plan(&self, scene: &Scene, threads: u32) -> Result<(Planned, Value), NotPlanned> {
        let fault = |text: String| NotPlanned::Fault(Complaint { judge: "records", text });
        self.write(scene).map_err(fault)?;
        let checked = self.check();
        if checked.is(2) {
            return Err(NotPlanned::Refused);
        }
        let ran = self.tools.small(&self.folder, JOB_FILE, self.work, threads, &[]);
        if ran.is(2) {
            return Err(NotPlanned::Refused);
        }
        if let Some(complaint) = ended_badly("plan", &ran) {
            return Err(NotPlanned::Fault(complaint));
        }
        let value: Value = serde_json::from_str(&ran.stdout).map_err(|failure| fault(failure.to_string()))?;
        let pieces = self.pieces().map_err(fault)?;
        let planned = planned(scene, pieces, &value).map_err(fault)?;
        Ok((planned, value))
    }
}

/// Writes the files of a scene.
pub(crate) fn write_scene(folder: &Path, scene: &Scene) -> Result<(), String> {
    let (job, stash) = apart(&scene.job);
    let files = [(PATTERN_FILE, Some(&scene.pattern)), (JOB_FILE, Some(&job)), (STASH_FILE, stash.as_ref())];
    for (name, table) in files.into_iter().filter_map(|(name, table)| Some((name, table?))) {
        let text = toml::to_string(table).map_err(|fault| fault.to_string())?;
        std::fs::write(folder.join(name), text).map_err(|fault| fault.to_string())?;
    }
    if let Some(sheet) = &scene.sheet {
        std::fs::write(folder.join(&sheet.file), &sheet.bytes).map_err(|fault| fault.to_string())?;
        let mut typed = toml::Table::new();
        typed.insert("piece".to_owned(), toml::Value::Array(sheet.typed.clone()));
        if let Some(wrong) = &sheet.wrong {
            typed.insert("wrong".to_owned(), toml::Value::String(wrong.clone()));
        }
        let text = toml::to_string(&typed).map_err(|fault| fault.to_string())?;
        std::fs::write(folder.join(TYPED_FILE), text).map_err(|fault| fault.to_string())?;
    }
    Ok(())
}

/// What was planned, read from what the program printed.
fn planned(scene: &Scene, pieces: Vec<PieceRecord>, value: &Value) -> Result<Planned, String> {
    let cloths = cloths_told(value)?;
    // What is cut from a remnant is judged as cut from that.
    let layouts: Vec<_> = cloths.iter().map(|cloth| &cloth.layout).collect();
    let question = question(scene, &pieces)?.parted(&layouts)?;
    Ok(Planned {
        scene: scene.clone(),
        question,
        pieces,
        cloths,
        bill: (value["totals"].clone(), value["complete"] == Value::Bool(true)),
    })
}

/// The cloths that the program printed.
pub(crate) fn cloths_told(value: &Value) -> Result<Vec<ClothPlanned>, String> {
    let cloths = value["cloths"].as_array().ok_or("no cloths were printed")?;
    let cloth = |value: &Value| {
        let prices = value["given_up"].as_array().into_iter().flatten().filter_map(|price| {
            Some(GivenUp {
                name: price["name"].as_str()?.to_owned(),
                buy: price["buy"].as_f64(),
                cost: price["cost"].as_str().map(str::to_owned),
            })
        });
        let left = value["left"].as_array().into_iter().flatten().filter_map(|place| {
            let numbers: Vec<f64> = place.as_array()?.iter().filter_map(Value::as_f64).collect();
            numbers.try_into().ok()
        });
        let (prices, left) = (prices.collect(), left.collect());
        let copy = |value: &Value| Some((value[0].as_str()?.to_owned(), value[1].as_u64()?));
        let double = value["cut_double"].as_array().into_iter().flatten();
        let cut_double = double.filter_map(|two| Some([copy(&two[0])?, copy(&two[1])?])).collect();
        Ok::<_, String>(ClothPlanned {
            layout: Layout { cut_double, ..record::layout(&value["record"])? },
            prices,
            one_after_the_other: value["one_after_the_other"].as_f64(),
            left,
        })
    };
    cloths.iter().map(cloth).collect()
}

/// A complaint about a run that ended neither well nor with a refusal.
pub(crate) fn ended_badly(what: &'static str, ran: &Ran) -> Option<Complaint> {
    let how = match ran.ended {
        Ended::Code(0 | 2) => return None,
        Ended::Code(code) => format!("exit {code}"),
        Ended::Signal => "a signal".to_owned(),
        Ended::TooLong => "no end".to_owned(),
    };
    let said = ran.stderr.lines().filter(|line| !line.starts_with("note:")).collect::<Vec<_>>().join(" ");
    Some(Complaint { judge: "exit", text: format!("{what}: {how}: {said}") })
}

/// Tries a scene and judges what comes.
pub(crate) fn trial(bench: &Bench<'_>, scene: &Scene) -> Outcome {
    let mut outcome = Outcome::default();
    let mut say = |judge: &'static str, text: String| outcome.complaints.push(Complaint { judge, text });
    if let Err(fault) = bench.write(scene) {
        say("records", fault);
        return outcome;
    }
    let checked = bench.check();
    if let Some(complaint) = ended_badly("check", &checked) {
        say(complaint.judge, complaint.text);
        return outcome;
    }
    let ran = bench.tools.small(&bench.folder, JOB_FILE, bench.work, 1, &[]);
    if let Some(complaint) = ended_badly("plan", &ran) {
        say(complaint.judge, complaint.text);
        return outcome;
    }
    if checked.is(0) && ran.is(2) && !refusal::needs_a_search(&ran.stderr) {
        say("check", format!("no fault was found, and the plan is refused: {}", ran.stderr.trim()));
    }
    if checked.is(2) && ran.is(0) {
        say("check", format!("a fault was found, and the job is planned: {}", checked.stderr.trim()));
    }
    if !ran.is(0) {
        let said = if checked.is(2) {
            checked
        } else {
            let plan = ["plan", JOB_FILE, "--time", "300ms", "--quiet", "--out", "out"];
            bench.tools.ellwand(&bench.folder, &plan)
        };
        if said.is(2) {
            outcome.complaints.extend(refusal::judge(&said.stderr));
            outcome.refusal = said.stderr;
        } else if let Some(complaint) = ended_badly("the command", &said) {
            outcome.complaints.push(complaint);
        }
        return outcome;
    }
    outcome.answered = true;
    if let Some(wrong) = scene.sheet.as_ref().and_then(|sheet| sheet.wrong.as_ref()) {
        say("refusal", format!("planned, and must be refused: {wrong}"));
    }
    let planned = serde_json::from_str(&ran.stdout)
        .map_err(|fault| fault.to_string())
        .and_then(|value: Value| planned(scene, bench.pieces()?, &value));
    match planned {
        Ok(planned) => outcome.complaints.extend(judge_planned(&planned)),
        Err(fault) => outcome.complaints.push(Complaint { judge: "records", text: fault }),
    }
    outcome
}

/// Every complaint about what was planned.
pub(crate) fn judge_planned(planned: &Planned) -> Vec<Complaint> {
    let mut complaints = judge_pieces(&planned.scene, &planned.pieces);
    let asked = &planned.question.cloths;
    for asked in asked {
        let is_of_it =
            |cloth: &&ClothPlanned| cloth.layout.fabric == asked.role && cloth.layout.remnant == asked.remnant;
        let Some(cloth) = planned.cloths.iter().find(is_of_it) else {
            let text = format!("nothing is planned of the cloth {}", asked.role);
            complaints.push(Complaint { judge: "counts", text });
            continue;
        };
        complaints.extend(judge(&Answer {
            asked,
            layout: &cloth.layout,
            pieces: &planned.pieces,
            prices: &cloth.prices,
        }));
        let inches = planned.scene.job.get("units").and_then(toml::Value::as_str) == Some("in");
        complaints.extend(judge_left(asked, &cloth.layout, &cloth.left, if inches { 101.6 } else { 100.0 }));
    }
    for cloth in &planned.cloths {
        if !asked.iter().any(|asked| asked.role == cloth.layout.fabric) {
            let text = format!("the cloth {} is planned and nothing asked of it", cloth.layout.fabric);
            complaints.push(Complaint { judge: "counts", text });
        }
    }
    complaints.extend(crate::bill::total(planned));
    complaints
}
