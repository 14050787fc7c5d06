//! The report of a plan: what to buy first, then cloth by cloth what is needed at the table, then fit, matching, cautions and how the numbers
//! were found.

use ellwand_drawing::Sheet;
use ellwand_garment::{
    FitReport, Job, Pattern, Rounding, Units, beginning, format_length, format_length_up, what_is_made, write_length,
};
use ellwand_planner::{ClothPlan, JobPlan};

use crate::{
    Block, CheckList, Considered, Detail, Drawing, Rank, Report, Row, Section, Weighed, candidates, cautions, changes,
    fit, how_found, laying, left_over, lying, matching, money, placing, remnants, seams, supplies, together,
    what_to_buy,
};

/// A plan with everything that a report tells of it.
#[derive(Debug)]
pub struct Planned<'a> {
    /// The job.
    pub job: &'a Job,
    /// The pattern as the job asks for it.
    pub pattern: &'a Pattern,
    /// How it was fitted; one after the other where several garments are made.
    pub fits: &'a [FitOf<'a>],
    /// How pieces are cut that the cloth decides on, a sentence each.
    pub how_to_cut: &'a [String],
    /// The layouts.
    pub plan: &'a JobPlan,
    /// The drawings of each cloth, in the order of the cloths.
    pub pictures: &'a [Pictures],
    /// The layouts of remnants that fit and are not cut from.
    pub others: &'a [OtherRemnant],
    /// What long narrow parts waste of a cloth and what would save it, a sentence each without its full stop.
    pub long_parts: &'a [String],
    /// The job with one thing changed at a time; empty where nobody asked.
    pub changes: &'a [Weighed],
    /// The cloths that its parts may be made of; empty where nobody asked.
    pub considered: &'a [Considered],
}

/// How a garment was fitted.
#[derive(Debug, Clone, Copy)]
pub struct FitOf<'a> {
    /// What it is called, where there are several.
    pub garment: Option<&'a str>,
    /// The job, as if it made this garment only.
    pub job: &'a Job,
    /// Its pattern as it is made.
    pub pattern: &'a Pattern,
    /// What there is to tell.
    pub report: &'a FitReport,
    /// In how many sizes the pattern is drawn.
    pub sizes: usize,
}

impl FitOf<'_> {
    /// What the maker must know of the fit, a sentence each.
    pub fn notes(&self, units: Units) -> Vec<String> {
        self.said(cautions::fit_notes(self.report, units))
    }

    /// Sentences, each of which says of which garment it is where there are several.
    fn said(&self, sentences: Vec<String>) -> Vec<String> {
        match self.garment {
            Some(garment) => sentences.into_iter().map(|said| format!("{garment}: {said}")).collect(),
            None => sentences,
        }
    }
}

/// The drawings of one cloth.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Pictures {
    /// The sheets to cut from.
    pub sheets: Vec<Sheet>,
    /// The pieces as they are sewn, of matched cloth.
    pub seams: Option<Sheet>,
}

/// The drawings of a remnant that fits and is not cut from.
#[derive(Debug, Clone, PartialEq)]
pub struct OtherRemnant {
    /// The role of the cloth.
    pub role: String,
    /// What the remnant is called.
    pub remnant: String,
    /// The sheets to cut from.
    pub sheets: Vec<Sheet>,
}

/// The report of a plan. Equal plans give equal reports: how long a search took is not told.
pub fn plan_report(planned: &Planned) -> Report {
    let Planned { job, plan, .. } = planned;
    let mut sections = vec![buying(planned)];
    sections.extend(garments_together(plan, job.units));
    for (number, cloth) in (1..).zip(&plan.cloths) {
        let sheets = planned.pictures.get(number - 1).map_or(&[][..], |pictures| &pictures.sheets);
        sections.extend(of_cloth(number, cloth, sheets, job.units));
    }
    sections.extend(on_hand(planned));
    sections.extend(fitting(planned));
    sections.extend(sewn(planned));
    sections.extend(what_matching_costs(plan, job.units));
    sections.extend(what_it_may_be_made_of(planned));
    sections.extend(what_changes_save(planned));
    sections.push(what_to_beware_of(planned));
    sections.push(how_it_was_found(plan, job.units));
    Report {
        title: job.name.clone(),
        subtitle: what_is_made(&job.pattern, &job.view, &job.size),
        lang: "en".into(),
        sections,
        names: names(planned),
    }
}

