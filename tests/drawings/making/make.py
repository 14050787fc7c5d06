"""Makes every drawing of the folder above, and what is expected of it: make.py [NAME ...], all unless named.

Needs pycairo, reportlab, matplotlib, fpdf2, svgwrite, drawsvg, ezdxf and shapely.
"""

import sys

import dxf
import pdf
import svg

MAKERS = [pdf.by_cairo, pdf.by_reportlab, pdf.by_matplotlib, pdf.by_fpdf, svg.by_svgwrite_layers, svg.by_svgwrite_order, svg.by_drawsvg,
          svg.by_editor, svg.by_headless_editor, svg.by_matplotlib, dxf.by_words, dxf.by_lines, dxf.by_numbers]

for maker in MAKERS:
    name = f"{maker.__module__}.{maker.__name__}"
    if len(sys.argv) == 1 or name in sys.argv[1:]:
        print(name)
        maker()
