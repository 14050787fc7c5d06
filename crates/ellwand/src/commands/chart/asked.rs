//! Which cells a yardage table has, and the case of each.

use ellwand_files::{Change, NamedSize, ReadJob};
use ellwand_garment::{Body, Job, Nap, Pattern, format_length};
use ellwand_planner::ClothKind;

use crate::{args::ChartArgs, exit::Failure, full_size::refused, input, settings};

/// So many sizes follow each other in one run of cells, each begun near the one before. A run is what one program makes at a time.
const RUN: usize = 4;

/// The cells of one cloth of a view in a figure type.
#[derive(Debug)]
pub(super) struct AskedGroup {
    pub(super) view: String,
    pub(super) figure: String,
    pub(super) role: String,
    /// Names of the sizes, small to large.
    pub(super) sizes: Vec<String>,
    /// Widths (as bought, mm) and kinds of its rows.
    pub(super) rows: Vec<(f64, ClothKind)>,
}

/// One cell: which group, row and size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct At {
    pub(super) group: usize,
    pub(super) row: usize,
    pub(super) size: usize,
}

/// All cells of a table.
#[derive(Debug)]
pub(super) struct Asked {
    pub(super) groups: Vec<AskedGroup>,
    /// Every size asked for.
    pub(super) sizes: Vec<NamedSize>,
}

impl Asked {
    /// What the command line asks of a job.
    pub(super) fn of(args: &ChartArgs, base: &ReadJob) -> Result<Self, Failure> {
        if !base.alternatives.of_garments.is_empty() {
            return Err(refused(&args.job, "a table is of one garment, and this job makes several; name a job of one"));
        }
        let sizes = sizes(args, base)?;
        let views = views(args, base)?;
        refuse_unknown_roles(args, base)?;
        let mut figures: Vec<&str> = Vec::new();
        for size in &sizes {
            if !figures.contains(&size.figure.as_str()) {
                figures.push(&size.figure);
            }
        }
        let mut groups = Vec::new();
        for view in &views {
            let known = base.pattern.view(view);
            let roles = known.map(|view| base.pattern.roles(view)).unwrap_or_default();
            let chosen = &args.search.fabrics;
            for figure in &figures {
                for role in roles.iter().filter(|role| chosen.is_empty() || chosen.iter().any(|one| one == *role)) {
                    let of_figure = sizes.iter().filter(|size| size.figure == *figure);
                    groups.push(AskedGroup {
                        view: view.clone(),
                        figure: (*figure).to_owned(),
                        role: (*role).to_owned(),
                        sizes: of_figure.map(|size| size.name.clone()).collect(),
                        rows: rows(args, base, role),
                    });
                }
            }
        }
        Ok(Self { groups, sizes })
    }

    /// The runs of cells, each from the largest size down: what lies in a larger size is the better beginning for a smaller one.
    pub(super) fn runs(&self) -> Vec<Vec<At>> {
        let mut runs = Vec::new();
        for (group, asked) in self.groups.iter().enumerate() {
            for row in 0..asked.rows.len() {
                let sizes: Vec<usize> = (0..asked.sizes.len()).rev().collect();
                runs.extend(sizes.chunks(RUN).map(|run| run.iter().map(|&size| At { group, row, size }).collect()));
            }
        }
        runs
    }

    /// What a cell is called.
    pub(super) fn title(&self, at: At, base: &ReadJob) -> String {
        let group = &self.groups[at.group];
        let (width, kind) = group.rows[at.row];
        let figure = if group.figure.is_empty() { String::new() } else { format!(" {}", group.figure) };
        let (size, width) = (&group.sizes[at.size], format_length(width, base.job.units));
        format!("{} {width}, {}; view {}, size {size}{figure}", group.role, kind_words(kind), group.view)
    }

    /// The job and the pattern of a cell.
    pub(super) fn case(&self, at: At, args: &ChartArgs, base: &ReadJob) -> Result<(Job, Pattern), Failure> {
        let group = &self.groups[at.group];
        let (width, kind) = group.rows[at.row];
        let role = || group.role.clone();
        let mut changes = vec![Change::OffTheRoll, Change::View(group.view.clone())];
        // A pattern in one size may be drawn by the body of the job, and has no other.
        if base.alternatives.sizes.len() > 1 {
            changes.push(Change::ForNobody);
        }
        if !group.figure.is_empty() {
            changes.push(Change::Figure(group.figure.clone()));
        }
        // A record of pieces has one size, which has no name.
        if !group.sizes[at.size].is_empty() {
            changes.push(Change::Size(group.sizes[at.size].clone()));
        }
        changes.push(Change::Width { role: role(), width, price: None });
        match kind {
            ClothKind::Design => {}
            ClothKind::WithNap | ClothKind::WithoutNap => {
                let nap = if kind == ClothKind::WithNap { Nap::With } else { Nap::Without };
                changes.extend([Change::Plain { role: role() }, Change::Nap { role: role(), nap }]);
            }
        }
        let read = input::read_changed_job(&args.job, settings::reading(&args.search), &changes)?;
        Ok((read.job, read.pattern))
    }
}

/// A kind of cloth as rows name it.
pub(super) fn kind_words(kind: ClothKind) -> &'static str {
    match kind {
        ClothKind::Design => "with its design",
        ClothKind::WithNap => "with nap",
        ClothKind::WithoutNap => "without nap",
    }
}

/// What a size is called beside those of other figure types.
pub(super) fn label(size: &NamedSize) -> String {
    if size.figure.is_empty() { size.name.clone() } else { format!("{} {}", size.name, size.figure) }
}