fn section(id: impl Into<String>, rank: Rank, heading: impl Into<String>, blocks: Vec<Block>) -> Section {
    Section { id: id.into(), heading: heading.into(), rank, blocks }
}

fn buying(planned: &Planned) -> Section {
    let Planned { job, plan, .. } = planned;
    let of_cloth = |cloth: &ClothPlan| {
        let mut row = what_to_buy::buy(cloth, job.units);
        row.label = what_to_buy::which_cloth(cloth, job.units);
        // Another repeat is another plan, so what is bought says which.
        row.lines.extend(matching::design(cloth, job.units));
        let short = what_to_buy::on_hand_is_short(cloth, job.units);
        row.lines.extend(short.into_iter().flat_map(|row| row.lines));
        row
    };
    let rows = plan.cloths.iter().map(of_cloth).chain(supplies::rows(plan, job.units));
    let mut blocks = vec![Block::Rows(rows.collect())];
    blocks.extend(money::bill(plan).map(Block::Totals));
    blocks.extend(money::budget(plan).map(|said| Block::Paragraph(format!("{said}."))));
    let notes: Vec<String> = not_planned(planned).into_iter().chain(planned.long_parts.iter().cloned()).collect();
    blocks.extend((!notes.is_empty()).then_some(Block::Notes(notes)));
    section("buy", Rank::Main, "What to buy", blocks)
}

/// Of several garments what each takes alone, and what cutting them together saves.
fn garments_together(plan: &JobPlan, units: Units) -> Option<Section> {
    let of_cloth = |cloth: &ClothPlan| {
        let row = together::saved(cloth, units).map(|row| Row { label: cloth.layout().role.clone(), ..row });
        let table = Block::Table(together::table(cloth, units)?);
        Some(std::iter::once(table).chain(row.map(|row| Block::Rows(vec![row]))))
    };
    let blocks: Vec<Block> = plan.cloths.iter().filter_map(of_cloth).flatten().collect();
    (!blocks.is_empty()).then(|| section("together", Rank::Main, "Each alone and together", blocks))
}

/// Cloths of the view that this plan leaves out.
fn not_planned(planned: &Planned) -> Option<String> {
    let view = planned.pattern.view(&planned.job.view)?;
    let is_planned = |role: &&str| planned.plan.cloths.iter().any(|cloth| cloth.fabric.role == *role);
    let (in_it, left_out): (Vec<&str>, Vec<&str>) = planned.pattern.roles(view).into_iter().partition(is_planned);
    (!left_out.is_empty()).then(|| {
        format!("Only {} was planned; the view is also cut from {}", in_it.join(" and "), left_out.join(" and "))
    })
}

