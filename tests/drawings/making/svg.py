"""Drawings in the manner of libraries and editors that write SVG."""

import json
import math

from garment import Piece, OUT, expected, lay, read
from strokes import *


def data(item, to):
    """Path data of a stroke; `to` maps a point."""
    p = lambda q: "{:.4f},{:.4f}".format(*to(q))
    out = ["M", p(item.start)]
    for part in item.parts:
        out += ["L", p(part[1])] if part[0] == "L" else ["C"] + [p(q) for q in part[1:]]
    return " ".join(out + (["Z"] if item.closed else []))


def colour(rgb):
    return "#{:02x}{:02x}{:02x}".format(*(round(255 * c) for c in rgb))


def by_svgwrite_layers():
    """px at 96 an inch without a physical size, a test square, sizes as groups by name, groups moved and scaled within each other."""
    import svgwrite

    sizes = ["46", "48", "50", "52"]
    pieces = read("oversized-jacket/deckhand.pattern.toml", ["Back", "Front facing", "Breast pocket"], sizes)
    width, height = lay(pieces, gap=60)
    px = 96 / 25.4
    name = "jacket-svgwrite-layers.svg"
    d = svgwrite.Drawing(str(OUT / name), size=(round(width * px), round(height * px)))
    down = lambda p: (p[0] * px, (height - p[1]) * px)
    half = lambda p: tuple(v / 2 + 40 for v in down(p))
    for size in sizes:
        group = d.g(id=f"size-{size}", transform="translate(-80,-80)")
        inner = d.g(transform="scale(2)")
        for piece in pieces:
            draft = piece.drafts[size]
            for item in [curves(draft), *ticks(draft)]:
                inner.add(d.path(d=data(item, half), fill="none", stroke="black", stroke_width=1))
        group.add(inner)
        d.add(group)
    for piece in pieces:
        draft = piece.drafts["46"]
        marks = bracket(draft) if piece.on_fold else arrow(draft.grain)
        for item in marks:
            d.add(d.path(d=data(item, down), fill="none", stroke="black", stroke_width=0.7))
        for words in named(piece, draft):
            d.add(d.text(words.text, insert=down(words.at), font_size=words.height * px))
    for item in square((width - 165, height - 165)):
        if isinstance(item, Words):
            d.add(d.text(item.text, insert=down(item.at), font_size=item.height * px))
        else:
            d.add(d.path(d=data(item, down), fill="none", stroke="black"))
    d.save()
    expected(name, "Deckhand jacket", pieces, ["seam"], [["# seam_allowance", 'seam_allowance = "15 mm"']])


def by_svgwrite_order():
    """Sizes nested in one look and told by order alone, the words "place on fold", every line drawn twice."""
    import svgwrite

    sizes = ["36", "38", "40", "42"]
    pieces = read("blouse/slipway.pattern.toml", ["Back", "Sleeve", "Collar"], sizes)
    width, height = lay(pieces, gap=60)
    name = "blouse-svgwrite-order.svg"
    d = svgwrite.Drawing(str(OUT / name), size=(f"{width}mm", f"{height}mm"), viewBox=f"0 0 {width} {height}")
    down = lambda p: (p[0], height - p[1])
    for piece in pieces:
        for draft in piece.drafts.values():
            for _ in range(2):
                d.add(d.path(d=data(curves(draft), down), fill="none", stroke="black", stroke_width=0.4))
        draft = piece.drafts["36"]
        for item in arrow(draft.grain):
            d.add(d.path(d=data(item, down), fill="none", stroke="black", stroke_width=0.4))
        for words in named(piece, draft):
            d.add(d.text(words.text, insert=down(words.at), font_size=words.height))
        if draft.fold is not None:
            a, b = draft.ends()[draft.fold], draft.ends()[draft.fold + 1]
            x, y = a[0] + 9, (a[1] + b[1]) / 2 - 25
            d.add(d.text("Place on fold", insert=down((x, y)), font_size=5, transform="rotate(-90,{:.3f},{:.3f})".format(*down((x, y)))))
    d.save()
    expected(name, "Slipway blouse", pieces, ["seam"], [["# seam_allowance", 'seam_allowance = "15 mm"'], ["# fold_edge", None]],
             bracket=None, notches=False, sizes={size: f"size {k + 1}" for k, size in enumerate(sizes)})