fn sizes(args: &ChartArgs, base: &ReadJob) -> Result<Vec<NamedSize>, Failure> {
    let all = &base.alternatives.sizes;
    if all.is_empty() {
        return match args.size.first().or(args.figure.first()) {
            Some(_) => Err(refused(&args.job, "a record of pieces is of one size; leave --size and --figure out")),
            None => Ok(vec![NamedSize { name: String::new(), figure: String::new(), body: Body::new() }]),
        };
    }
    let figures: Vec<&str> = all.iter().map(|size| size.figure.as_str()).collect();
    if let Some(unknown) = args.figure.iter().find(|asked| !figures.contains(&asked.as_str())) {
        let mut known: Vec<&str> = figures.into_iter().filter(|figure| !figure.is_empty()).collect();
        known.dedup();
        let known =
            if known.is_empty() { "it has one only".to_owned() } else { format!("it has {}", known.join(", ")) };
        return Err(refused(&args.job, &format!("the pattern has no figure type `{unknown}`; {known}")));
    }
    if let Some(unknown) =
        args.size.iter().find(|asked| !all.iter().any(|of| of.name == **asked || label(of) == **asked))
    {
        let known: Vec<String> = all.iter().map(label).collect();
        return Err(refused(
            &args.job,
            &format!("the pattern has no size `{unknown}`; its sizes are {}", known.join(", ")),
        ));
    }
    let is_asked = |of: &&NamedSize| {
        (args.figure.is_empty() || args.figure.contains(&of.figure))
            && (args.size.is_empty() || args.size.iter().any(|asked| *asked == of.name || *asked == label(of)))
    };
    let asked: Vec<NamedSize> = all.iter().filter(is_asked).cloned().collect();
    if asked.is_empty() {
        return Err(refused(&args.job, "no size is of the figure types that --figure names"));
    }
    Ok(asked)
}

fn views(args: &ChartArgs, base: &ReadJob) -> Result<Vec<String>, Failure> {
    if args.view.is_empty() {
        return Ok(vec![base.job.view.clone()]);
    }
    let known: Vec<&str> = base.pattern.views.iter().map(|view| view.name.as_str()).collect();
    if let Some(unknown) = args.view.iter().find(|asked| !known.contains(&asked.as_str())) {
        return Err(refused(
            &args.job,
            &format!("the pattern has no view `{unknown}`; its views are {}", known.join(", ")),
        ));
    }
    let mut views = args.view.clone();
    let mut seen = Vec::new();
    views.retain(|view| {
        !seen.contains(view) && {
            seen.push(view.clone());
            true
        }
    });
    Ok(views)
}

/// The cloth that widths and kinds without a part are for.
fn first_role(base: &ReadJob) -> &str {
    let main = base.job.fabrics.iter().find(|fabric| fabric.role == "main").or(base.job.fabrics.first());
    main.map_or("main", |fabric| &fabric.role)
}

fn refuse_unknown_roles(args: &ChartArgs, base: &ReadJob) -> Result<(), Failure> {
    let of_widths = args.width.iter().filter_map(|of| Some(("--width", of.role.as_ref()?)));
    let of_kinds = args.kind.iter().filter_map(|of| Some(("--kind", of.role.as_ref()?)));
    let of_cloths = args.search.fabrics.iter().map(|role| ("--fabric", role));
    for (option, role) in of_widths.chain(of_kinds).chain(of_cloths) {
        if base.job.fabric(role).is_none() {
            let known: Vec<&str> = base.job.fabrics.iter().map(|fabric| fabric.role.as_str()).collect();
            let what = format!("{option} names the cloth `{role}`; the job has {}", known.join(", "));
            return Err(refused(&args.job, &what));
        }
    }
    for of in &args.kind {
        let role = of.role.as_deref().unwrap_or(first_role(base));
        let design = base.job.fabric(role).and_then(|fabric| fabric.cloth.design.as_ref());
        if of.kinds.contains(&ClothKind::Design) && design.is_none() {
            return Err(refused(
                &args.job,
                &format!("--kind asks for a design, and the job's cloth \"{role}\" has none"),
            ));
        }
    }
    Ok(())
}

fn rows(args: &ChartArgs, base: &ReadJob, role: &str) -> Vec<(f64, ClothKind)> {
    let Some(fabric) = base.job.fabric(role) else { return Vec::new() };
    let is_of = |of: &Option<String>| of.as_deref().unwrap_or(first_role(base)) == role;
    let mut widths: Vec<f64> =
        args.width.iter().filter(|of| is_of(&of.role)).flat_map(|of| &of.widths).map(|width| width.mm()).collect();
    let mut kinds: Vec<ClothKind> =
        args.kind.iter().filter(|of| is_of(&of.role)).flat_map(|of| of.kinds.iter().copied()).collect();
    if widths.is_empty() {
        widths.push(fabric.cloth.width / (1.0 - fabric.shrinkage.across));
    }
    if kinds.is_empty() {
        kinds.push(match (&fabric.cloth.design, fabric.cloth.nap) {
            (Some(_), _) => ClothKind::Design,
            (None, Nap::With) => ClothKind::WithNap,
            (None, Nap::Without) => ClothKind::WithoutNap,
        });
    }
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    kinds.sort();
    kinds.dedup();
    // As envelopes have it: width by width, of each what takes most first.
    widths.iter().flat_map(|&width| kinds.iter().map(move |&kind| (width, kind))).collect()
}
