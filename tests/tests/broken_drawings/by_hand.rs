//! Drawings that are odd on purpose, one habit or one attack each.

use super::Odd;

fn svg(inside: &str) -> Vec<u8> {
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" width=\"400mm\" height=\"600mm\" \
         viewBox=\"0 0 400 600\">{inside}</svg>"
    )
    .into_bytes()
}

/// A DXF file of entities.
fn dxf(entities: &str, blocks: &str) -> Vec<u8> {
    format!("0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n")
        .into_bytes()
}

/// A PDF of one page with these marks, and further objects from number 5 on.
fn pdf(marks: &[u8], resources: &str, others: &[&str], stream_keys: &str) -> Vec<u8> {
    let mut out = b"%PDF-1.7\n".to_vec();
    let mut places = Vec::new();
    let mut object = |out: &mut Vec<u8>, body: &[u8]| {
        places.push(out.len());
        out.extend(format!("{} 0 obj\n", places.len()).bytes());
        out.extend(body);
        out.extend(b"\nendobj\n");
    };
    object(&mut out, b"<</Type/Catalog/Pages 2 0 R>>");
    object(&mut out, b"<</Type/Pages/Kids[3 0 R]/Count 1>>");
    let page = format!("<</Type/Page/Parent 2 0 R/MediaBox[0 0 1000 1000]/Contents 4 0 R/Resources<<{resources}>>>>");
    object(&mut out, page.as_bytes());
    let mut stream = format!("<</Length {}{stream_keys}>>\nstream\n", marks.len()).into_bytes();
    stream.extend(marks);
    stream.extend(b"\nendstream");
    object(&mut out, &stream);
    for other in others {
        object(&mut out, other.as_bytes());
    }
    let table = out.len();
    out.extend(format!("xref\n0 {}\n0000000000 65535 f \n", places.len() + 1).bytes());
    for place in &places {
        out.extend(format!("{place:010} 00000 n \n").bytes());
    }
    out.extend(format!("trailer<</Size {}/Root 1 0 R>>\nstartxref\n{table}\n%%EOF\n", places.len() + 1).bytes());
    out
}

/// Many points along an ellipse.
fn many_points(count: usize) -> Vec<(f64, f64)> {
    (0..count)
        .map(|k| {
            let turn = k as f64 / count as f64 * std::f64::consts::TAU;
            (500.0 + 400.0 * turn.cos(), 500.0 + 300.0 * turn.sin())
        })
        .collect()
}

pub(super) fn by_hand() -> Vec<Odd> {
    let mut odd = odd_svg();
    odd.extend(odd_dxf());
    odd.extend(odd_pdf());
    let plain: [(&str, &[u8]); 5] = [
        ("empty.svg", b""),
        ("a line of text.pdf", b"Cut two on the fold"),
        ("zeros.dxf", &[0; 5000]),
        ("only a heading.pdf", b"%PDF-1.7\n"),
        (
            "not UTF-8.svg",
            b"<svg xmlns=\"http://www.w3.org/2000/svg\"><text>\xff\xfe\xfa</text><path d=\"M0 0L90 0L90 90Z\"/></svg>",
        ),
    ];
    odd.extend(plain.map(|(name, bytes)| Odd { name: name.to_owned(), bytes: bytes.to_vec() }));
    odd
}

