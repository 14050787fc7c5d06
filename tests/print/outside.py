"""Measures a printed PDF by a library of another family.

Needs `pdfplumber` (any recent one) and the command:

    ellwand print JOB --paper a4 --out paper
    ellwand check JOB --json pieces.json
    python tests/print/outside.py paper/JOB.pieces-a4.pdf pieces.json [MARGIN OVERLAP]

Prints the test squares, and the cutting lines on all pages joined beside those of the record without what lies on a fold, in mm; ends with 1 where a square is off by more than
0.1 mm, or the joined lines by more than 0.2 mm a piece.
"""

import json
import re
import sys

import pdfplumber

MM = 25.4 / 72
# Far more than numbers in a PDF are rounded, and far less than is measured.
NEAR = 0.005
# What a page is called: its row and its column. Rows after Z have two letters, which no job of these checks reaches.
NAME = re.compile(r"[A-Z]\d+$")


def clipped(a, b, low, high):
    """Length of a segment within a box."""
    start, end = 0.0, 1.0
    for k in (0, 1):
        run = b[k] - a[k]
        if abs(run) < 1e-12:
            if not low[k] <= a[k] < high[k]:
                return 0.0
            continue
        s, t = (low[k] - a[k]) / run, (high[k] - a[k]) / run
        start, end = max(start, min(s, t)), min(end, max(s, t))
    return max(0.0, end - start) * ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5


def segments(page):
    """Solid lines of 0.4 mm, in mm from the upper left corner."""
    for item in page.curves + page.lines + page.rects:
        dash = item.get("dash") or ([], 0)
        if abs(item["linewidth"] * MM - 0.4) > 0.01 or dash[0]:
            continue
        points = [(x * MM, y * MM) for x, y in item["pts"]]
        if item["object_type"] == "rect":
            points.append(points[0])
        elif item.get("path") and item["path"][-1][0] == "h":
            points.append(points[0])
        yield from zip(points, points[1:])


def squares(page):
    for item in page.rects + page.curves:
        w, h = (item["x1"] - item["x0"]) * MM, (item["bottom"] - item["top"]) * MM
        if abs(w - h) < 0.05 and 90 < w < 110:
            yield w


def half(outline):
    """The half of an outline at the left of 0."""
    out = []
    for a, b in zip(outline, outline[1:] + outline[:1]):
        if a[0] <= 0:
            out.append(a)
        if a[0] * b[0] < 0:
            out.append([0, a[1] + (b[1] - a[1]) * a[0] / (a[0] - b[0])])
    return out


def main(pdf, record, margin=8.0, overlap=10.0):
    with pdfplumber.open(pdf) as document:
        pages = document.pages
        found = sorted(squares(pages[0]))
        joined = 0.0
        for page in pages[1:]:
            width, height = float(page.width) * MM, float(page.height) * MM
            # A line along the border of two pages shows on both, and is counted on the one that it begins; the border says which two they are.
            words = page.extract_words(extra_attrs=["size"])
            name = next(word["text"] for word in words if NAME.match(word["text"]) and abs(word["size"] - 9) < 0.1)
            beside = [f"{name} | {name[0]}{int(name[1:]) + 1}", f"{name} | {chr(ord(name[0]) + 1)}{name[1:]}"]
            said = " ".join(word["text"] for word in words)
            shared = [NEAR if border in said else -NEAR for border in beside]
            low = (margin - NEAR, margin - NEAR)
            high = (width - margin - overlap - shared[0], height - margin - overlap - shared[1])
            joined += sum(clipped(a, b, low, high) for a, b in segments(page))
        count = len(pages)
    pieces = json.load(open(record))["pieces"]
    whole = 0.0
    for piece in pieces:
        outline = piece["outline"]
        is_half = any(cut.get("on_fold") for cut in piece["cut"])
        if is_half:
            outline = half(outline)
        for a, b in zip(outline, outline[1:] + outline[:1]):
            # Paper that ends at the fold is not cut there.
            if not (is_half and abs(a[0]) < 1e-6 and abs(b[0]) < 1e-6):
                whole += ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5
    print(f"{count} pages; squares {', '.join(f'{side:.3f}' for side in found)} mm")
    print(f"cutting lines: {joined:.2f} mm on joined pages, {whole:.2f} mm in the record, {len(pieces)} pieces")
    right = len(found) == 2 and abs(found[0] - 100) < 0.1 and abs(found[1] - 101.6) < 0.1
    return 0 if right and abs(joined - whole) < 0.2 * len(pieces) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2], *map(float, sys.argv[3:])))