fn of_cloth(number: usize, cloth: &ClothPlan, sheets: &[Sheet], units: Units) -> Vec<Section> {
    let layout = cloth.layout();
    let id = format!("cloth-{number}");
    let part = |name: &str, heading: &str, blocks| section(format!("{id}-{name}"), Rank::Part, heading, blocks);
    let mut rows = vec![lying::layout_row(layout, units), lying::length_row(layout, units)];
    rows.extend(lying::ease_row(cloth));
    rows.extend(lying::other_way_rows(cloth, units));
    rows.extend(how_found::stopped(cloth));
    let mut how = vec![Block::Rows(rows)];
    let begin = beginning(layout, units);
    if !begin.is_empty() {
        how.push(Block::Steps(begin));
    }
    let mut sections = vec![section(&id, Rank::Main, what_to_buy::which_cloth(cloth, units), how)];
    if !sheets.is_empty() {
        let drawn = (1..)
            .zip(sheets)
            .map(|(number, sheet)| Block::Drawing(sheet_to_cut_from(cloth, sheet, number, sheets.len())));
        sections.push(part("layout", "Cutting layout", drawn.collect()));
    }
    let steps = laying::steps(layout, units);
    let mut list: Vec<Block> = laying::halves(layout).map(Block::Paragraph).into_iter().collect();
    for step in steps {
        list.push(Block::CheckList(CheckList {
            caption: format!("{}. {}", step.heading, step.laid),
            items: step.items,
        }));
    }
    list.push(Block::Paragraph(laying::how_to_read(layout)));
    sections.push(part("list", "Cutting list", list));
    let distances = vec![Block::Table(placing::table(layout, units)), Block::Paragraph(placing::how_to_read(layout))];
    sections.push(part("placing", "Placing distances", distances));
    let left = left_over::blocks(cloth, units);
    if !left.is_empty() {
        sections.push(part("left", "What is left", left));
    }
    sections
}

fn sheet_to_cut_from(cloth: &ClothPlan, sheet: &Sheet, number: usize, sheets: usize) -> Drawing {
    let layout = cloth.layout();
    let which = if sheets > 1 { format!(", sheet {number} of {sheets}") } else { String::new() };
    Drawing {
        sheet: sheet.clone(),
        alternative: format!(
            "Cutting layout of {} cuts on {}{which}; the placing distances below say in words where each lies",
            layout.cuts.len(),
            layout.cloth.name
        ),
        caption: format!("{}: {}{which}", layout.role, layout.cloth.name),
    }
}

/// What the remnants are good for, and those that fit and are not cut from, drawn.
fn on_hand(planned: &Planned) -> Vec<Section> {
    let Planned { job, plan, .. } = planned;
    if plan.stashes.is_empty() {
        return Vec::new();
    }
    let mut sections = vec![section("remnants", Rank::Main, "Remnants", Vec::new())];
    for (number, stash) in (1..).zip(&plan.stashes) {
        let mut blocks = vec![Block::Rows(remnants::rows(stash, plan, job.units))];
        let drawn = planned.others.iter().filter(|other| other.role == stash.role);
        blocks.extend(drawn.flat_map(|other| {
            other.sheets.iter().map(|sheet| {
                Block::Drawing(Drawing {
                    sheet: sheet.clone(),
                    alternative: format!("Cutting layout on the remnant \"{}\", which fits too", other.remnant),
                    caption: format!("{}: remnant \"{}\", which would do as well", other.role, other.remnant),
                })
            })
        }));
        let heading = format!("{}: {}", stash.role, stash.all_bought.layout().cloth.name);
        sections.push(section(format!("remnants-{number}"), Rank::Part, heading, blocks));
    }
    sections
}

fn fitting(planned: &Planned) -> Vec<Section> {
    let units = planned.job.units;
    let mut sections = match planned.fits {
        [of] if of.garment.is_none() => vec![section("fit", Rank::Main, "Fit and ease", fit_blocks(of, units))],
        several => {
            let of_garment = |(number, of): (usize, &FitOf<'_>)| {
                section(format!("fit-{number}"), Rank::Part, of.garment.unwrap_or_default(), fit_blocks(of, units))
            };
            let whole = section("fit", Rank::Main, "Fit and ease", Vec::new());
            std::iter::once(whole).chain((1..).zip(several).map(of_garment)).collect()
        }
    };
    let altered: Vec<String> = planned.fits.iter().flat_map(|of| of.said(of.report.alterations.clone())).collect();
    if !altered.is_empty() {
        sections.push(section("alterations", Rank::Main, "Alterations", vec![Block::Notes(altered)]));
    }
    sections
}

