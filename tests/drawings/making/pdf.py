"""Drawings in the manner of four libraries that write PDF."""

import math

from garment import Piece, OUT, expected, lay, read
from strokes import *

PT = 72 / 25.4


def by_cairo():
    """Béziers, y down, a turned group within a scaled one, sizes by colour, seam lines, ticks, bracket, arrow heads as lines."""
    import cairo

    sizes = {"36": (0.8, 0, 0), "38": (0, 0.5, 0), "40": (0, 0, 0.9)}
    pieces = read("skirt/ferry-skirt.pattern.toml", ["Centre front", "Side back", "Hip pocket facing"], list(sizes))
    width, height = lay(pieces)
    sheet = Sheet(width, height)
    for piece in pieces:
        for size, draft in piece.drafts.items():
            style = dict(colour=sizes[size], width=0.4)
            sheet.add(curves(draft, **style), *ticks(draft, **style))
        draft = next(iter(piece.drafts.values()))
        if piece.on_fold:
            sheet.add(*bracket(draft, colour=(0, 0, 0), width=0.25))
        else:
            sheet.add(*arrow(draft.grain, colour=(0, 0, 0), width=0.25))
        sheet.add(*named(piece, draft))
    sheet.add(*square((width - 170, height - 170), words="Test square 10 cm", colour=(0, 0, 0)))
    name = "skirt-cairo.pdf"
    surface = cairo.PDFSurface(str(OUT / name), width * PT, height * PT)
    surface.set_metadata(cairo.PDFMetadata.CREATE_DATE, "2024-01-01T00:00:00")
    c = cairo.Context(surface)
    c.scale(PT, PT)
    c.select_font_face("sans-serif")
    for k, item in enumerate(sheet.items):
        c.save()
        # The upright picture again, by half turns and mirrors within each other.
        c.translate(0, height)
        c.scale(2, -2)
        c.scale(0.5, 0.5)
        if isinstance(item, Words):
            c.translate(*item.at)
            c.scale(1, -1)
            c.set_font_size(item.height)
            c.set_source_rgb(0, 0, 0)
            c.move_to(0, 0)
            c.show_text(item.text)
        else:
            if k % 2:
                c.translate(width / 2, height / 2)
                c.rotate(0.5)
                c.rotate(-0.5)
                c.translate(-width / 2, -height / 2)
            c.move_to(*item.start)
            for part in item.parts:
                if part[0] == "L":
                    c.line_to(*part[1])
                else:
                    c.curve_to(*part[1], *part[2], *part[3])
            if item.closed:
                c.close_path()
            c.set_source_rgb(*item.colour)
            c.set_line_width(item.width)
            c.fill() if item.fill else c.stroke()
        c.restore()
    surface.finish()
    expected(name, "Ferry skirt", pieces, ["seam"], [["# seam_allowance", 'seam_allowance = "15 mm"']],
             sizes={"36": "size 1", "38": "size 2", "40": "size 3"})


def by_reportlab():
    """Every side a path of its own, sizes by dash, darts as two lines, buttons as circles and crosses, lines to lengthen at."""
    from reportlab.pdfgen.canvas import Canvas

    dashes = {"36": (), "38": (6, 3), "40": (1.5, 2)}
    pieces = read("blouse/slipway.pattern.toml", ["Front", "Cuff", "Collar stand"], list(dashes))
    for piece in pieces:
        for entry in piece.drafts.values():
            entry["darts"] = [d for d in entry.get("darts", []) if "point" in d]
    width, height = lay(pieces, gap=60)
    sheet = Sheet(width, height)
    for piece in pieces:
        for size, draft in piece.drafts.items():
            style = dict(dash=dashes[size], width=0.5)
            sheet.add(*sides(draft, **style), *ticks(draft, **style))
            for (a, b), tip in draft.darts:
                sheet.add(line([a, tip], **style), line([b, tip], **style))
        draft = next(iter(piece.drafts.values()))
        if piece.on_fold:
            sheet.add(*bracket(draft, deep=10, width=0.25))
        else:
            sheet.add(*arrow(draft.grain, width=0.25))
        sheet.add(*named(piece, draft))
        if piece.name == "Front":
            (x, y), (_, top) = draft.grain
            for k in range(3):
                at = (x - 107, y + 60 + 90 * k)
                sheet.add(circle(at, 5, width=0.3) if k != 1 else None)
                sheet.add(*cross(at, 5, width=0.3))
            sheet.add(line([(x - 100, y + 40), (x + 80, y + 40)], width=0.25), Words((x - 95, y + 42), "Lengthen or shorten here", 4))
    sheet.items = [item for item in sheet.items if item]
    name = "blouse-reportlab.pdf"
    c = Canvas(str(OUT / name), pagesize=(width * PT, height * PT), invariant=True, pageCompression=1)
    c.scale(PT, PT)
    for item in sheet.items:
        if isinstance(item, Words):
            c.setFont("Helvetica", item.height)
            c.drawString(*item.at, item.text)
            continue
        c.setDash(*([list(item.dash)] if item.dash else []))
        c.setLineWidth(item.width)
        path = c.beginPath()
        path.moveTo(*item.start)
        for part in item.parts:
            path.lineTo(*part[1]) if part[0] == "L" else path.curveTo(*part[1], *part[2], *part[3])
        if item.closed:
            path.close()
        c.drawPath(path, stroke=1, fill=int(item.fill))
    c.save()
    expected(name, "Slipway blouse", pieces, ["seam"],
             [["# seam_allowance", 'seam_allowance = "15 mm"'], ["# pressed", 'pressed = { "dart 1" = "down" }']],
             sizes={"36": "size 1", "38": "size 2", "40": "size 3"})


