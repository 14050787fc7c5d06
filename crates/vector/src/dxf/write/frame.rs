//! Header, tables and objects: what a DXF file has around its entities.

use super::names::Names;
use super::pairs::{Out, Release};
use crate::Drawing;

/// Handles of the records that others name.
pub(super) mod handles {
    pub(crate) const BLOCK_RECORDS: u64 = 0x1;
    pub(crate) const LAYERS: u64 = 0x2;
    pub(crate) const LINE_TYPES: u64 = 0x5;
    pub(crate) const STYLES: u64 = 0x3;
    pub(crate) const VIEWS: u64 = 0x6;
    pub(crate) const COORDINATES: u64 = 0x7;
    pub(crate) const VIEW_PORTS: u64 = 0x8;
    pub(crate) const APPLICATIONS: u64 = 0x9;
    pub(crate) const DIMENSION_STYLES: u64 = 0xA;
    pub(crate) const ROOT: u64 = 0xC;
    pub(crate) const GROUPS: u64 = 0xD;
    pub(crate) const MODEL: u64 = 0x1F;
    pub(crate) const PAPER: u64 = 0x1B;
}

/// A block with the handle of its record.
pub(super) struct Record {
    pub(super) name: String,
    pub(super) handle: u64,
}

pub(super) fn header(out: &mut Out) {
    let is_new = out.release == Release::Of2004;
    let next = out.free_handle();
    out.section("HEADER", |out| {
        let mut variable = |name: &str, code: u16, value: &str| {
            out.pair(9, name);
            out.pair(code, value);
        };
        variable("$ACADVER", 1, if is_new { "AC1018" } else { "AC1009" });
        if is_new {
            variable("$DWGCODEPAGE", 3, "ANSI_1252");
            variable("$HANDSEED", 5, &format!("{next:X}"));
        }
        variable("$INSUNITS", 70, "4");
        variable("$MEASUREMENT", 70, "1");
        variable("$LTSCALE", 40, "1.0");
    });
}

fn table(out: &mut Out, name: &str, handle: u64, count: usize, inside: impl FnOnce(&mut Out)) {
    out.pair(0, "TABLE");
    out.pair(2, name);
    if out.release == Release::Of2004 {
        out.handle_of(5, handle);
        out.handle_of(330, 0);
        out.class("AcDbSymbolTable");
    }
    out.whole(70, count as i64);
    if name == "DIMSTYLE" {
        out.class("AcDbDimStyleTable");
    }
    inside(out);
    out.pair(0, "ENDTAB");
}

/// An entry of a table up to its flags.
fn entry(out: &mut Out, kind: &str, class: &str, table: u64, handle: Option<u64>, name: &str) {
    out.begin(kind, handle, table);
    out.class("AcDbSymbolTableRecord");
    out.class(class);
    out.pair(2, name);
    if kind != "BLOCK_RECORD" {
        out.whole(70, 0);
    }
}

pub(super) fn tables(out: &mut Out, drawing: &Drawing, names: &Names, blocks: &[Record]) {
    let is_new = out.release == Release::Of2004;
    out.section("TABLES", |out| {
        if is_new {
            table(out, "VPORT", handles::VIEW_PORTS, 0, |_| {});
        }
        line_types(out, names);
        layers(out, drawing, names);
        table(out, "STYLE", handles::STYLES, 1, |out| {
            entry(out, "STYLE", "AcDbTextStyleTableRecord", handles::STYLES, None, "STANDARD");
            for (code, value) in [(40, 0.0), (41, 1.0), (50, 0.0)] {
                out.number(code, value);
            }
            out.whole(71, 0);
            out.number(42, 2.5);
            out.pair(3, "txt");
            out.pair(4, "");
        });
        if !is_new {
            return;
        }
        table(out, "VIEW", handles::VIEWS, 0, |_| {});
        table(out, "UCS", handles::COORDINATES, 0, |_| {});
        table(out, "APPID", handles::APPLICATIONS, 1, |out| {
            entry(out, "APPID", "AcDbRegAppTableRecord", handles::APPLICATIONS, None, "ACAD");
        });
        table(out, "DIMSTYLE", handles::DIMENSION_STYLES, 1, |out| {
            let handle = out.handle();
            out.pair(0, "DIMSTYLE");
            out.handle_of(105, handle);
            out.handle_of(330, handles::DIMENSION_STYLES);
            out.class("AcDbSymbolTableRecord");
            out.class("AcDbDimStyleTableRecord");
            out.pair(2, "STANDARD");
            out.whole(70, 0);
        });
        table(out, "BLOCK_RECORD", handles::BLOCK_RECORDS, blocks.len() + 2, |out| {
            for (name, handle) in [("*Model_Space", handles::MODEL), ("*Paper_Space", handles::PAPER)] {
                entry(out, "BLOCK_RECORD", "AcDbBlockTableRecord", handles::BLOCK_RECORDS, Some(handle), name);
            }
            for block in blocks {
                entry(
                    out,
                    "BLOCK_RECORD",
                    "AcDbBlockTableRecord",
                    handles::BLOCK_RECORDS,
                    Some(block.handle),
                    &block.name,
                );
            }
        });
    });
}

fn line_types(out: &mut Out, names: &Names) {
    let is_new = out.release == Release::Of2004;
    let fixed: &[&str] = if is_new { &["ByBlock", "ByLayer", "CONTINUOUS"] } else { &["CONTINUOUS"] };
    table(out, "LTYPE", handles::LINE_TYPES, fixed.len() + names.line_types.len(), |out| {
        let mut line_type = |name: &str, dash: &[f64]| {
            entry(out, "LTYPE", "AcDbLinetypeTableRecord", handles::LINE_TYPES, None, name);
            out.pair(3, "");
            out.whole(72, 65);
            out.whole(73, dash.len() as i64);
            out.number(40, dash.iter().sum());
            for (at, &length) in dash.iter().enumerate() {
                out.number(49, if at % 2 == 0 { length } else { -length });
                if is_new {
                    out.whole(74, 0);
                }
            }
        };
        fixed.iter().for_each(|name| line_type(name, &[]));
        names.line_types.iter().for_each(|(name, dash)| line_type(name, dash));
    });
}

fn layers(out: &mut Out, drawing: &Drawing, names: &Names) {
    // Layer 0 is in every file.
    let has_0 = names.layer_names().iter().any(|name| name == "0");
    let first = (!has_0).then_some(("0", true));
    let all = names.layer_names().iter().zip(&drawing.layers).map(|(name, layer)| (name.as_str(), layer.is_shown));
    let layers: Vec<(&str, bool)> = first.into_iter().chain(all).collect();
    table(out, "LAYER", handles::LAYERS, layers.len(), |out| {
        for (name, is_shown) in layers {
            entry(out, "LAYER", "AcDbLayerTableRecord", handles::LAYERS, None, name);
            out.whole(62, if is_shown { 7 } else { -7 });
            out.pair(6, "CONTINUOUS");
        }
    });
}

pub(super) fn objects(out: &mut Out) {
    out.section("OBJECTS", |out| {
        for (handle, owner, entry) in
            [(handles::ROOT, 0, Some(("ACAD_GROUP", handles::GROUPS))), (handles::GROUPS, handles::ROOT, None)]
        {
            out.begin("DICTIONARY", Some(handle), owner);
            out.class("AcDbDictionary");
            out.whole(281, 1);
            if let Some((name, to)) = entry {
                out.pair(3, name);
                out.handle_of(350, to);
            }
        }
    });
}