fn odd_svg() -> Vec<Odd> {
    let path = |points: &[(f64, f64)]| {
        let mut data = String::new();
        for (k, (x, y)) in points.iter().enumerate() {
            data += &format!("{}{x:.2} {y:.2}", if k == 0 { "M" } else { "L" });
        }
        format!("<path d=\"{data}Z\" fill=\"none\" stroke=\"black\"/>")
    };
    let box_at = |x: f64, y: f64, w: f64, h: f64| {
        format!("<rect x=\"{x}\" y=\"{y}\" width=\"{w}\" height=\"{h}\" fill=\"none\" stroke=\"black\"/>")
    };
    let mut uses = String::from("<g id=\"a0\"><path d=\"M0 0L9 0L9 9Z\"/></g>");
    for k in 0..30 {
        uses += &format!("<g id=\"a{}\"><use href=\"#a{k}\"/><use href=\"#a{k}\"/></g>", k + 1);
    }
    let entities = {
        let mut text = String::from("<?xml version=\"1.0\"?><!DOCTYPE svg [<!ENTITY a0 \"Front Front\">");
        for k in 0..12 {
            text += &format!("<!ENTITY a{} \"{}\">", k + 1, format!("&a{k};").repeat(10));
        }
        text + "]><svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\"><text>&a12;</text><path d=\"M0 0L9 0L9 9Z\"/></svg>"
    };
    let external = "<?xml version=\"1.0\"?><!DOCTYPE svg [<!ENTITY file SYSTEM \"file:///etc/hostname\">]>\
                    <svg xmlns=\"http://www.w3.org/2000/svg\" width=\"9mm\" height=\"9mm\"><text>&file;</text></svg>";
    let sizes = |counts: &[usize]| {
        let mut text = String::new();
        for (k, count) in counts.iter().enumerate() {
            text += &format!("<g id=\"size {}\">", 34 + 2 * k);
            for n in 0..*count {
                text += &box_at(
                    20.0 + 120.0 * n as f64 - k as f64,
                    20.0 - k as f64,
                    90.0 + 2.0 * k as f64,
                    200.0 + 2.0 * k as f64,
                );
            }
            text += "</g>";
        }
        text
    };
    let crossing = [(10.0, 10.0), (200.0, 300.0), (200.0, 10.0), (10.0, 300.0)];
    let texts: Vec<(&str, Vec<u8>)> = vec![
        ("nothing drawn.svg", svg("")),
        ("text only.svg", svg("<text x=\"9\" y=\"9\">Front, cut 2</text>")),
        ("a picture only.svg", svg("<image width=\"90\" height=\"90\" href=\"data:image/png;base64,iVBORw0KGgo=\"/>")),
        ("a picture elsewhere.svg", svg("<image width=\"90\" height=\"90\" href=\"../../secret.png\"/>")),
        ("use of itself.svg", svg("<g id=\"a\"><use href=\"#a\"/><path d=\"M0 0L90 0L90 90Z\"/></g>")),
        ("use in a ring.svg", svg("<g id=\"a\"><use href=\"#b\"/></g><g id=\"b\"><use href=\"#a\"/></g>")),
        ("use of another file.svg", svg("<use href=\"other.svg#a\"/>")),
        ("uses doubled thirty times.svg", svg(&uses)),
        ("entities doubled.svg", entities.into_bytes()),
        ("an entity of a file.svg", external.as_bytes().to_vec()),
        ("deep groups.svg", svg(&format!("{}<path d=\"M0 0L90 0L90 90Z\"/>{}", "<g>".repeat(20_000), "</g>".repeat(20_000)))),
        ("a million points.svg", svg(&path(&many_points(1_000_000)))),
        ("five thousand pieces.svg", svg(&(0..5_000).map(|k| box_at(f64::from(k % 100) * 30.0, f64::from(k / 100) * 30.0, 25.0, 25.0)).collect::<String>())),
        ("a thousand nested.svg", svg(&(0..1_000).map(|k| box_at(f64::from(k) * 0.1, f64::from(k) * 0.1, 390.0 - 0.2 * f64::from(k), 590.0 - 0.2 * f64::from(k))).collect::<String>())),
        ("one outline five hundred times.svg", svg(&box_at(10.0, 10.0, 100.0, 200.0).repeat(500))),
        ("short lines in a heap.svg", svg(&(0..20_000).map(|k| format!("<path d=\"M{} {}l{} 3\" stroke=\"black\"/>", k % 141, k / 141, k % 5)).collect::<String>())),
        ("lines from one point.svg", svg(&(0..3_000).map(|k| format!("<path d=\"M200 300L{} {}\" stroke=\"black\"/>", k % 397, k % 593)).collect::<String>())),
        ("crossing itself.svg", svg(&path(&crossing))),
        ("no length.svg", svg("<path d=\"M9 9L9 9L9 9Z\"/><line x1=\"3\" y1=\"3\" x2=\"3\" y2=\"3\" stroke=\"red\"/>")),
        ("edges of no length.svg", svg("<path d=\"M10 10L10 10L200 10L200 10L200 300L200 300C200 300 200 300 200 300L10 300Z\" stroke=\"black\"/>")),
        ("far away.svg", svg("<path d=\"M1e300 1e300L1e301 1e300L1e301 1e301Z\" stroke=\"black\"/>")),
        ("no numbers.svg", svg("<path d=\"MNaN infL9 9Lz\"/><rect x=\"inf\" y=\"NaN\" width=\"9\" height=\"9\"/>")),
        ("scaled to nothing.svg", svg(&format!("<g transform=\"scale(0)\">{}</g>", box_at(1.0, 1.0, 90.0, 90.0)))),
        ("scaled beyond all.svg", svg(&format!("<g transform=\"scale(1e200) scale(1e200)\">{}</g>", box_at(1.0, 1.0, 90.0, 90.0)))),
        ("a view box of nothing.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 0 0\" width=\"0\"><path d=\"M0 0L90 0L90 90Z\"/></svg>".to_vec()),
        ("arcs without radii.svg", svg("<path d=\"M10 10A0 0 0 0 1 90 90A1e-300 1e300 NaN 1 1 10 90Z\" stroke=\"black\"/>")),
        ("sizes of different counts.svg", svg(&sizes(&[3, 1, 2]))),
        ("a dash without end.svg", svg("<path d=\"M10 10L300 10L300 300Z\" stroke=\"black\" stroke-dasharray=\"0 0 0 1e-9\"/>")),
        ("a style without end.svg", svg(&format!("<style>{}</style><path class=\"a\" d=\"M0 0L90 0L90 90Z\"/>", "a{".repeat(5_000)))),
        ("text without end.svg", svg(&format!("<text>{}</text><path d=\"M0 0L90 0L90 90Z\"/>", "cut 2 ".repeat(100_000)))),
        ("packed in zeros.svg", vec![0x1f, 0x8b, 8, 0, 0, 0, 0, 0, 0, 3, 1, 2, 3, 4, 5]),
        ("tags not closed.svg", b"<svg xmlns=\"http://www.w3.org/2000/svg\"><g><path d=\"M0 0".to_vec()),
    ];
    texts.into_iter().map(|(name, bytes)| Odd { name: name.to_owned(), bytes }).collect()
}

