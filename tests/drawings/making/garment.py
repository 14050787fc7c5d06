"""Pieces of the demo patterns as plain curves, mm, y up: the truth that every drawing of this folder is compared with.

Reads the pattern files with a TOML reader and nothing of the program. Allowances are made by shapely.
"""

import json
import math
import pathlib
import tomllib

from shapely.geometry import LineString, Point, Polygon, box

HERE = pathlib.Path(__file__).resolve().parent
OUT = HERE.parent
DEMO = HERE.parent.parent.parent / "demo-data"


class Draft:
    """One piece in one size: its seam line as parts ("L", to) and ("C", a, b, to) from `start`; marks."""

    def __init__(self, entry, move):
        by = lambda p: (p[0] + move[0], p[1] + move[1])
        self.start = by(entry["start"])
        self.parts = []
        self.fold = None
        for k, edge in enumerate(entry["edges"]):
            to = by(edge["to"])
            if "curve" in edge:
                a, b = (by(p) for p in edge["curve"])
                self.parts.append(("C", a, b, to))
            elif "arc" in edge:
                raise ValueError("an arc")
            else:
                self.parts.append(("L", to))
            if edge.get("fold"):
                self.fold = k
        self.grain = [by(p) for p in entry["grainline"]]
        self.notches = [by(n["at"]) for n in entry.get("notches", [])]
        self.darts = [([by(p) for p in d["legs"]], by(d["point"])) for d in entry.get("darts", []) if "point" in d]

    def ends(self):
        ends = [self.start]
        for part in self.parts:
            ends.append(part[-1])
        return ends

    def flat(self, chord=0.02):
        return flat(self.start, self.parts, chord)

    def with_darts(self):
        """The same with every dart folded out into the outline: foot, tip, foot."""
        near = lambda p, q: math.dist(p, q) < 1e-6
        at, parts = self.start, []
        for part in self.parts:
            tips = [tip for (a, b), tip in self.darts if {near(at, a), near(part[-1], b)} == {True} or {near(at, b), near(part[-1], a)} == {True}]
            parts += [("L", tips[0])] if tips else []
            parts.append(part)
            at = part[-1]
        out = object.__new__(Draft)
        out.start, out.parts, out.fold, out.grain, out.notches, out.darts = self.start, parts, self.fold, self.grain, self.notches, self.darts
        return out

    def cutting(self, allowance):
        """The cutting line, half on the fold, as points; no allowance on the fold."""
        seam = Polygon(self.flat())
        if self.fold is None:
            return ring(seam.buffer(allowance, join_style=2, mitre_limit=20))
        ends = self.ends()
        x = ends[self.fold][0]
        whole = seam.union(Polygon([(2 * x - p[0], p[1]) for p in self.flat()])).buffer(1e-9, join_style=2)
        grown = whole.buffer(allowance, join_style=2, mitre_limit=20)
        side = 1 if seam.centroid.x > x else -1
        keep = box(min(x, x + side * 5000), -9999, max(x, x + side * 5000), 9999)
        return ring(grown.intersection(keep))


def ring(polygon):
    points = list(polygon.exterior.coords)[:-1]
    if not polygon.exterior.is_ccw:
        points.reverse()
    return thin([(float(x), float(y)) for x, y in points])


def on_line(draft, at):
    """Where a mark near the outline meets it."""
    line = LineString(draft.flat(0.005) + [draft.start])
    return tuple(line.interpolate(line.project(Point(at))).coords[0])


def thin(points, by=0.01):
    """Without the points that no eye misses."""
    line = LineString(list(points) + [points[0]]).simplify(by)
    return [(float(x), float(y)) for x, y in line.coords][:-1]


def flat(start, parts, chord=0.02):
    points = [start]
    for part in parts:
        if part[0] == "L":
            points.append(part[1])
            continue
        p0, (_, a, b, p3) = points[-1], part
        span = math.dist(p0, a) + math.dist(a, b) + math.dist(b, p3)
        steps = max(8, int(math.sqrt(span / chord)))
        for k in range(1, steps + 1):
            t = k / steps
            u = 1 - t
            points.append(tuple(u**3 * p0[i] + 3 * u * u * t * a[i] + 3 * u * t * t * b[i] + t**3 * p3[i] for i in (0, 1)))
    if math.dist(points[0], points[-1]) < 1e-9:
        points.pop()
    return points


