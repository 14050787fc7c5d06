"""Reads a report on paper by a library of another family: report.py report.pdf plan.json.

Its words are text that can be searched, every sum of the plan stands on the first page to the cent, its title and language are in its properties,
its headings are bookmarks, and every page is A4 or Letter. Ends with 1 where one of these is not so.
"""

import json
import sys

import pdfplumber

PAPERS = [(210.0, 297.0), (215.9, 279.4)]
MM = 25.4 / 72


def main(pdf, plan):
    plan = json.load(open(plan))
    faults = []
    with pdfplumber.open(pdf) as document:
        first = document.pages[0].extract_text()
        for total in plan["totals"]:
            said = f"{total['amount']} {total['currency']}"
            if said not in first:
                faults.append(f"{said} is not on the first page")
        for layout in plan["layouts"]:
            if layout["purchase"]["buy_text"] not in first:
                faults.append(f"{layout['purchase']['buy_text']} is not on the first page")
        if document.metadata.get("Title") != plan["job"]:
            faults.append(f"the title is {document.metadata.get('Title')}")
        lang = document.doc.catalog.get("Lang", b"")
        if not lang.startswith(b"en"):
            faults.append(f"the language is {lang}")
        bookmarks = [title for _, title, *_ in document.doc.get_outlines()]
        for heading in ["What to buy", "Cutting layout", "Before you cut"]:
            if heading not in bookmarks:
                faults.append(f"no bookmark to {heading}")
        for page in document.pages:
            size = sorted([float(page.width) * MM, float(page.height) * MM])
            if not any(abs(size[0] - w) < 0.1 and abs(size[1] - h) < 0.1 for w, h in PAPERS):
                faults.append(f"a page of {size}")
        print(f"report: {len(document.pages)} pages, {len(bookmarks)} bookmarks, {sum(len(p.chars) for p in document.pages)} letters")
    for fault in faults:
        print(f"  {fault}")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2]))
