#!/usr/bin/env python3
"""Read the PDFs of a sheet and compare them with the same sheet as CSV.

    pdf_check.py --program PROGRAM RUN OPTION...

Makes the sheet that the options ask for, for each reader, on each paper, in small and in large print, and checks: the size of the
pages (ISO 216 A4, US Letter), that every question and, where they belong, every answer stands on them and no answer where
it does not, a picture with words for each exercise, embedded fonts, a title, tags, no blank page, and the same bytes a
second time. Needs pypdf.
"""

import argparse
import csv
import io
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import pypdf

PAPERS = {"a4": (210, 297), "letter": (215.9, 279.4)}
POINTS = 72 / 25.4


def plain(text: str) -> str:
    """A text without what a line break can change, and without the difference between apostrophes."""
    return re.sub(r"[\s\u00a0\u00ad]+", "", text.replace("\u2019", "'").replace("-\n", "-"))


def figures(node, found: list) -> list:
    """What the pictures are called for those who can't see them."""
    node = node.get_object() if hasattr(node, "get_object") else node
    if isinstance(node, list):
        for kid in node:
            figures(kid, found)
    elif isinstance(node, dict):
        if node.get("/S") == "/Figure":
            found.append(str(node.get("/Alt", "")))
        if "/K" in node:
            figures(node["/K"], found)
    return found


def is_embedded(font) -> bool:
    """Whether the reader needs no font of its own."""
    font = font.get_object()
    parts = font.get("/DescendantFonts", [font])
    described = [part.get_object()["/FontDescriptor"].get_object() for part in parts]
    return all(any(key in one for key in ("/FontFile", "/FontFile2", "/FontFile3")) for one in described)


def faults(pdf: bytes, again: bytes, rows: list[dict], paper: str, sees: bool) -> list[str]:
    """What is wrong with a sheet."""
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    wrong = [] if pdf == again else ["other bytes the second time"]
    width, height = (side * POINTS for side in PAPERS[paper])
    texts = []
    for number, page in enumerate(reader.pages, 1):
        box = page.mediabox
        if abs(float(box.width) - width) > 1 or abs(float(box.height) - height) > 1:
            wrong.append(f"page {number} is {box.width} by {box.height} points")
        texts.append(page.extract_text())
        if len(plain(texts[-1])) < 20:
            wrong.append(f"page {number} is blank")
        fonts = page.get("/Resources", {}).get("/Font", {})
        wrong += [f"font {name} is not embedded" for name, font in fonts.items() if not is_embedded(font)]
    whole = plain("\n".join(texts))
    for row in rows:
        if plain(row["question"].rstrip(".")) not in whole:
            wrong.append(f"question {row['number']} is missing: {row['question']}")
        if (plain(row["answer"]) in whole) != sees:
            wrong.append(f"answer {row['number']} is {'missing' if sees else 'told'}: {row['answer']}")
    root = reader.trailer["/Root"]
    named = figures(root.get("/StructTreeRoot", {}), [])
    if len(named) != len(rows) or not all("to move" in name for name in named):
        wrong.append(f"{len(named)} pictures for {len(rows)} exercises: {named[:2]}")
    if not (reader.metadata or {}).get("/Title"):
        wrong.append("no title")
    if not root.get("/MarkInfo", {}).get("/Marked"):
        wrong.append("no tags")
    return wrong


def main() -> int:
    """Check all sheets."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--program", required=True)
    options.add_argument("run")
    known, asked = options.parse_known_args()
    wrong = checked = 0
    with tempfile.TemporaryDirectory() as folder:
        def made(*more: str, ending: str) -> bytes:
            out = Path(folder, f"sheet{ending}")
            subprocess.run([known.program, "exercises", known.run, *asked, *more, "-o", out, "--quiet"], check=True)
            return out.read_bytes()

        rows = list(csv.DictReader(io.StringIO(made(ending=".csv").decode())))
        for audience in ("pupil", "teacher", "both"):
            for paper, look in (("a4", []), ("letter", []), ("a4", ["--large"]), ("letter", ["--per-page", "6"])):
                more = ["--for", audience, "--paper", paper, *look]
                pdf, again = (made(*more, ending=".pdf") for _ in range(2))
                for fault in faults(pdf, again, rows, paper, audience != "pupil"):
                    print(f"{' '.join(more)}: {fault}")
                    wrong += 1
                checked += 1
    print(f"{checked} PDFs of {len(rows)} exercises read: {wrong} faults")
    return 1 if wrong or not rows else 0


if __name__ == "__main__":
    sys.exit(main())