def by_drawsvg():
    """px at 72 an inch with a named test square, shapes as <rect> and <polygon>, all in a group that is mirrored; cutting lines only."""
    import drawsvg

    pieces = [rectangle("Waistband", 2, 558.8, 50.8), trapezoid("Bib", 1, 228.6, 304.8, 254.0), rectangle("Pocket", 1, 228.6, 190.5)]
    width, height = lay(pieces, gap=60, across=1)
    px = 72 / 25.4
    name = "apron-drawsvg.svg"
    d = drawsvg.Drawing(width * px, height * px)
    up = drawsvg.Group(transform=f"translate(0,{height * px}) scale(1,-1)")
    scaled = drawsvg.Group(transform=f"scale({px})")
    up.append(scaled)
    for piece in pieces:
        draft = piece.drafts["one"]
        points = draft.flat()
        if piece.name == "Bib":
            scaled.append(drawsvg.Lines(*[v for p in points for v in p], close=True, fill="none", stroke="black", stroke_width=0.4))
        else:
            (x, y), (right, top) = points[0], points[2]
            scaled.append(drawsvg.Rectangle(x, y, right - x, top - y, fill="none", stroke="black", stroke_width=0.4))
        for item in arrow(draft.grain, head="filled"):
            flat = [v for p in [item.start] + [q[1] for q in item.parts] for v in p]
            scaled.append(drawsvg.Lines(*flat, close=item.closed, fill="black" if item.fill else "none", stroke="black", stroke_width=0.3))
        for words in named(piece, draft):
            x, y = words.at
            scaled.append(drawsvg.Text(words.text, words.height, x, -y, transform="scale(1,-1)"))
    for item in square((width - 165, height - 165), side=50.8, words="Test square: 2 in"):
        if isinstance(item, Words):
            scaled.append(drawsvg.Text(item.text, item.height, item.at[0], -item.at[1], transform="scale(1,-1)"))
        else:
            flat = [v for p in [item.start] + [q[1] for q in item.parts] for v in p]
            scaled.append(drawsvg.Lines(*flat, close=True, fill="none", stroke="black", stroke_width=0.3))
    d.append(up)
    d.save_svg(str(OUT / name))
    for piece in pieces:
        piece.drafts["one"].is_cutting = True
    expected(name, "Galley apron", pieces, ["cutting"], [["# seam_allowance", 'seam_allowance = "12.7 mm included"']], allowance=0, sizes={"one": "one"})


def rectangle(name, count, width, height):
    return trapezoid(name, count, width, width, height)


def trapezoid(name, count, top, bottom, height):
    by = (bottom - top) / 2
    entry = {"start": [0, 0], "edges": [{"to": [bottom, 0]}, {"to": [bottom - by, height]}, {"to": [by, height]}, {"to": [0, 0]}],
             "grainline": [[bottom / 2 - 30, height * 0.1], [bottom / 2 - 30, height * 0.9]]}
    return Piece(name, count, False, {"one": entry})


def by_editor():
    """As a drawing program for artwork writes: 90 px an inch, layers with labels, style attributes, `use`, a marker as arrow head."""
    pieces = read("jacket/harbour-watch.pattern.toml", ["Under collar", "Upper collar", "Under sleeve"], ["38", "42"])
    width, height = lay(pieces, gap=60)
    px = 90 / 25.4
    down = lambda p: (p[0] * px, (height - p[1]) * px)
    name = "jacket-editor.svg"
    out = [
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:layers="urn:layers" width="{width * px:.3f}" height="{height * px:.3f}">',
        '<defs><marker id="head" orient="auto-start-reverse" refX="0" refY="0" overflow="visible" markerUnits="userSpaceOnUse"><path d="M -20,-7 L 0,0 L -20,7 Z" style="fill:#000000"/></marker>',
        "<style>.seam { fill: none; stroke: #1a1a1a; stroke-width: 1.2px } .mark { stroke: #1a1a1a; fill: none }</style>",
    ]
    for piece in pieces:
        for size, draft in piece.drafts.items():
            ident = f"{piece.name}-{size}".replace(" ", "-").lower()
            out.append(f'<path id="{ident}" d="{data(curves(draft), down)}"/>')
    out.append("</defs>")
    for size in ("38", "42"):
        out.append(f'<g id="layer{size}" class="seam" layers:label="size {size}" aria-label="size {size}"><title>size {size}</title>')
        for piece in pieces:
            ident = f"{piece.name}-{size}".replace(" ", "-").lower()
            out.append(f'<use xlink:href="#{ident}" x="0" y="0"/>')
            for item in t_shapes(piece.drafts[size]):
                out.append(f'<path class="mark" d="{data(item, down)}"/>')
        out.append("</g>")
    out.append('<g id="marks" style="stroke:#000000;stroke-width:0.8">')
    for piece in pieces:
        draft = piece.drafts["38"]
        if piece.on_fold:
            for item in bracket(draft):
                out.append(f'<path class="mark" d="{data(item, down)}"/>')
        else:
            (x1, y1), (x2, y2) = map(down, draft.grain)
            out.append(f'<line x1="{x1:.3f}" y1="{y1:.3f}" x2="{x2:.3f}" y2="{y2:.3f}" marker-start="url(#head)" marker-end="url(#head)"/>')
        for words in named(piece, draft, height=6):
            x, y = down(words.at)
            out.append(f'<text x="{x:.3f}" y="{y:.3f}" style="font-size:{words.height * px:.2f}px;stroke:none"><tspan>{words.text}</tspan></text>')
    for item in square((width - 165, height - 165)):
        if isinstance(item, Words):
            x, y = down(item.at)
            out.append(f'<text x="{x:.3f}" y="{y:.3f}" style="font-size:20px;stroke:none">{item.text}</text>')
        else:
            out.append(f'<path d="{data(item, down)}" style="fill:none"/>')
    out += ["</g>", "</svg>"]
    (OUT / name).write_text("\n".join(out) + "\n")
    expected(name, "Harbour-watch jacket", pieces, ["seam"], [["# seam_allowance", 'seam_allowance = "10 mm"']])


