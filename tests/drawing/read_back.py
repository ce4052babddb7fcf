# SPDX-License-Identifier: Apache-2.0
"""Reads the drawings back with other programs: read_back.py WRITER.

For every drawing: the SVG is XML without ids, its page is in millimetres, and librsvg gives it that
size; the PDF's page has the same size by pdfinfo; every text of the SVG can be found in the PDF by
pdftotext; no two words, measured by poppler, meet or leave the page; both, made into pixels, show
the same picture. The writer gives the same bytes a second
time, in another time zone and locale.
"""
import os
import re
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as tree
from pathlib import Path

import numpy

SVG = "{http://www.w3.org/2000/svg}"
DPI = 80
failures = []


def check(condition, message):
    if not condition:
        failures.append(message)


def run(*command, **options):
    return subprocess.run(command, check=True, capture_output=True, **options).stdout


def page_of(root):
    """Width and height in mm, which must agree with the view box."""
    width, height = root.get("width"), root.get("height")
    check(width.endswith("mm") and height.endswith("mm"), "page not in mm")
    size = float(width[:-2]), float(height[:-2])
    box = [float(part) for part in root.get("viewBox").split()]
    check(box == [0.0, 0.0, *size], f"view box {box} is not the page {size}")
    return size


def pixels(pdf, stem):
    run("pdftoppm", "-r", str(DPI), "-gray", "-singlefile", str(pdf), str(stem))
    data = Path(str(stem) + ".pgm").read_bytes()
    header = re.match(rb"P5\s+(\d+)\s+(\d+)\s+255\s", data)
    width, height = int(header[1]), int(header[2])
    picture = numpy.frombuffer(data[header.end():], numpy.uint8).reshape(height, width)
    return picture.astype(float)


def blurred(picture):
    """Mean over 3 x 3 pixels: half a pixel's shift of a thin line does not matter."""
    padded = numpy.pad(picture, 1, mode="edge")
    rows, columns = picture.shape
    return sum(padded[i:i + rows, k:k + columns] for i in range(3) for k in range(3)) / 9.0


# Share of pixels that differ by a quarter of the way from black to white, words left out: librsvg
# moves letters closer together where the font asks for it, Cairo's plain text calls do not, so that
# words are compared by their places instead.
LIMIT = 2e-4
# [mm] A word's beginning may be off by this: 1.1 at the end of a line of 100 mm of such letters.
WORD_OFF = 1.5


def words_of(pdf):
    xml = run("pdftotext", "-bbox", str(pdf), "-").decode()
    return [(word[4], *(float(number) for number in word[:4])) for word in WORD.findall(xml)]


def without_words(picture, words):
    """White where a word stands, a pixel more on each side."""
    shown = picture.copy()
    for _, *box in words:
        x0, y0, x1, y1 = (int(round(edge * DPI / 72)) for edge in box)
        shown[max(0, y0 - 1):y1 + 2, max(0, x0 - 1):x1 + 2] = 255.0
    return shown


def share_apart(ours, words, svg, scratch):
    """And whether every word stands where ours does."""
    again = scratch / "again.pdf"
    run("rsvg-convert", "-f", "pdf", str(svg), "-o", str(again))
    theirs = pixels(again, scratch / "theirs")
    if ours.shape != theirs.shape:
        return 1.0, False
    there = words_of(again)
    both = words + there
    apart = numpy.abs(blurred(without_words(ours, both)) - blurred(without_words(theirs, both)))
    off = WORD_OFF * 72 / 25.4
    in_place = len(words) == len(there) and all(
        any(a[0] == b[0] and abs(a[1] - b[1]) < off and abs(a[4] - b[4]) < off for b in there)
        for a in words)
    return (apart > 64).mean(), in_place


def letters(text):
    return re.sub(r"\s+", "", text)


WORD = re.compile(r'<word xMin="([-\d.]+)" yMin="([-\d.]+)" xMax="([-\d.]+)" yMax="([-\d.]+)">(.*)</word>')
# DejaVu Sans, in shares of its line of 0.928 + 0.236 em: what stands above capitals, and below the
# base line.
OVER, UNDER = (0.928 - 0.729) / 1.164, 0.236 / 1.164


def inked(word):
    """poppler's box of a word, as far up and down as its letters go."""
    x0, y0, x1, y1 = (float(number) for number in word[:4])
    text = word[4].replace("&quot;", '"')
    under = 0.0 if re.search(r"[gjpqy,;()/⌀]", text) else UNDER
    wide, high = x1 - x0, y1 - y0
    # Long words lie along their longer side, single letters across it. Names of pivots are level.
    upright = high > wide if len(text) > 1 else wide > high
    if re.match(r"[A-Za-z]", text) and len(text) == 2:
        upright = False
    if upright:  # read from the right: the top of the letters is at the left
        return text, x0 + OVER * wide, y0, x1 - under * wide, y1
    return text, x0, y0 + OVER * high, x1, y1 - under * high


