//! What is found in small drawings, one habit each.

use ellwand_trace::{CutNotches, Hints, LineKind, Remark, Role, Scale, Understood, understand};
use ellwand_vector::{Format, Limits};

fn read(inside: &str, hints: &Hints) -> Understood {
    let svg = format!(
        r#"<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="500mm" viewBox="0 0 700 500" fill="none" stroke="black">{inside}</svg>"#
    );
    let drawing = ellwand_vector::read(svg.as_bytes(), &Limits::default()).unwrap();
    understand(&drawing, Format::Svg, hints)
}

fn understood(inside: &str) -> Understood {
    read(inside, &Hints::default())
}

const PANEL: &str = r#"<path d="M100 50H300V400H100Z"/><path d="M200 100V350M196 108L200 100L204 108"/>"#;

#[test]
fn an_outline_of_many_strokes_is_one_piece() {
    let sides = r#"<path d="M100 50H300"/><path d="M300 400V50"/><path d="M100 400H300"/><path d="M100 50.1V400"/>
        <path d="M200 100V350M196 108L200 100L204 108"/>"#;
    let found = understood(sides);
    assert_eq!(found.pieces.len(), 1);
    assert!(found.pieces[0].is_sure && found.pieces[0].drawn[0].sides.len() == 4);
    let [low, high] = found.pieces[0].drawn[0].grainline.unwrap();
    assert!((low.y - 150.0).abs() < 1e-9 && (high.y - 400.0).abs() < 1e-9);
}

#[test]
fn a_gap_for_a_label_is_closed_and_told() {
    let found = understood(
        r#"<path d="M100 200V50H300V400H100V230"/><text x="96" y="220" font-size="10">38</text><path d="M200 100V350M196 108L200 100L204 108"/>"#,
    );
    assert_eq!(found.pieces.len(), 1);
    assert!(
        found.pieces[0]
            .remarks
            .iter()
            .any(|remark| matches!(remark, Remark::Bridged { gap, .. } if (gap - 30.0).abs() < 1e-9))
    );
}

