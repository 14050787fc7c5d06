"""Drawings in the manner of programs that write DXF, by ezdxf."""

import io
import math

import ezdxf

from garment import OUT, expected, lay, read, thin
from strokes import *
from svg import rectangle, trapezoid


def save(document, name):
    text = io.StringIO()
    document.write(text)
    (OUT / name).write_text(text.getvalue())


def by_words():
    """R2000 in inches, layers by words, seam lines as splines and lines, cutting lines as one polyline, sizes by layer."""
    sizes = ["36", "40"]
    pieces = read("skirt/ferry-skirt.pattern.toml", ["Side front", "Centre back", "Hip pocket bag, back"], sizes)
    lay(pieces, gap=80)
    d = ezdxf.new("R2000")
    d.units = ezdxf.units.IN
    d.header["$INSUNITS"] = 1
    space = d.modelspace()
    by = lambda p: (p[0] / 25.4, p[1] / 25.4)
    for piece in pieces:
        for size, draft in piece.drafts.items():
            at = draft.start
            for part in draft.parts:
                if part[0] == "L":
                    space.add_line(by(at), by(part[1]), dxfattribs={"layer": f"seam {size}"})
                else:
                    spline = space.add_spline(dxfattribs={"layer": f"seam {size}"}, degree=3)
                    spline.set_open_uniform([by(p) for p in (at, *part[1:])], degree=3)
                at = part[-1]
            space.add_lwpolyline([by(p) for p in draft.cutting(15)], close=True, dxfattribs={"layer": f"cut {size}"})
            for item in ticks(draft):
                space.add_line(by(item.start), by(item.parts[0][1]), dxfattribs={"layer": f"notches {size}"})
        draft = piece.drafts["36"]
        for item in (bracket(draft) if piece.on_fold else arrow(draft.grain)):
            space.add_lwpolyline([by(item.start)] + [by(p[1]) for p in item.parts], dxfattribs={"layer": "marks"})
        for words in named(piece, draft):
            space.add_text(words.text, height=words.height / 25.4, dxfattribs={"insert": by(words.at), "layer": "text"})
    save(d, "skirt-words.dxf")
    expected("skirt-words.dxf", "Ferry skirt", pieces, ["seam", "cutting"], [], allowance=15, cutting_tolerance=0.6)


def by_lines():
    """R12 without a unit, every outline as LINE after LINE in short steps, a test square; one size, y up."""
    pieces = read("blouse/slipway.pattern.toml", ["Puff sleeve", "Front", "Front hem facing"], ["38"])
    width, height = lay(pieces, gap=60)
    d = ezdxf.new("R12")
    space = d.modelspace()
    for piece in pieces:
        draft = piece.drafts["38"]
        points = thin(draft.with_darts().flat(0.01))
        for a, b in zip(points, points[1:] + points[:1]):
            space.add_line(a, b)
        for item in [*ticks(draft), *arrow(draft.grain)]:
            flat = [item.start] + [p[1] for p in item.parts]
            for a, b in zip(flat, flat[1:]):
                space.add_line(a, b)
        for words in named(piece, draft):
            space.add_text(words.text, height=words.height, dxfattribs={"insert": words.at})
    for item in square((width + 20, 60)):
        if isinstance(item, Words):
            space.add_text(item.text, height=item.height, dxfattribs={"insert": item.at})
        else:
            flat = [item.start] + [p[1] for p in item.parts]
            for a, b in zip(flat, flat[1:] + flat[:1]):
                space.add_line(a, b)
    save(d, "blouse-lines.dxf")
    expected("blouse-lines.dxf", "Slipway blouse", pieces, ["seam"],
             [["# seam_allowance", 'seam_allowance = "15 mm"'], ["# pressed", 'pressed = { "dart 1" = "down" }']], tolerance=0.15,
             folded=["Front"], sizes={"38": "one"})


def interchange(name, garment, pieces, size, unit, allowance, strays):
    """A block for each piece, layers by number: 1 boundary, 2 and 3 turn and curve points, 4 and 80 notches, 6 mirror line, 7 grain, 13 drill
    holes, 14 sew line."""
    d = ezdxf.new("R12")
    space = d.modelspace()
    per = 25.4 if unit == "ENGLISH" else 1.0
    by = lambda p: (p[0] / per, p[1] / per)
    for piece in pieces:
        draft = piece.drafts[size]
        block = d.blocks.new(piece.name.replace(" ", "_").upper())
        layer = lambda n: {"layer": str(n)}
        cutting = draft.cutting(allowance)
        block.add_polyline2d([by(p) for p in cutting], close=True, dxfattribs=layer(1))
        block.add_polyline2d([by(p) for p in thin(draft.flat(0.01))], close=True, dxfattribs=layer(14))
        ends = draft.ends()[:-1]
        for p in thin(draft.flat(0.01)):
            block.add_point(by(p), dxfattribs=layer(2 if p in ends else 3))
        for k, notch in enumerate(draft.notches):
            block.add_point(by(outwards(draft, notch)[2]), dxfattribs=layer(80 if k % 2 else 4))
        if draft.fold is not None:
            a, b = draft.ends()[draft.fold], draft.ends()[draft.fold + 1]
            ys = [p[1] for p in cutting if abs(p[0] - a[0]) < 0.01]
            block.add_line(by((a[0], min(ys))), by((a[0], max(ys))), dxfattribs=layer(6))
        block.add_line(by(draft.grain[0]), by(draft.grain[1]), dxfattribs=layer(7))
        x, y = draft.grain[0]
        for k, text in enumerate((f"PIECE NAME: {piece.name}", f"SIZE: {size}", f"QUANTITY: {piece.count}", "MATERIAL: main", "CATEGORY:", f"UNITS: {unit}")):
            block.add_text(text, height=4 / per, dxfattribs={"insert": by((x + 4, y - 6 * k + 40)), "layer": "1"})
        space.add_blockref(block.name, (0, 0))
    for k, text in enumerate((f"STYLE NAME: {garment}", f"UNITS: {unit}", f"SAMPLE SIZE: {size}", "CREATION DATE: 01-01-2024")):
        space.add_text(text, height=4 / per, dxfattribs={"insert": (0, -6 * k / per), "layer": "1"})
    save(d, name)
    expected(name, garment, pieces, ["seam", "cutting"], [], allowance=allowance, tolerance=0.15, cutting_tolerance=strays, bracket=None)


def by_numbers():
    pieces = read("oversized-jacket/deckhand.pattern.toml", ["Back", "Under sleeve", "Breast pocket"], ["50"])
    lay(pieces, gap=80)
    interchange("jacket-interchange-metric.dxf", "Deckhand jacket", pieces, "50", "METRIC", 10, 2.9)
    pieces = read("shirt-dress/pilot-house.pattern.toml", ["Short sleeve", "Collar stand", "In-seam pocket bag"], ["40"])
    lay(pieces, gap=80)
    interchange("dress-interchange-english.dxf", "Pilot-house shirt-dress", pieces, "40", "ENGLISH", 12.7, 0.5)
