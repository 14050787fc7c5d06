"""Strokes and words between a garment and a drawing library, mm, y up; and the habits of drawing marks."""

import math
from dataclasses import dataclass, field


@dataclass
class Stroke:
    start: tuple
    parts: list
    closed: bool = False
    colour: tuple = (0, 0, 0)
    width: float = 0.35
    dash: tuple = ()
    layer: str = ""
    fill: bool = False
    kind: str = ""


@dataclass
class Words:
    at: tuple
    text: str
    height: float = 6.0
    layer: str = ""


@dataclass
class Sheet:
    width: float
    height: float
    items: list = field(default_factory=list)

    def add(self, *items):
        self.items.extend(items)


def line(points, closed=False, **style):
    return Stroke(points[0], [("L", p) for p in points[1:]], closed, **style)


def curves(draft, **style):
    return Stroke(draft.start, draft.parts, True, **style)


def short_lines(draft, chord=0.004, **style):
    return line(draft.flat(chord), True, **style)


def sides(draft, **style):
    """Every side a path of its own."""
    at, out = draft.start, []
    for part in draft.parts:
        out.append(Stroke(at, [part], False, **style))
        at = part[-1]
    return out


def broken(draft, gap=18.0, **style):
    """Broken in the middle of its longest side, as for a label; a curve of its gap is nearly straight there."""
    ends = draft.ends()
    k = max((k for k in range(len(draft.parts)) if k != draft.fold), key=lambda k: (draft.parts[k][0] == "L", math.dist(ends[k], ends[k + 1])))
    a, part = ends[k], draft.parts[k]
    half = gap / 2 / math.dist(a, ends[k + 1])
    before, _ = split(a, part, 0.5 - half)
    _, after = split(a, part, 0.5 + half)
    parts = [after[1]] + draft.parts[k + 1:] + draft.parts[:k] + [before[1]]
    return Stroke(after[0], parts, False, **style)


def split(start, part, t):
    """A part cut in two: where each starts, and the part."""
    mix = lambda p, q: (p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t)
    if part[0] == "L":
        at = mix(start, part[1])
        return (start, ("L", at)), (at, ("L", part[1]))
    _, a, b, end = part
    p, q, r = mix(start, a), mix(a, b), mix(b, end)
    pq, qr = mix(p, q), mix(q, r)
    at = mix(pq, qr)
    return (start, ("C", p, pq, at)), (at, ("C", qr, r, end))


def outwards(draft, at):
    """Unit vector along the outline and outwards, at a point of it."""
    points = draft.flat(0.005)
    best = None
    for k, a in enumerate(points):
        b = points[(k + 1) % len(points)]
        ax, ay = b[0] - a[0], b[1] - a[1]
        square = ax * ax + ay * ay
        if square == 0:
            continue
        t = max(0, min(1, ((at[0] - a[0]) * ax + (at[1] - a[1]) * ay) / square))
        p = (a[0] + ax * t, a[1] + ay * t)
        off = math.dist(p, at)
        if best is None or off < best[0]:
            size = math.sqrt(square)
            best = (off, (ax / size, ay / size), p)
    (ux, uy), at = best[1], best[2]
    area = sum(p[0] * q[1] - p[1] * q[0] for p, q in zip(points, points[1:] + points[:1]))
    side = 1 if area > 0 else -1
    return (ux, uy), (uy * side, -ux * side), at


def ticks(draft, size=5.0, **style):
    out = []
    for notch in draft.notches:
        _, (nx, ny), at = outwards(draft, notch)
        out.append(line([at, (at[0] - nx * size, at[1] - ny * size)], kind="notch", **style))
    return out


def triangles(draft, size=5.0, **style):
    out = []
    for notch in draft.notches:
        (ux, uy), (nx, ny), at = outwards(draft, notch)
        a, b = (at[0] - ux * size / 2, at[1] - uy * size / 2), (at[0] + ux * size / 2, at[1] + uy * size / 2)
        out.append(line([a, (at[0] - nx * size, at[1] - ny * size), b], True, kind="notch", **style))
    return out