class Piece:
    def __init__(self, name, cut, on_fold, drafts):
        self.name, self.count, self.on_fold, self.drafts = name, cut, on_fold, drafts

    def words(self):
        return f"Cut {self.count} on fold" if self.on_fold else f"Cut {self.count}"


def read(pattern, wanted, sizes, figure="regular"):
    """Pieces by name in these sizes; a piece drawn once has it under every size."""
    document = tomllib.loads((DEMO / pattern).read_text())
    pieces = []
    for name in wanted:
        entry = next(p for p in document["piece"] if p["name"] == name)
        rule = next(c for c in entry["cut"] if True)
        drawn = entry.get("drawn")
        of = lambda size: entry if drawn is None else next(
            d for d in drawn if d["size"] == size and d.get("figure", figure) == figure)
        pieces.append(Piece(name, rule["count"], rule.get("on_fold", False), {s: of(s) for s in sizes}))
    return pieces


def lay(pieces, gap=45.0, across=3, left=60.0, low=60.0):
    """Side by side in rows: replaces entries by drafts in their places. Returns width and height of the sheet."""
    x, y, high, right = left, low, 0.0, 0.0
    for k, piece in enumerate(pieces):
        if k and k % across == 0:
            x, y, high = left, y + high + gap, 0.0
        boxes = [Polygon(Draft(e, (0, 0)).flat()).bounds for e in piece.drafts.values()]
        low_x, low_y = min(b[0] for b in boxes), min(b[1] for b in boxes)
        width, height = max(b[2] for b in boxes) - low_x, max(b[3] for b in boxes) - low_y
        move = (x - low_x, y - low_y)
        piece.drafts = {s: Draft(e, move) for s, e in piece.drafts.items()}
        x += width + gap
        high = max(high, height)
        right = max(right, x)
    return right - gap + left, y + high + low


def expected(name, garment, pieces, lines, complete, tolerance=0.1, cutting_tolerance=None, allowance=None, notches=True, sizes=None, folded=(), bracket=0.6):
    """Writes what a right reading comes to. `lines`: which of "seam" and "cutting" are drawn. `complete`: lines of the pattern file by what they
    begin with, and what stands there instead. `folded`: pieces whose darts are part of the outline. The grainline is drawn in the first size;
    of a piece on the fold it is the base of the bracket, that share of the fold long, or drawn where there is none."""
    told = []
    for piece in pieces:
        per_size = {}
        first = next(iter(piece.drafts.values()))
        grain = first.grain
        if piece.on_fold and bracket:
            a, b = first.ends()[first.fold], first.ends()[first.fold + 1]
            low, high, rest = min(a[1], b[1]), max(a[1], b[1]), (1 - bracket) / 2
            grain = [(a[0], low + (high - low) * rest), (a[0], high - (high - low) * rest)]
        for size, draft in piece.drafts.items():
            of = {"grainline": grain, "fold": piece.on_fold, "notches": [on_line(draft, at) for at in draft.notches] if notches else []}
            if "seam" in lines:
                of["seam"] = thin((draft.with_darts() if piece.name in folded else draft).flat(0.02), 0.005)
            if "cutting" in lines:
                of["cutting"] = draft.cutting(allowance)
            if draft.fold is not None:
                ends = draft.ends()
                of["axis"] = [ends[draft.fold], ends[draft.fold + 1]]
            per_size[sizes[size] if sizes else size] = of
        told.append({"name": piece.name, "count": piece.count, "sizes": per_size})
    first = told[0]
    text = {"drawing": name, "garment": garment, "tolerance": tolerance, "cutting_tolerance": cutting_tolerance or tolerance, "complete": complete, "pieces": told,
            "sizes": list(first["sizes"])}
    rounded = json.loads(json.dumps(text), parse_float=lambda f: round(float(f), 3))
    (OUT / "expected" / (name + ".json")).write_text(json.dumps(rounded, separators=(",", ":")) + "\n")