#[test]
fn nested_outlines_of_one_look_are_sizes_by_their_order() {
    let nested: String =
        (0..4).map(|k| format!(r#"<path d="M100 50H{}V{}H100Z"/>"#, 300 + 12 * k, 400 + 8 * k)).collect::<String>()
            + r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel</text>"#;
    let found = understood(&nested);
    assert_eq!((found.pieces.len(), found.sizes.len()), (1, 4));
    assert!(found.sizes.iter().all(|size| size.is_guess));
    let widths: Vec<f64> = found.pieces[0].drawn.iter().map(|drawn| drawn.sides[0].length()).collect();
    assert!(widths.windows(2).all(|pair| pair[0] < pair[1]), "{widths:?}");
}

#[test]
fn two_parallel_outlines_are_cutting_line_and_seam_line() {
    let both = r#"<path d="M100 50H300V400H100Z"/><path stroke-dasharray="4 2" d="M115 65H285V360H115Z"/><path d="M200 100V350M196 108L200 100L204 108"/>"#;
    let found = understood(both);
    let LineKind::Both { depths, off, .. } = &found.pieces[0].drawn[0].kind else { panic!("{:?}", found.pieces) };
    let mut sorted = depths.clone();
    sorted.sort_by(f64::total_cmp);
    assert_eq!(sorted, [15.0, 15.0, 15.0, 40.0]);
    assert!(*off < 1e-6);
}

#[test]
fn a_bracket_says_which_side_lies_on_the_fold() {
    let found = understood(&format!(r#"{PANEL}<path d="M102 120H115V330H102"/>"#));
    let drawn = &found.pieces[0].drawn[0];
    let fold = &drawn.sides[drawn.fold.expect("a fold")];
    assert!((fold.start.x - 100.0).abs() < 1e-9 && (fold.end().x - 100.0).abs() < 1e-9);
}

#[test]
fn words_alone_make_the_fold_a_guess() {
    let found = understood(&format!(r#"{PANEL}<text x="140" y="220" font-size="9">Front, cut 1 on fold</text>"#));
    assert_eq!(found.pieces[0].names, ["Front"]);
    assert!(found.pieces[0].remarks.iter().any(|remark| matches!(remark, Remark::FoldBySide { .. })));
}

#[test]
fn frame_square_and_boxes_are_no_pieces() {
    let found = read(
        &format!(
            r#"<path d="M10 10H690V490H10Z"/>{PANEL}<path d="M400 50h99.2v99.2h-99.2z"/><text x="410" y="100" font-size="8">test square 10 cm</text>"#
        ),
        &Hints { scale: Scale::BySquare, ..Hints::default() },
    );
    assert_eq!(found.pieces.len(), 1);
    assert!((found.scaled - 100.0 / 99.2).abs() < 1e-9);
    assert!(found.remarks.iter().any(|remark| matches!(remark, Remark::Rescaled { .. })));
}

#[test]
fn hints_say_what_layers_are() {
    let layers =
        r#"<g id="Layer 7"><path d="M100 50H300V400H100Z"/></g><g id="stuff"><path d="M400 50H600V400H400Z"/></g>"#;
    assert_eq!(understood(layers).pieces.len(), 2);
    let roles = vec![("Layer 7".to_owned(), Role::Seam), ("stuff".to_owned(), Role::Ignored)];
    let found = read(layers, &Hints { roles, ..Hints::default() });
    assert_eq!(found.pieces.len(), 1);
    assert_eq!(found.pieces[0].drawn[0].kind, LineKind::Seam);
}

#[test]
fn a_dart_in_the_outline_is_found_with_its_legs() {
    let found = understood(
        r#"<path d="M100 50H190L200 170L210 50H300V400H100Z"/><path d="M150 100V350M146 108L150 100L154 108"/>"#,
    );
    let darts = &found.pieces[0].drawn[0].darts;
    assert_eq!(darts.len(), 1);
    assert!((darts[0].tip.y - 330.0).abs() < 1e-9);
}

#[test]
fn notches_of_every_shape_lie_on_the_edge() {
    let found = understood(&format!(
        r#"{PANEL}<path d="M300 150h-6"/><path d="M300 200l-5 -3v6z"/><path d="M300 250l4 4l-4 4l-4 -4z"/><path d="M100 300l6 3l-6 3"/>"#
    ));
    let notches = &found.pieces[0].drawn[0].notches;
    assert_eq!(notches.len(), 4, "{notches:?}");
    assert!(notches.iter().all(|at| (at.x - 100.0).abs() < 1e-6 || (at.x - 300.0).abs() < 1e-6));
}

#[test]
fn the_same_drawing_gives_the_same_answer() {
    assert_eq!(understood(PANEL), understood(PANEL));
}

#[test]
fn an_outline_of_one_curve_is_a_piece_of_two() {
    let found = understood(
        r#"<path d="M300 400C100 50 500 50 300 400Z"/><text x="280" y="250" font-size="12">Tear, cut 2</text>"#,
    );
    let runs: usize = found.pieces[0].drawn[0].sides.iter().map(|side| side.runs.len()).sum();
    assert_eq!(runs, 2);
}

#[test]
fn round_pieces_in_two_sizes_have_no_corners_and_agree() {
    let circle = |id: &str, r: u32| format!(r#"<g id="{id}"><circle cx="300" cy="250" r="{r}"/></g>"#);
    let found = understood(
        &(circle("34", 100) + &circle("36", 110) + r#"<text x="280" y="250" font-size="12">Disc, cut 1</text>"#),
    );
    assert_eq!(found.sizes.len(), 2);
    assert!(!found.pieces[0].remarks.contains(&Remark::CornersDiffer));
}

#[test]
fn a_line_to_fold_along_is_no_edge_on_the_fold() {
    let band = r#"<path d="M50 100H650V180H50Z"/><g id="fold line"><path d="M50 140H650"/></g><text x="200" y="130" font-size="9">Band, cut 1</text>"#;
    assert_eq!(understood(band).pieces[0].drawn[0].fold, None);
}

#[test]
fn a_cutout_is_no_seam_line() {
    let ring =
        r#"<g id="cut"><path d="M100 50H500V450H100Z"/></g><g id="cutout"><path d="M200 150H450V350H200Z"/></g>"#;
    assert_eq!(understood(ring).pieces[0].drawn[0].kind, LineKind::Cutting);
}

#[test]
fn a_square_patch_is_no_test_square() {
    let patch = r#"<path d="M100 100H215V215H100Z"/><text x="110" y="150" font-size="9">Patch, 10 cm square</text><text x="110" y="170" font-size="9">cut 4</text>"#;
    let found = read(patch, &Hints { scale: Scale::BySquare, ..Hints::default() });
    assert!((found.scaled - 1.0).abs() < 1e-12 && found.pieces.len() == 1);
}

#[test]
fn sizes_that_shift_as_they_grow_are_one_piece() {
    // A neck facing: every size lies across the one before.
    let facing = |k: u32, colour: &str| {
        let by = f64::from(k) * 6.0;
        format!(
            r#"<path stroke="{colour}" d="M{0} {1}C{2} {3} {4} {3} {5} {1}L{6} {7}C{8} {9} {10} {9} {11} {7}Z"/>"#,
            200.0 - by,
            300.0 - by,
            230.0 - by,
            380.0 - by,
            370.0 + by,
            400.0 + by,
            345.0 + by,
            300.0 - by,
            330.0 + by,
            330.0 - by,
            270.0 - by,
            255.0 - by
        )
    };
    let found = understood(
        &(facing(0, "black")
            + &facing(1, "blue")
            + &facing(2, "red")
            + r#"<text x="290" y="350" font-size="6">Facing, cut 1</text>"#),
    );
    assert_eq!((found.pieces.len(), found.sizes.len()), (1, 3));
}

#[test]
fn notches_cut_into_the_outline_are_notches_and_no_corners() {
    let cut_in = r#"<path d="M100 50H197L200 55L203 50H300V147L295 150L300 153V400H100V253H106V247H100Z"/><path d="M200 100V350M196 108L200 100L204 108"/>"#;
    let found = understood(cut_in);
    let drawn = &found.pieces[0].drawn[0];
    assert_eq!(drawn.sides.len(), 4);
    let mut notches: Vec<(f64, f64)> = drawn.notches.iter().map(|at| (at.x, at.y)).collect();
    notches.sort_by(|a, b| a.partial_cmp(b).unwrap());
    assert_eq!(notches, [(100.0, 250.0), (200.0, 450.0), (300.0, 350.0)]);
    assert!(found.pieces[0].remarks.contains(&Remark::CutNotches { count: 3 }));
    let kept = read(cut_in, &Hints { cut_notches: CutNotches::AsDrawn, ..Hints::default() });
    assert!(kept.pieces[0].drawn[0].sides.len() > 4 && kept.pieces[0].drawn[0].notches.is_empty());
    assert!(!kept.pieces[0].remarks.iter().any(|remark| matches!(remark, Remark::CutNotches { .. })));
}

#[test]
fn notches_cut_into_the_cutting_line_lie_on_the_seam_line() {
    let both = r#"<path d="M100 50H300V197L294 200L300 203V400H100Z"/><path stroke-dasharray="4 2" d="M115 65H285V360H115Z"/><path d="M200 100V350M196 108L200 100L204 108"/>"#;
    let found = understood(both);
    let drawn = &found.pieces[0].drawn[0];
    assert_eq!(drawn.notches.len(), 1);
    assert!((drawn.notches[0].x - 285.0).abs() < 1e-9 && (drawn.notches[0].y - 300.0).abs() < 1e-9);
    let LineKind::Both { off, .. } = &drawn.kind else { panic!("{:?}", drawn.kind) };
    assert!(*off < 1e-6);
}

/// Three sizes of a panel, each 5 mm wider and 8 mm longer than the one before, with the lower left corner in common.
fn nest(look: impl Fn(u32) -> String, inside: &str) -> String {
    let sizes: String =
        (0..3).map(|k| format!(r#"<path {} d="M100 400H{}V{}H100Z"/>"#, look(k), 300 + 5 * k, 50 - 8 * k)).collect();
    sizes
        + r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel, cut 2</text>"#
        + inside
}

fn heights(found: &Understood) -> Vec<Vec<f64>> {
    let drawn = found.pieces[0].drawn.iter();
    drawn
        .map(|drawn| {
            let mut heights: Vec<f64> = drawn.notches.iter().map(|at| at.y).collect();
            heights.sort_by(f64::total_cmp);
            heights
        })
        .collect()
}

const COLOURS: [&str; 3] = ["black", "blue", "red"];

#[test]
fn ticks_of_one_look_belong_to_the_size_they_stand_on() {
    // Each size has a tick at its right edge and one at its left edge, 8 mm long: those of larger sizes cross the smaller ones.
    let ticks: String = (0..3)
        .map(|k| format!(r#"<path d="M{} {}h-8"/><path d="M100 {}h8"/>"#, 300 + 5 * k, 220 - 4 * k, 260 - 3 * k))
        .collect();
    for look in [
        (|k| format!(r#"stroke="{}""#, COLOURS[k as usize])) as fn(u32) -> String,
        |_| String::new(),
        |k| format!(r#"id="size {}""#, 34 + 2 * k),
    ] {
        let found = understood(&nest(look, &ticks.replace("M100 260", "M100 260.001")));
        assert_eq!(found.pieces.len(), 1);
        // The left edges lie on each other: every tick there is one of all sizes.
        let expected: Vec<Vec<f64>> = (0..3).map(|k| vec![239.999, 243.0, 246.0, 280.0 + 4.0 * f64::from(k)]).collect();
        for (own, expected) in heights(&found).iter().zip(&expected) {
            assert_eq!(own.len(), 4, "{own:?}");
            assert!(own.iter().zip(expected).all(|(a, b)| (a - b).abs() < 0.01), "{own:?}");
        }
        assert!(!found.pieces[0].remarks.iter().any(|remark| matches!(remark, Remark::MarksDiffer { .. })));
    }
}

#[test]
fn triangles_of_one_look_belong_to_the_size_they_stand_on() {
    let triangles: String =
        (0..3).map(|k| format!(r#"<path d="M{0} {1}l-7 3l7 3z"/>"#, 300 + 5 * k, 220 - 4 * k)).collect();
    let found = understood(&nest(|k| format!(r#"stroke="{}""#, COLOURS[k as usize]), &triangles));
    let heights = heights(&found);
    for (k, own) in heights.iter().enumerate() {
        assert_eq!(own.len(), 1, "{heights:?}");
        assert!((own[0] - (277.0 + 4.0 * k as f64)).abs() < 0.01, "{heights:?}");
    }
}

#[test]
fn a_tick_across_the_nest_counts_for_every_size_that_it_crosses() {
    let across = r#"<path d="M313 220H296"/><path d="M310 300H300"/><path d="M200 30V54"/>"#;
    let found = understood(&nest(|k| format!(r#"stroke="{}""#, COLOURS[k as usize]), across));
    let heights = heights(&found);
    for (k, own) in heights.iter().enumerate() {
        let top = 450.0 + 8.0 * k as f64;
        assert_eq!(own.len(), 3, "{heights:?}");
        assert!([200.0, 280.0, top].iter().zip(own).all(|(a, b)| (a - b).abs() < 0.01), "{heights:?}");
    }
}

#[test]
fn ticks_in_the_looks_of_sizes_go_by_their_looks() {
    let ticks: String = (0..3)
        .map(|k| format!(r#"<path stroke="{}" d="M{} {}h-8"/>"#, COLOURS[k as usize], 300 + 5 * k, 220 - 4 * k))
        .collect();
    let found = understood(&nest(|k| format!(r#"stroke="{}""#, COLOURS[k as usize]), &ticks));
    let expected: Vec<Vec<f64>> = (0..3).map(|k| vec![280.0 + 4.0 * f64::from(k)]).collect();
    assert_eq!(heights(&found), expected);
}

#[test]
fn lines_drawn_once_for_all_sizes_leave_the_pieces_there() {
    let one_stroke = |k: u32| format!(r#"d="M100 400H{}V{}H100Z""#, 300 + 5 * k, 50 - 8 * k);
    let in_strokes = |k: u32| {
        let (right, top) = (300 + 5 * k, 50 - 8 * k);
        (
            format!("M100 400H{right}"),
            format!("M{right} 400V{top}"),
            format!("M{right} {top}H100"),
            format!("M100 {top}V400"),
        )
    };
    let hems = [
        // Across the outlines, ending on the largest, ending beyond it, from corner to corner, along the edge in common.
        "M100 380H310",
        "M100 380H300",
        "M95 380H330",
        "M100 400L310 34",
        "M100 34V420",
        "M100 300L310 400",
        "M100 400H330",
        "M300 400V20",
    ];
    for hem in hems {
        for coloured in [true, false] {
            let look = |k: u32| if coloured { format!(r#"stroke="{}""#, COLOURS[k as usize]) } else { String::new() };
            let whole: String = (0..3).map(|k| format!("<path {} {}/>", look(k), one_stroke(k))).collect();
            let parts: String = (0..3)
                .map(|k| {
                    let (a, b, c, d) = in_strokes(k);
                    [a, b, c, d].iter().map(|d| format!(r#"<path {} d="{d}"/>"#, look(k))).collect::<String>()
                })
                .collect();
            for (way, outlines) in [("whole", whole), ("parts", parts)] {
                let found = understood(&format!(
                    r#"{outlines}<path d="{hem}"/><path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel, cut 2</text>"#
                ));
                let sizes: Vec<usize> = found.pieces.iter().map(|piece| piece.drawn.len()).collect();
                assert_eq!((sizes, found.sizes.len()), (vec![3], 3), "{hem} {way}");
            }
        }
    }
}

#[test]
fn an_edge_in_common_is_drawn_once_for_all_sizes() {
    let inside =
        r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel, cut 2</text>"#;
    let areas = |found: &Understood| -> Vec<f64> {
        let drawn = found.pieces[0].drawn.iter();
        drawn
            .map(|drawn| {
                drawn.sides.iter().map(|side| side.start.x * side.end().y - side.end().x * side.start.y).sum::<f64>()
                    / 2.0
            })
            .collect()
    };
    let expected: Vec<f64> = (0..3).map(|k| f64::from((200 + 5 * k) * (350 + 8 * k))).collect();
    for coloured in [true, false] {
        let size = |k: u32, path: String| {
            let colour = if coloured { COLOURS[k as usize] } else { "black" };
            format!(r#"<path stroke="{colour}" d="{path}"/>"#)
        };
        // The fold alone, and the fold with the hem; drawn as far as the largest size, and beyond it.
        let fold: String = (0..3).map(|k| size(k, format!("M100 400H{}V{}H100", 300 + 5 * k, 50 - 8 * k))).collect();
        let both: String = (0..3).map(|k| size(k, format!("M{} 400V{}H100", 300 + 5 * k, 50 - 8 * k))).collect();
        for (outlines, edge) in
            [(&fold, "M100 400V34"), (&fold, "M100 410V20"), (&both, "M310 400H100V34"), (&both, "M330 400H100V20")]
        {
            let found = understood(
                &format!(r#"{outlines}<path stroke="grey" d="{edge}"/>{inside}"#)
                    .replace("grey", if coloured { "grey" } else { "black" }),
            );
            assert_eq!((found.pieces.len(), found.sizes.len()), (1, 3), "{edge} coloured: {coloured}");
            let areas = areas(&found);
            assert!(areas.iter().zip(&expected).all(|(a, b)| (a - b).abs() < 1e-6), "{edge}: {areas:?}");
            assert!(found.pieces[0].remarks.iter().any(|remark| matches!(remark.plain(), Remark::SharedEdge { .. })));
        }
    }
}

#[test]
fn one_line_without_a_size_takes_no_name_from_the_others() {
    let sized = |name: &str, k: usize| {
        let outline = format!(r#"<path d="M100 50H{}V{}H100Z"/>"#, 300 + 12 * k, 400 + 8 * k);
        if name.is_empty() { outline } else { format!(r#"<g id="size {name}">{outline}</g>"#) }
    };
    let grain = r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel</text>"#;
    let found = understood(&format!("{}{}{}{}{grain}", sized("34", 0), sized("36", 1), sized("", 2), sized("40", 3)));
    let names: Vec<&str> = found.sizes.iter().map(|size| size.name.name.as_str()).collect();
    assert_eq!(names, ["34", "36", "40"]);
    assert!(found.pieces[0].remarks.contains(&Remark::NoSizeName { count: 1 }), "{:?}", found.pieces[0].remarks);
    assert!(found.ignored.iter().any(|ignored| ignored.why.contains("no size is named")), "{:?}", found.ignored);
}

#[test]
fn what_is_so_in_one_size_names_it() {
    let sized = |name: &str, k: usize, notch: &str| {
        let outline = format!(r#"<path d="M100 50H{}V{}H100Z"/>"#, 300 + 12 * k, 400 + 8 * k);
        format!(r#"<g id="size {name}">{outline}{notch}</g>"#)
    };
    let grain = r#"<path d="M200 100V350M196 108L200 100L204 108"/><text x="150" y="200" font-size="12">Panel</text>"#;
    let notch = r#"<path d="M200 50V56"/>"#;
    let found = understood(&format!("{}{}{grain}", sized("34", 0, notch), sized("36", 1, "")));
    let told = found.pieces[0].remarks.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ");
    assert!(told.contains("different numbers of notches (1 in 34, 0 in 36), so none were taken"), "{told}");
    assert!(found.pieces[0].drawn.iter().all(|drawn| drawn.notches.is_empty()));

    let gap = r#"<g id="size 38"><path d="M100 200V50H340V420H100V230"/></g>"#;
    let found = understood(&format!("{}{}{gap}{grain}", sized("34", 0, ""), sized("36", 1, "")));
    let bridged = found.pieces[0].remarks.iter().find(|remark| matches!(remark.plain(), Remark::Bridged { .. }));
    assert!(matches!(bridged, Some(Remark::InSize { size, .. }) if size == "38"), "{:?}", found.pieces[0].remarks);
}

#[test]
fn boxes_of_words_and_empty_test_squares_are_no_pieces() {
    let title = r#"<path d="M400 50H600V120H400Z"/><text x="410" y="70" font-size="8">Garden apron</text>
        <text x="410" y="85" font-size="8">Seam allowance 1.5 cm included</text>"#;
    let square = r#"<path d="M400 200H450V250H400Z"/>"#;
    let found = understood(&format!("{PANEL}{title}{square}"));
    assert_eq!(found.pieces.len(), 1, "{:?}", found.pieces.iter().map(|piece| &piece.texts).collect::<Vec<_>>());
    let left_out: Vec<&str> = found.ignored.iter().map(|ignored| ignored.what.as_str()).collect();
    assert!(left_out.contains(&"1 box of words") && left_out.contains(&"1 empty square"), "{left_out:?}");
    assert!(found.words.iter().any(|words| words.contains("1.5 cm included")), "{:?}", found.words);

    // A pocket, a waistband, and a square that says how it is cut.
    let pieces = r#"<path d="M400 50H600V120H400Z"/><text x="410" y="70" font-size="8">Waistband</text>
        <path d="M400 200H500V300H400Z"/><text x="410" y="250" font-size="8">Cut 2</text>
        <path d="M400 350H520V470H400Z"/>"#;
    assert_eq!(understood(&format!("{PANEL}{pieces}")).pieces.len(), 4);
}

#[test]
fn a_point_is_in_a_piece_or_it_is_not() {
    let found =
        understood(r#"<path d="M100 50H300V400H200V200H100Z"/><path d="M250 100V350M246 108L250 100L254 108"/>"#);
    let piece = &found.pieces[0];
    // Points of the table: y runs up from the lower border, 500 mm below the upper one.
    for (x, y, inside) in [(250.0, 200.0, true), (150.0, 400.0, true), (150.0, 200.0, false), (320.0, 200.0, false)] {
        assert_eq!(piece.holds(ellwand_geometry::point(x, y)), inside, "{x} {y}");
    }
    assert!((piece.area() - 50_000.0).abs() < 1.0, "{}", piece.area());
}
