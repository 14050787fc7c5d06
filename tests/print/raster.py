"""Measures the test squares of a first page in its raster of 300 dots an inch: raster.py PAGE.pgm.

The squares have one corner in common and sides of 100 mm and 4 in, so the page has upright dark lines as long as either. Ends with 1 where the
two are not found within two dots (0.17 mm).
"""

import sys

MM = 25.4 / 300


def dots(path):
    """Width, height and grey of each dot of a binary PGM."""
    data = open(path, "rb").read()
    header, at = [], 0
    while len(header) < 4:
        end = at
        while data[end] not in b" \t\r\n":
            end += 1
        header.append(data[at:end])
        at = end + 1
    width, height = int(header[1]), int(header[2])
    return width, height, data[at:]


def runs(width, height, grey):
    """Lengths of upright dark lines between 95 and 106 mm, in mm."""
    for x in range(width):
        column = grey[x::width]
        begin = None
        for y in range(height + 1):
            dark = y < height and column[y] < 160
            if dark and begin is None:
                begin = y
            if not dark and begin is not None:
                length = (y - begin) * MM
                if 95 < length < 106:
                    yield length
                begin = None


def main(path):
    found = sorted(runs(*dots(path)))
    # A line is 0.2 mm wide, and a square is drawn along the middle of its lines.
    wanted = [100 + 0.2, 101.6 + 0.2]
    near = [min(found, key=lambda length: abs(length - side), default=0) for side in wanted]
    print(f"raster: {', '.join(f'{length - 0.2:.2f}' for length in near)} mm")
    return 0 if all(abs(a - b) < 2 * MM for a, b in zip(near, wanted)) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