def by_matplotlib():
    """Outlines as many short lines, seam line and cutting line, diamonds, arrow heads filled; a font drawn glyph by glyph."""
    import matplotlib

    matplotlib.use("pdf")
    matplotlib.rcParams["pdf.fonttype"] = 3
    matplotlib.rcParams["path.simplify"] = False
    from matplotlib import pyplot

    pieces = read("jacket/harbour-watch.pattern.toml", ["Upper sleeve", "Back neck facing", "Patch pocket"], ["40"])
    width, height = lay(pieces, gap=70)
    fig = pyplot.figure(figsize=(width / 25.4, height / 25.4))
    ax = fig.add_axes([0, 0, 1, 1])
    ax.set_xlim(0, width)
    ax.set_ylim(0, height)
    ax.axis("off")
    for piece in pieces:
        draft = piece.drafts["40"]
        cutting = draft.cutting(12)
        ax.plot(*zip(*(cutting + cutting[:1])), color="black", linewidth=1.4)
        seam = draft.flat(0.004)
        ax.plot(*zip(*(seam + seam[:1])), color="0.4", linewidth=0.7)
        for mark in diamonds(draft):
            points = [mark.start] + [p[1] for p in mark.parts]
            ax.plot(*zip(*(points + points[:1])), color="black", linewidth=0.7)
        if piece.on_fold:
            for mark in bracket(draft):
                ax.plot(*zip(*([mark.start] + [p[1] for p in mark.parts])), color="black", linewidth=0.7)
        else:
            for mark in arrow(draft.grain, head="filled"):
                points = [mark.start] + [p[1] for p in mark.parts]
                ax.fill(*zip(*points), color="black") if mark.fill else ax.plot(*zip(*points), color="black", linewidth=0.7)
        for words in named(piece, draft):
            ax.text(*words.at, words.text, fontsize=words.height * PT)
    name = "jacket-matplotlib.pdf"
    fig.savefig(OUT / name, metadata={"CreationDate": None, "Creator": None, "Producer": None})
    expected(name, "Harbour-watch jacket", pieces, ["seam", "cutting"], [], allowance=12, tolerance=0.15, cutting_tolerance=0.85, sizes={"40": "one"})


def by_fpdf():
    """y down, cutting lines broken at labels, triangles, a frame, a title block and a legend; one size."""
    import datetime

    from fpdf import FPDF

    pieces = read("shirt-dress/pilot-house.pattern.toml", ["Yoke", "Sleeve", "Pocket flap"], ["38"])
    width, height = lay(pieces, gap=60, low=120)
    sheet = Sheet(width, height)
    for piece in pieces:
        draft = piece.drafts["38"]
        style = dict(width=0.5)
        sheet.add(broken(draft, **style), *triangles(draft, width=0.3))
        if piece.on_fold:
            sheet.add(*bracket(draft, width=0.3))
        else:
            sheet.add(*arrow(draft.grain, width=0.3))
        sheet.add(*named(piece, draft))
    sheet.add(line([(15, 15), (width - 15, 15), (width - 15, height - 15), (15, height - 15)], True))
    sheet.add(line([(width - 215, 15), (width - 215, 55), (width - 15, 55)]), line([(width - 215, 35), (width - 15, 35)]))
    sheet.add(Words((width - 210, 40), "Pilot-house shirt-dress", 6), Words((width - 210, 20), "Sheet 1 of 1", 5))
    name = "dress-fpdf.pdf"
    pdf = FPDF(unit="mm", format=(width, height))
    pdf.set_creation_date(datetime.datetime(2024, 1, 1, tzinfo=datetime.timezone.utc))
    pdf.set_auto_page_break(False)
    pdf.add_page()
    pdf.set_font("Helvetica")
    down = lambda p: (p[0], height - p[1])
    for item in sheet.items:
        if isinstance(item, Words):
            pdf.set_font_size(item.height * PT)
            pdf.text(*down(item.at), item.text)
            continue
        pdf.set_line_width(item.width)
        with pdf.new_path() as path:
            path.style.fill_color = None
            path.style.stroke_color = "#000000"
            path.style.stroke_width = item.width
            path.style.auto_close = False
            path.move_to(*down(item.start))
            for part in item.parts:
                path.line_to(*down(part[1])) if part[0] == "L" else path.curve_to(*down(part[1]), *down(part[2]), *down(part[3]))
            if item.closed:
                path.close()
    pdf.output(str(OUT / name))
    expected(name, "Pilot-house shirt-dress", pieces, ["seam"], [["# seam_allowance", 'seam_allowance = "10 mm"']], sizes={"38": "one"})