def diamonds(draft, size=5.0, **style):
    out = []
    for notch in draft.notches:
        (ux, uy), (nx, ny), at = outwards(draft, notch)
        on = lambda u, n: (at[0] + ux * u + nx * n, at[1] + uy * u + ny * n)
        out.append(line([on(-size / 2, 0), on(0, -size), on(size / 2, 0), on(0, size)], True, kind="notch", **style))
    return out


def t_shapes(draft, size=6.0, **style):
    out = []
    for notch in draft.notches:
        (ux, uy), (nx, ny), at = outwards(draft, notch)
        on = lambda u, n: (at[0] + ux * u + nx * n, at[1] + uy * u + ny * n)
        out.append(line([on(0, 0), on(0, -size)], kind="notch", **style))
        out.append(line([on(-size / 3, -size), on(size / 3, -size)], kind="notch", **style))
    return out


def arrow(ends, head="lines", size=6.0, **style):
    """A grainline with heads at both ends: as lines, as filled triangles, or none but a marker of the format."""
    (ax, ay), (bx, by) = ends
    length = math.dist(*ends)
    ux, uy = (bx - ax) / length, (by - ay) / length
    out = [line(ends, kind="grain", **style)]
    for (x, y), way in (((ax, ay), 1), ((bx, by), -1)):
        back = lambda side: (x + ux * way * size - uy * side * size / 2.5, y + uy * way * size + ux * side * size / 2.5)
        if head == "lines":
            out.append(line([back(1), (x, y), back(-1)], kind="head", **style))
        elif head == "filled":
            out.append(Stroke(back(1), [("L", (x, y)), ("L", back(-1))], True, fill=True, kind="head", **style))
    return out


def bracket(draft, deep=12.0, share=0.6, **style):
    """The bracket that points at the edge on the fold."""
    ends = draft.ends()
    a, b = ends[draft.fold], ends[draft.fold + 1]
    xs = [p[0] for p in draft.flat(0.5)]
    inwards = 1 if sum(xs) / len(xs) > a[0] else -1
    low, high = min(a[1], b[1]), max(a[1], b[1])
    y1, y2 = low + (high - low) * (1 - share) / 2, high - (high - low) * (1 - share) / 2
    x = a[0] + inwards * deep
    heads = []
    for y in (y1, y2):
        tip = a[0] + inwards * 0.5
        heads.append(line([(tip + inwards * 4, y + 1.6), (tip, y), (tip + inwards * 4, y - 1.6)], kind="head", **style))
    return [line([(a[0] + inwards * 0.5, y1), (x, y1), (x, y2), (a[0] + inwards * 0.5, y2)], kind="fold", **style)] + heads


def circle(at, radius=4.0, **style):
    k = 0.5522847498 * radius
    x, y = at
    return Stroke((x + radius, y), [
        ("C", (x + radius, y + k), (x + k, y + radius), (x, y + radius)),
        ("C", (x - k, y + radius), (x - radius, y + k), (x - radius, y)),
        ("C", (x - radius, y - k), (x - k, y - radius), (x, y - radius)),
        ("C", (x + k, y - radius), (x + radius, y - k), (x + radius, y)),
    ], True, **style)


def cross(at, size=4.0, **style):
    x, y = at
    return [line([(x - size, y), (x + size, y)], **style), line([(x, y - size), (x, y + size)], **style)]


def square(at, side=100.0, words="Test square 10 cm", **style):
    x, y = at
    return [line([(x, y), (x + side, y), (x + side, y + side), (x, y + side)], True, **style), Words((x + 6, y + side / 2), words, 6)]


def middle(draft):
    """Where words find room: beside the middle of the grainline."""
    (ax, ay), (bx, by) = draft.grain
    return (ax + bx) / 2 + 6, (ay + by) / 2


def named(piece, draft, height=7.0):
    x, y = middle(draft)
    return [Words((x, y), piece.name, height), Words((x, y - height * 1.6), piece.words(), height * 0.7)]