def by_headless_editor():
    """The drawing above given through a headless vector editor that turns words into outlines and writes plain SVG."""
    import subprocess

    source, name = OUT / "jacket-editor.svg", "jacket-editor-outlined.svg"
    subprocess.run(["inkscape", "--export-text-to-path", "--export-plain-svg", f"--export-filename={OUT / name}", str(source)], check=True)
    told = json.loads((OUT / "expected" / "jacket-editor.svg.json").read_text())
    told["drawing"] = name
    told["complete"] += [["# scale", "scale = 1.0666667"]]
    for number, piece in enumerate(("under sleeve", "under collar", "upper collar"), 1):
        count, fold = (1, ", on_fold = true") if piece == "upper collar" else (2, "")
        told["complete"] += [[f'name = "{piece.replace(" ", "-")}-38"', f'name = "{piece.capitalize()}"'],
                             ["# cut", f'cut = [{{ from = "main", count = {count}{fold} }}]']]
    told["complete"] += [["pieces = ", 'pieces = ["Under sleeve", "Under collar", "Upper collar"]']]
    (OUT / "expected" / (name + ".json")).write_text(json.dumps(told, separators=(",", ":")) + "\n")


def by_matplotlib():
    """Text as outlines of its letters; one piece drawn inside another; cutting lines of one look, short lines, no name that says anything."""
    import matplotlib

    matplotlib.use("svg")
    matplotlib.rcParams["svg.fonttype"] = "path"
    matplotlib.rcParams["svg.hashsalt"] = "pattern"
    matplotlib.rcParams["path.simplify"] = False
    from matplotlib import pyplot

    pieces = read("shirt-dress/pilot-house.pattern.toml", ["Back", "Patch pocket"], ["38"])
    lay(pieces[:1], gap=60)
    back = pieces[0].drafts["38"]
    xs, ys = zip(*back.flat(0.5))
    width, height = max(xs) + 60, max(ys) + 60
    low = [min(p[i] for p in [(0, 0), (1e9, 1e9)]) for i in (0, 1)]
    lay(pieces[1:], left=min(xs) + 110, low=min(ys) + 60)
    fig = pyplot.figure(figsize=(width / 25.4, height / 25.4))
    ax = fig.add_axes([0, 0, 1, 1])
    ax.set_xlim(0, width)
    ax.set_ylim(0, height)
    ax.axis("off")
    for piece in pieces:
        draft = piece.drafts["38"]
        cutting = draft.cutting(10)
        ax.plot(*zip(*(cutting + cutting[:1])), color="black", linewidth=1.2)
        for item in (bracket(draft, deep=10, share=0.4) if piece.on_fold else arrow(draft.grain)):
            ax.plot(*zip(*([item.start] + [p[1] for p in item.parts])), color="black", linewidth=0.6)
        for words in named(piece, draft, height=6):
            ax.text(*words.at, words.text, fontsize=words.height * 72 / 25.4)
    name = "dress-matplotlib.svg"
    fig.savefig(OUT / name, metadata={"Date": None, "Creator": None})
    expected(name, "Pilot-house shirt-dress", pieces, ["cutting"],
             [["# seam_allowance", 'seam_allowance = "10 mm included"'],
              ['name = "Piece 1"', 'name = "Back"'], ["# cut", 'cut = [{ from = "main", count = 1, on_fold = true }]'],
              ['name = "Piece 2"', 'name = "Patch pocket"'], ["# cut", 'cut = [{ from = "main", count = 2 }]'],
              ['pieces = ', 'pieces = ["Back", "Patch pocket"]']], allowance=10, bracket=0.4, tolerance=0.15, notches=False, sizes={"38": "one"})