def meeting(words):
    """Pairs of words whose ink meets by more than a fiftieth of a millimetre."""
    slack = 0.02 * 72 / 25.4
    return [(a[0], b[0]) for i, a in enumerate(words) for b in words[:i]
            if min(a[3], b[3]) - max(a[1], b[1]) > slack
            and min(a[4], b[4]) - max(a[2], b[2]) > slack]


def check_words(name, pdf):
    xml = run("pdftotext", "-bbox", str(pdf), "-").decode()
    width, height = (float(x) for x in re.search(r'<page width="([\d.]+)" height="([\d.]+)"',
                                                xml).groups())
    words = [inked(word) for word in WORD.findall(xml)]
    check(len(words) >= 5, f"{name}: only {len(words)} words")
    for a, b in meeting(words):
        failures.append(f"{name}: '{a}' meets '{b}'")
    for text, x0, y0, x1, y1 in words:
        check(x0 >= 0 and y0 >= 0 and x1 <= width and y1 <= height, f"{name}: '{text}' off the page")
    # It would see a word moved onto its neighbour.
    text, x0, y0, x1, y1 = words[0]
    check(meeting(words + [("moved", x0 + 1, y0 + 1, x1 + 1, y1 + 1)]), f"{name}: sees nothing")
    return len(words)


def read_back(svg, scratch):
    name = svg.stem
    root = tree.parse(svg).getroot()
    size = page_of(root)
    check(not any(element.get("id") for element in root.iter()), f"{name}: has ids")
    texts = [element.text for element in root.iter(SVG + "text")]
    check(len(texts) >= 5, f"{name}: only {len(texts)} texts")

    png = scratch / "page.png"
    run("rsvg-convert", "-d", "100", "-p", "100", str(svg), "-o", str(png))
    shown = struct.unpack(">II", png.read_bytes()[16:24])
    for mm, pixel in zip(size, shown):
        check(abs(mm / 25.4 * 100 - pixel) <= 1, f"{name}: {mm} mm shown as {pixel} pixels")

    pdf = svg.with_suffix(".pdf")
    info = run("pdfinfo", str(pdf)).decode()
    points = re.search(r"Page size:\s+([\d.]+) x ([\d.]+) pts", info)
    for mm, point in zip(size, points.groups()):
        check(abs(mm * 72 / 25.4 - float(point)) < 0.01, f"{name}: {mm} mm is {point} pt in PDF")
    check(re.search(r"Pages:\s+1\n", info), f"{name}: not one page")
    check_words(name, pdf)
    found = letters(run("pdftotext", "-raw", str(pdf), "-").decode())
    for text in texts:
        check(letters(text) in found, f"{name}: '{text}' not found in the PDF")

    ours = pixels(pdf, scratch / "ours")
    words = words_of(pdf)
    apart, in_place = share_apart(ours, words, svg, scratch)
    check(in_place, f"{name}: words of SVG and PDF stand apart")
    check(apart < LIMIT, f"{name}: SVG and PDF differ in {1e4 * apart:.2f} of 10000 pixels")
    # The comparison would notice one missing line: the same without its longest visible edge.
    edges = [e for e in root.iter(SVG + "path") if e.get("stroke-width") == "0.5"]
    max(edges, key=lambda edge: len(edge.get("d"))).set("stroke", "none")
    without = scratch / "without.svg"
    tree.ElementTree(root).write(without)
    if name.startswith(("box", "overlay", "arrangement")):
        check(share_apart(ours, words, without, scratch)[0] > 2 * LIMIT, f"{name}: a missing edge goes unseen")
    ink = (ours < 200).mean()
    check(0.005 < ink < 0.5, f"{name}: {100 * ink:.1f} % of the page is dark")


def main(writer):
    with tempfile.TemporaryDirectory() as folder:
        first, second = Path(folder, "first"), Path(folder, "second")
        scratch = Path(folder, "scratch")
        for path in first, second, scratch:
            path.mkdir()
        run(writer, str(first))
        run(writer, str(second), env={**os.environ, "TZ": "Asia/Tokyo", "LC_ALL": "C"})
        drawings = sorted(first.glob("*.svg"))
        check(len(drawings) == 4 * 8 + 2, f"{len(drawings)} drawings")
        for path in sorted(first.iterdir()):
            check(path.read_bytes() == (second / path.name).read_bytes(),
                  f"{path.name}: other bytes the second time")
        for svg in drawings:
            read_back(svg, scratch)
    for failure in failures:
        print(failure)
    print(f"{len(drawings)} drawings read back, {len(failures)} failures")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
