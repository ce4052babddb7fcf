# SPDX-License-Identifier: Apache-2.0
"""Measures the bench's sheets with poppler: read_bench_sheets.py WRITER [FOLDER].

Pages are A4 or US Letter, all fonts are embedded and nothing is a picture. On every full-size page
the two bars are 100 mm and 4 in long from the middle of one end stroke to that of the other, and
every round mark has its ink where its hole is to be. A page printed 1 % too small is noticed.
"""

import csv
import json
import math
import re
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy

DPI = 400
FULL_SIZE = ("templates", "trial", "jig")
MARGIN, FOOT = 10.0, 22.0  # of a full-size page, mm: outside of them nothing is drawn
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


def check(condition, *what):
    if not condition:
        raise AssertionError(" ".join(str(part) for part in what))


def run(*command):
    return subprocess.run(command, check=True, capture_output=True).stdout


def pages_of(pdf):
    """Sizes in mm as pdfinfo says."""
    text = run("pdfinfo", "-f", "1", "-l", "99", str(pdf)).decode()
    return [(float(w) * 25.4 / 72, float(h) * 25.4 / 72)
            for w, h in re.findall(r"^Page +\d+ size: +([\d.]+) x ([\d.]+) pts", text, re.M)]


def ink(pdf, page, dpi=DPI):
    """True where there is dark ink; rows from the top."""
    data = run("pdftoppm", "-r", str(dpi), "-gray", "-f", str(page), "-l", str(page), str(pdf))
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    width, height = int(header[1]), int(header[2])
    return numpy.frombuffer(data[header.end():], numpy.uint8).reshape(height, width) < 160


def words_of(pdf, page):
    """Each word's text and box [mm, y down]."""
    text = run("pdftotext", "-bbox", "-f", str(page), "-l", str(page), str(pdf), "-").decode()
    mm = 25.4 / 72
    return [(word, *(float(v) * mm for v in box)) for *box, word in re.findall(
        r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">([^<]*)</word>', text)]


def runs_of(row):
    edges = numpy.flatnonzero(numpy.diff(numpy.concatenate([[False], row, [False]]).astype(int)))
    return list(zip(edges[::2], edges[1::2]))


def bar_length(picture, words, number, unit):
    """The long line left of the words, from the middle of its first stroke to that of its last."""
    mm = 25.4 / DPI
    for (text, x_min, y_min, _, y_max), (after, *_) in zip(words, words[1:]):
        if (text, after) != (number, unit):
            continue
        for y in range(int(y_min / mm) - 10, int(y_max / mm) + 20):
            long = [(a, b) for a, b in runs_of(picture[y]) if (b - a) * mm > 90.0 and b * mm < x_min]
            if not long:
                continue
            start, end = long[-1]
            # Over the shorter strokes only the two at the ends stand.
            row = picture[y - round(2.4 / mm), start - 20:end + 20]
            strokes = [(a + b) / 2 for a, b in runs_of(row)]
            check(len(strokes) == 2, "strokes of the bar", len(strokes))
            return (strokes[1] - strokes[0]) * mm
    raise AssertionError(f"no bar of {number} {unit}")


def find_marks(picture, height, marks):
    """Ink on the circle between its cross's arms, none half-way to the middle or just outside."""
    mm = 25.4 / DPI
    seen = 0
    width = picture.shape[1] * mm
    for x, y, radius in marks:
        reach = radius + 1.0
        if (x - reach < MARGIN or x + reach > width - MARGIN or y - reach < FOOT
                or y + reach > height - MARGIN):
            continue  # cut by the border of its sheet
        seen += 1

        def share(r):
            angles = numpy.radians([30, 45, 60, 120, 135, 150, 210, 225, 240, 300, 315, 330])
            us = ((x + r * numpy.cos(angles)) / mm).round().astype(int)
            vs = ((height - y - r * numpy.sin(angles)) / mm).round().astype(int)
            near = [picture[v - 1:v + 2, u - 1:u + 2].any() for u, v in zip(us, vs)]
            return sum(near) / len(near)

        check(share(radius) >= 0.9, "no ring of", radius, "at", x, y)
        if radius > 1.2:
            check(share(radius * 0.6) < 0.5, "ink within the ring at", x, y)
    return seen


def read_document(pdf, pages, counts):
    name = pdf.stem
    sizes = pages_of(pdf)
    check(len(sizes) == len(pages), "pages", len(sizes))
    fonts = run("pdffonts", str(pdf)).decode().splitlines()[2:]
    check(fonts and all(line.split()[-5] == "yes" for line in fonts), "fonts not embedded", fonts)
    check(len(run("pdfimages", "-list", str(pdf)).decode().splitlines()) <= 2, "pictures in it")
    inches = "inches" in name or "casket" in name
    paper = PAPERS["letter" if inches else "a4"]
    for number, (size, page) in enumerate(zip(sizes, pages), 1):
        wanted = paper if page["width"] < page["height"] else paper[::-1]
        check(math.dist(size, wanted) < 0.05, "page", size)
        check(math.dist((page["width"], page["height"]), wanted) < 1e-6, "page meant", page)
        words = words_of(pdf, number)
        check(words, "no text on page", number)
        counts["pages"] += 1
        if not name.startswith(FULL_SIZE):
            continue
        picture = ink(pdf, number)
        for number_text, unit, length in (("100", "mm", 100.0), ("4", "in", 101.6)):
            found = bar_length(picture, words, number_text, unit)
            check(abs(found - length) < 0.06, "bar of", number_text, unit, "is", found, "mm")
            counts["bars"] += 1
        counts["marks"] += find_marks(picture, page["height"], page["marks"])


def must_refuse(what, call):
    try:
        call()
    except AssertionError:
        return
    raise AssertionError("not noticed: " + what)


def main():
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(sys.argv[2] if len(sys.argv) > 2 else temporary)
        subprocess.run([sys.argv[1], str(folder)], check=True)
        documents = json.loads((folder / "truth.json").read_text())
        check(len(documents) >= 30, "too few documents", len(documents))
        counts = {"pages": 0, "bars": 0, "marks": 0}
        for document in documents:
            pdf = folder / (document["file"] + ".pdf")
            try:
                read_document(pdf, document["pages"], counts)
            except AssertionError as error:
                raise AssertionError(document["file"] + ": " + str(error)) from error
        check(counts["bars"] >= 80 and counts["marks"] >= 150, "too little measured", counts)
        for table in folder.glob("*.csv"):
            with open(table, newline="", encoding="utf-8") as file:
                rows = list(csv.reader(file, strict=True))
            check(all(len(row) == 7 for row in rows), "cells of", table.name)
            check({row[0] for row in rows[1:]} == {"parts", "saw", "sheets"}, "lists", table.name)

        pdf = folder / (documents[0]["file"] + ".pdf")
        page = documents[0]["pages"][0]
        moved = [[x + 0.3, y, r] for x, y, r in page["marks"]]
        must_refuse("marks off", lambda: find_marks(ink(pdf, 1), page["height"], moved))
        small = ink(pdf, 1, round(DPI * 0.99))  # as a printer that fits pages to the paper does it
        words = [(word, *(0.99 * v for v in box)) for word, *box in words_of(pdf, 1)]
        found = bar_length(small, words, "100", "mm")
        check(abs(found - 99.0) < 0.06, "a bar printed 1 % too small is", found)
        print(f"{counts['pages']} pages, {counts['bars']} bars and {counts['marks']} marks measured")


if __name__ == "__main__":
    main()