fn fit_blocks(of: &FitOf<'_>, units: Units) -> Vec<Block> {
    let FitOf { job, pattern, report, sizes, .. } = *of;
    let mut blocks = vec![Block::Paragraph(format!("{}.", fit::what_is_made(job, pattern, report)))];
    if let Some(suggestion) = fit::suggestion(report, units) {
        blocks.push(Block::Paragraph(suggestion.because));
        blocks.push(Block::Rows(suggestion.nearest));
        blocks.extend(suggestion.just_as_near.into_iter().map(Block::Paragraph));
    }
    blocks.extend(fit::girths(report, units).map(Block::Table));
    let lengths = fit::lengths(report, units);
    if !lengths.is_empty() {
        blocks.push(Block::Rows(lengths));
    }
    blocks.extend(seams::table(report, units).map(Block::Table));
    blocks.extend(fit::what_is_missing(report, sizes).into_iter().map(|said| Block::Paragraph(said.to_owned())));
    blocks
}

fn sewn(planned: &Planned) -> Option<Section> {
    let of_cloth = |(cloth, pictures): (&ClothPlan, &Pictures)| {
        let sheet = pictures.seams.clone()?;
        let name = &cloth.layout().cloth.name;
        let alternative = format!(
            "The pieces of {name} as they are sewn, with its design; what meets is listed under \"What matching costs\""
        );
        let caption = format!("{}: {name}, as it is sewn", cloth.layout().role);
        Some(Block::Drawing(Drawing { sheet, alternative, caption }))
    };
    let drawn: Vec<Block> = planned.plan.cloths.iter().zip(planned.pictures).filter_map(of_cloth).collect();
    (!drawn.is_empty()).then(|| section("seams", Rank::Main, "Seams as they are sewn", drawn))
}

fn what_matching_costs(plan: &JobPlan, units: Units) -> Vec<Section> {
    let of_cloth = |(number, cloth): (usize, &ClothPlan)| {
        let rows = matching::rows(cloth, units, Detail::Reasons);
        let heading = what_to_buy::which_cloth(cloth, units);
        (!rows.is_empty()).then(|| section(format!("matching-{number}"), Rank::Part, heading, vec![Block::Rows(rows)]))
    };
    let parts: Vec<Section> = (1..).zip(&plan.cloths).filter_map(of_cloth).collect();
    if parts.is_empty() {
        return parts;
    }
    let whole = section("matching", Rank::Main, "What matching costs", Vec::new());
    std::iter::once(whole).chain(parts).collect()
}

fn what_it_may_be_made_of(planned: &Planned) -> Option<Section> {
    let Planned { job, considered, .. } = planned;
    if considered.is_empty() {
        return None;
    }
    let mut blocks = Vec::new();
    for one in *considered {
        blocks.push(Block::Table(candidates::table(one, job.units)));
        let remarks = candidates::remarks(one, job.units);
        blocks.extend((!remarks.is_empty()).then_some(Block::Rows(remarks)));
    }
    let about = candidates::about_the_width_table(considered);
    blocks.extend(
        [Some(candidates::ABOUT_THE_COLUMNS), about]
            .into_iter()
            .flatten()
            .map(|said| Block::Paragraph(said.to_owned())),
    );
    Some(section("candidates", Rank::Main, "What it may be made of", blocks))
}

fn what_changes_save(planned: &Planned) -> Option<Section> {
    let Planned { job, plan, changes, .. } = planned;
    if changes.is_empty() {
        return None;
    }
    let steps = changes::next_steps(plan, job.units);
    let cannot = changes::impossible(changes, job.units);
    let rows = |rows: Vec<Row>| (!rows.is_empty()).then_some(Block::Rows(rows));
    let told = changes::told(plan, changes, job.units);
    let mut blocks: Vec<Block> = rows(steps).into_iter().collect();
    blocks.extend(told.tables.into_iter().map(Block::Table));
    blocks.extend(told.sentences.into_iter().map(Block::Paragraph));
    blocks.extend(rows(cannot));
    Some(section("changes", Rank::Main, "What one change would save", blocks))
}