fn odd_dxf() -> Vec<Odd> {
    let line =
        |a: (f64, f64), b: (f64, f64)| format!("0\nLINE\n8\n1\n10\n{}\n20\n{}\n11\n{}\n21\n{}\n", a.0, a.1, b.0, b.1);
    let polyline = |points: &[(f64, f64)]| {
        let mut text = format!("0\nLWPOLYLINE\n8\ncut\n90\n{}\n70\n1\n", points.len());
        for (x, y) in points {
            text += &format!("10\n{x:.3}\n20\n{y:.3}\n");
        }
        text
    };
    let insert = |name: &str| format!("0\nINSERT\n2\n{name}\n10\n0\n20\n0\n");
    let block = |name: &str, inside: &str| format!("0\nBLOCK\n2\n{name}\n10\n0\n20\n0\n{inside}0\nENDBLK\n");
    let square = [(0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0)];
    let mut doubling = block("B0", &line((0.0, 0.0), (9.0, 9.0)));
    for k in 0..40 {
        doubling +=
            &block(&format!("B{}", k + 1), &format!("{}{}", insert(&format!("B{k}")), insert(&format!("B{k}"))));
    }
    let spline = |degree: u32, knots: &str, points: u32| {
        let mut text = format!("0\nSPLINE\n8\ncut\n70\n8\n71\n{degree}\n72\n9\n73\n{points}\n");
        text += &knots.split(' ').map(|knot| format!("40\n{knot}\n")).collect::<String>();
        text + &(0..points).map(|k| format!("10\n{k}\n20\n{}\n", k * k)).collect::<String>()
    };
    let texts: Vec<(&str, Vec<u8>)> = vec![
        ("nothing drawn.dxf", dxf("", "")),
        ("text only.dxf", dxf("0\nTEXT\n8\n1\n10\n0\n20\n0\n40\n5\n1\nFront\n", "")),
        ("a block of itself.dxf", dxf(&insert("A"), &block("A", &insert("A")))),
        (
            "blocks in a ring.dxf",
            dxf(&insert("A"), &format!("{}{}", block("A", &insert("B")), block("B", &insert("A")))),
        ),
        ("blocks doubled forty times.dxf", dxf(&insert("B40"), &doubling)),
        ("a block that is not there.dxf", dxf(&insert("NONE"), "")),
        (
            "an array without end.dxf",
            dxf("0\nINSERT\n2\nA\n10\n0\n20\n0\n70\n30000\n71\n30000\n44\n1\n45\n1\n", &block("A", &polyline(&square))),
        ),
        ("two hundred thousand points.dxf", dxf(&polyline(&many_points(200_000)), "")),
        ("a count that lies.dxf", dxf("0\nLWPOLYLINE\n8\ncut\n90\n2000000000\n70\n1\n10\n0\n20\n0\n", "")),
        ("far away.dxf", dxf(&polyline(&[(1e300, 1e300), (-1e300, 1e300), (0.0, -1e300)]), "")),
        ("no numbers.dxf", dxf("0\nLINE\n8\n1\n10\nNaN\n20\ninf\n11\n-inf\n21\n1e999\n", "")),
        ("crossing itself.dxf", dxf(&polyline(&[(0.0, 0.0), (300.0, 300.0), (300.0, 0.0), (0.0, 300.0)]), "")),
        ("no length.dxf", dxf(&line((5.0, 5.0), (5.0, 5.0)).repeat(50), "")),
        (
            "bulges without end.dxf",
            dxf(
                "0\nLWPOLYLINE\n8\ncut\n70\n1\n10\n0\n20\n0\n42\n1e300\n10\n9\n20\n9\n42\nNaN\n10\n90\n20\n9\n42\n-1e-300\n",
                "",
            ),
        ),
        ("a spline of degree 0.dxf", dxf(&spline(0, "0 0 1 1", 4), "")),
        ("a spline of degree 90.dxf", dxf(&spline(90, "0 0 1 1", 4), "")),
        ("a spline with equal knots.dxf", dxf(&spline(3, "0 0 0 0 0 0 0 0", 4), "")),
        ("a spline with knots backwards.dxf", dxf(&spline(3, "9 8 7 6 5 4 3 2", 4), "")),
        (
            "a circle of no radius.dxf",
            dxf("0\nCIRCLE\n8\ncut\n10\n0\n20\n0\n40\n0\n0\nCIRCLE\n8\ncut\n10\n0\n20\n0\n40\n-5\n", ""),
        ),
        (
            "an ellipse without axes.dxf",
            dxf("0\nELLIPSE\n8\ncut\n10\n0\n20\n0\n11\n0\n21\n0\n40\n0\n41\n0\n42\n1e9\n", ""),
        ),
        ("vertices without a polyline.dxf", dxf("0\nVERTEX\n8\n1\n10\n0\n20\n0\n0\nSEQEND\n", "")),
        (
            "lines from one point.dxf",
            dxf(&(0..3_000).map(|k| line((0.0, 0.0), (f64::from(k), f64::from(k * k % 997)))).collect::<String>(), ""),
        ),
        ("codes that are no numbers.dxf", b"0\nSECTION\n2\nENTITIES\nzero\nLINE\n".to_vec()),
        ("cut off within a pair.dxf", b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n".to_vec()),
        ("a binary heading.dxf", b"AutoCAD Binary DXF\r\n\x1a\x00\x00\x00\x01".to_vec()),
    ];
    texts.into_iter().map(|(name, bytes)| Odd { name: name.to_owned(), bytes }).collect()
}

fn odd_pdf() -> Vec<Odd> {
    let form = |inside: &str, resources: &str| {
        format!(
            "<</Type/XObject/Subtype/Form/BBox[0 0 999 999]/Resources<<{resources}>>/Length {}>>\nstream\n{inside}\nendstream",
            inside.len()
        )
    };
    let piece = "10 10 m 300 10 l 300 500 l 10 500 l h S\n";
    let mut million = String::new();
    for (k, (x, y)) in many_points(1_000_000).into_iter().enumerate() {
        million += &format!("{x:.1} {y:.1} {}\n", if k == 0 { "m" } else { "l" });
    }
    million += "h S\n";
    let mut doubling: Vec<String> = vec![form(piece, "")];
    for k in 0..30 {
        doubling.push(form("/F Do /F Do", &format!("/XObject<</F {} 0 R>>", 5 + k)));
    }
    let doubling: Vec<&str> = doubling.iter().map(String::as_str).collect();
    let last = format!("/XObject<</F {} 0 R>>", 4 + doubling.len());
    // Zeros of 64 MiB, packed by runs: each byte pair stands for 128.
    let runs = [129u8, 0].repeat(600_000);
    let picture = "<</Type/XObject/Subtype/Image/Width 1/Height 1/BitsPerComponent 8/ColorSpace/DeviceGray/Length 1>>\nstream\nx\nendstream";
    let mut locked = pdf(piece.as_bytes(), "", &[], "");
    let at = locked.windows(7).position(|part| part == b"trailer").expect("a trailer") + 9;
    let keys = b"/Encrypt<</Filter/Standard/V 2/R 3/Length 128/P -4/O(0123456789012345678901234567890a)/U(0123456789012345678901234567890b)>>/ID[(a)(b)]";
    locked.splice(at..at, keys.iter().copied());
    let texts: Vec<(&str, Vec<u8>)> = vec![
        ("a plain piece.pdf", pdf(piece.as_bytes(), "", &[], "")),
        ("nothing drawn.pdf", pdf(b"", "", &[], "")),
        (
            "text only.pdf",
            pdf(
                b"BT /F 12 Tf 9 9 Td (Front) Tj ET",
                "/Font<</F<</Type/Font/Subtype/Type1/BaseFont/Helvetica>>>>",
                &[],
                "",
            ),
        ),
        ("a picture only.pdf", pdf(b"/I Do", "/XObject<</I 5 0 R>>", &[picture], "")),
        ("locked.pdf", locked),
        ("a form of itself.pdf", pdf(b"/F Do", "/XObject<</F 5 0 R>>", &[&form("/F Do", "/XObject<</F 5 0 R>>")], "")),
        ("forms doubled thirty times.pdf", pdf(b"/F Do", &last, &doubling, "")),
        ("a million points.pdf", pdf(million.as_bytes(), "", &[], "")),
        ("packed runs.pdf", pdf(&runs, "", &[], "/Filter/RunLengthDecode")),
        ("packed forty times over.pdf", pdf(&runs, "", &[], &format!("/Filter[{}]", "/RunLengthDecode".repeat(40)))),
        ("a filter unknown.pdf", pdf(piece.as_bytes(), "", &[], "/Filter/Unknown")),
        ("packed badly.pdf", pdf(b"\x78\x9c\x00\x01\x02\x03\x04", "", &[], "/Filter/FlateDecode")),
        ("states kept without end.pdf", pdf(&b"q ".repeat(200_000), "", &[], "")),
        ("states given back without end.pdf", pdf(&b"Q ".repeat(200_000), "", &[], "")),
        ("brackets without end.pdf", pdf(&b"[".repeat(200_000), "", &[], "")),
        ("tables without end.pdf", pdf(&b"<<".repeat(200_000), "", &[], "")),
        ("far away.pdf", pdf(b"1e38 0 0 1e38 0 0 cm 1e38 0 0 1e38 0 0 cm 1 1 m 9e37 1 l 5 9e37 l h S", "", &[], "")),
        ("crossing itself.pdf", pdf(b"0 0 m 300 300 l 300 0 l 0 300 l h S", "", &[], "")),
        ("lines without a start.pdf", pdf(b"9 9 l 20 20 l h S 1 2 3 4 5 6 c S re S", "", &[], "")),
        ("no length.pdf", pdf(b"9 9 m 9 9 l 9 9 l h S", "", &[], "")),
        ("dashes of nothing.pdf", pdf(b"[0 0] 0 d 10 10 m 300 10 l 300 300 l h S", "", &[], "")),
        (
            "a font of itself.pdf",
            pdf(
                b"BT /F 12 Tf (a) Tj ET 10 10 m 300 10 l 300 300 l h S",
                "/Font<</F 5 0 R>>",
                &[
                    "<</Type/Font/Subtype/Type3/FontBBox[0 0 9 9]/FontMatrix[1 0 0 1 0 0]/FirstChar 97/LastChar 97/Widths[9]/Encoding<</Differences[97/a]>>/CharProcs<</a 6 0 R>>/Resources<</Font<</F 5 0 R>>>>>>",
                    "<</Length 27>>\nstream\nBT /F 12 Tf (aaaa) Tj ET    \nendstream",
                ],
                "",
            ),
        ),
        (
            "a page tree of itself.pdf",
            String::from_utf8(pdf(piece.as_bytes(), "", &[], ""))
                .expect("text")
                .replace("/Kids[3 0 R]", "/Kids[2 0 R]")
                .into_bytes(),
        ),
        (
            "pages without end.pdf",
            String::from_utf8(pdf(piece.as_bytes(), "", &[], ""))
                .expect("text")
                .replace("/Kids[3 0 R]/Count 1", &format!("/Kids[{}]/Count 99999", "3 0 R ".repeat(99_999)))
                .into_bytes(),
        ),
        (
            "a page of no size.pdf",
            String::from_utf8(pdf(piece.as_bytes(), "", &[], ""))
                .expect("text")
                .replace("[0 0 1000 1000]", "[0 0 0 0]")
                .into_bytes(),
        ),
        (
            "a page of all sizes.pdf",
            String::from_utf8(pdf(piece.as_bytes(), "", &[], ""))
                .expect("text")
                .replace("[0 0 1000 1000]", "[-1e38 NaN 1e38 1e38]")
                .into_bytes(),
        ),
    ];
    texts.into_iter().map(|(name, bytes)| Odd { name: name.to_owned(), bytes }).collect()
}
