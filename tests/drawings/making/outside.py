"""Areas and lengths of what `ellwand write` writes, by other libraries: outside.py COMMAND [FOLDER].

Writes every demo pattern in its first size as SVG and as DXF, reads the cutting lines with svgpathtools and ezdxf, measures them with shapely, and
compares areas and lengths with the record of `ellwand check --json`. Ends with 1 when one is more than 1e-6 off.
"""

import json
import pathlib
import re
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as xml

import ezdxf
import ezdxf.path
from shapely.geometry import Polygon

from garment import DEMO

COMMAND = pathlib.Path(sys.argv[1]).resolve()
FOLDER = pathlib.Path(sys.argv[2] if len(sys.argv) > 2 else tempfile.mkdtemp())


def run(*words):
    return subprocess.run([COMMAND, *map(str, words)], capture_output=True, text=True, check=True).stdout


def of_record(path):
    record = json.loads(path.read_text())
    return {p["piece"]: [Polygon(p["outline"])] for p in record["pieces"]}, record


def svg_outlines(path):
    """Cutting lines by the piece's group."""
    from svgpathtools import parse_path

    out = {}
    root = xml.parse(path).getroot()
    name_of = lambda e: next((v for k, v in e.attrib.items() if k.split("}")[-1] in ("label",)), None) or e.get("id", "")

    def walk(element, names):
        tag = element.tag.split("}")[-1]
        title = element.find("{http://www.w3.org/2000/svg}title")
        names = names + [title.text if title is not None else name_of(element)]
        if tag == "path" and any(n.lower().startswith("cut") for n in names):
            parsed = parse_path(element.get("d"))
            points = []
            for part in parsed:
                steps = 1 if type(part).__name__ == "Line" else 200
                points += [part.point(k / steps) for k in range(steps)]
            out.setdefault(tuple(names), []).append(Polygon([(p.real, -p.imag) for p in points]))
        for child in element:
            walk(child, names)

    walk(root, [])
    return out


def dxf_outlines(path):
    """Cutting lines by block: layer 1."""
    document = ezdxf.readfile(path)
    out = {}
    for block in document.blocks:
        if block.name.startswith("*"):
            continue
        lines = [e for e in block if e.dxf.layer == "1" and e.dxftype() in ("POLYLINE", "LWPOLYLINE", "SPLINE")]
        out[block.name] = [Polygon([(v.x, v.y) for v in ezdxf.path.make_path(e).flattening(1e-3)]) for e in lines]
    return out


def halved(polygon, like):
    """Of a record a piece on the fold is whole; a written one may be a half of it."""
    return polygon.area / 2 if abs(polygon.area / 2 - like.area) < abs(polygon.area - like.area) else polygon.area


worst = 0.0
for pattern in sorted(DEMO.glob("*/*.pattern.toml")):
    text = pattern.read_text()
    first = re.search(r'\[\[size\]\]\s+name = "([^"]+)"(?:\s+figure = "([^"]+)")?', text)
    size = " ".join(filter(None, first.groups())) if first else None
    stem = pattern.name.removesuffix(".pattern.toml")
    asked = ["--size", size] if size else []
    for kind in ("svg", "dxf"):
        run("write", pattern, FOLDER / f"{stem}.{kind}", *asked)
    run("check", pattern, "--json", FOLDER / f"{stem}.json")
    known, record = of_record(FOLDER / f"{stem}.json")
    for kind, outlines in (("svg", svg_outlines(FOLDER / f"{stem}.svg")), ("dxf", dxf_outlines(FOLDER / f"{stem}.dxf"))):
        found = [p for lines in outlines.values() for p in lines]
        off_area, off_length, missing = 0.0, 0.0, 0
        for name, (whole,) in known.items():
            # Whole or half, whichever of the written outlines is nearest in area.
            best = min(found, key=lambda p: min(abs(p.area - whole.area), abs(p.area - whole.area / 2)), default=None)
            if best is None:
                missing += 1
                continue
            area = halved(whole, best)
            off_area = max(off_area, abs(best.area - area) / area)
            if area == whole.area:
                off_length = max(off_length, abs(best.length - whole.length) / whole.length)
        print(f"{stem:16} {kind}: {len(found)} cutting lines, {len(known)} pieces, {missing} missing; area {off_area:.2e}, length {off_length:.2e}")
        worst = max(worst, off_area, off_length, float(missing))
print(f"worst: {worst:.2e}")
sys.exit(worst > 1e-6)