fn what_to_beware_of(planned: &Planned) -> Section {
    let Planned { job, pattern, fits, how_to_cut, .. } = planned;
    let mut notes = how_to_cut.to_vec();
    notes.extend(fits.iter().flat_map(|of| of.notes(job.units)));
    let view = pattern.view(&job.view);
    notes.extend(view.map(|view| cautions::hem_notes(pattern, view, job.units)).unwrap_or_default());
    let mut blocks = vec![Block::Paragraph(cautions::what_to_measure().to_owned())];
    if !notes.is_empty() {
        blocks.push(Block::Notes(notes));
    }
    section("cautions", Rank::Main, "Before you cut", blocks)
}

fn how_it_was_found(plan: &JobPlan, units: Units) -> Section {
    let promise = "Every layout was checked piece by piece before it was drawn. The same job, effort and seed give the same layout.";
    let mut blocks = vec![Block::Paragraph(promise.to_owned())];
    let several = plan.cloths.len() > 1;
    blocks.extend(plan.cloths.iter().map(|cloth| {
        let layout = cloth.layout();
        let named = several.then(|| Row::new("cloth", what_to_buy::which_cloth(cloth, units)));
        let bound = write_length(layout.lower_bound.length, units, Rounding::Down);
        let rows = [
            Row::new("length used", format_length_up(layout.length, units)),
            Row::new("no layout is shorter than", format!("{bound}: {}", layout.lower_bound.reason)),
            how_found::room_for_improvement(layout, units, Detail::Figures),
            Row::new("largest pieces first took", format_length(layout.search.start_length, units)),
            Row::new("effort", layout.search.effort.clone()),
            Row::new("seed", layout.search.seed.to_string()),
        ];
        Block::Rows(named.into_iter().chain(rows).collect())
    }));
    section("how-found", Rank::Main, "How the numbers were found", blocks)
}

/// Everything that job and pattern call by a name of their own.
fn names(planned: &Planned) -> Vec<String> {
    let Planned { job, pattern, plan, .. } = planned;
    let mut names =
        vec![job.name.clone(), job.pattern.clone(), pattern.name.clone(), job.view.clone(), job.size.clone()];
    names.extend(job.fabrics.iter().flat_map(|fabric| [fabric.role.clone(), fabric.cloth.name.clone()]));
    names.extend(job.fabrics.iter().filter_map(|fabric| fabric.currency.clone()));
    for remnant in job.fabrics.iter().flat_map(|fabric| &fabric.remnants) {
        names.push(remnant.name.clone());
    }
    for supply in &job.spending.supplies {
        names.push(supply.name.clone());
        names.extend(supply.size.clone());
        names.extend(supply.currency.clone());
    }
    names.extend(planned.considered.iter().flat_map(|one| &one.cloths).map(|cloth| cloth.fabric.cloth.name.clone()));
    names.extend(pattern.pieces.iter().map(|piece| piece.name.clone()));
    for FitOf { garment, job, report, .. } in planned.fits {
        names.extend(garment.iter().map(|name| (*name).to_owned()));
        names.extend([job.pattern.clone(), job.view.clone(), job.size.clone()]);
        names.extend(report.levels.iter().map(|level| level.name.clone()));
        names.extend(report.walked.iter().map(|seam| seam.name.clone()));
        names.extend(report.lengths.iter().map(|(name, _)| name.clone()));
    }
    for cost in plan.cloths.iter().filter_map(|cloth| cloth.matching.as_ref()) {
        names.extend(cost.prices.iter().chain(&cost.given_up).map(|price| price.name.clone()));
    }
    names.sort();
    names.dedup();
    names
}
