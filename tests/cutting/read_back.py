#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Reads cut files back with other programs' readers and compares them with the truth.

Usage: read_back.py WRITER [FOLDER]. WRITER FOLDER writes NAME.dxf, NAME.svg and truth.json.
DXF through ezdxf (strict reading, audit), SVG through svgelements, and its ink through librsvg.
"""

import json
import math
import os
import re
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree as ElementTree
import zlib

import ezdxf
import ezdxf.path
import numpy
import svgelements

PLACE_MM = 1e-6  # holes and points of outlines read back to this
AREA = 1e-6  # relative
LAYERS = ["DRILL", "HOLES", "OUTLINE"]
GROUPS = ["drill", "holes", "outline"]
SVG = "{http://www.w3.org/2000/svg}"


def check(condition, *what):
    if not condition:
        raise AssertionError(" ".join(str(part) for part in what))


def near(found, wanted, what, within=PLACE_MM):
    difference = numpy.abs(numpy.asarray(found, float) - numpy.asarray(wanted, float))
    check(difference.shape and difference.max() <= within, what, ": found", found, "not", wanted)


# ---- curves as lines and arcs ------------------------------------------------------------------


class Line:
    def __init__(self, a, b):
        self.a, self.b = complex(*a), complex(*b)

    def area(self):
        return (self.a.conjugate() * self.b).imag / 2

    def distance(self, p):
        edge = self.b - self.a
        t = ((p - self.a) * edge.conjugate()).real / abs(edge) ** 2
        return abs(self.a + min(1.0, max(0.0, t)) * edge - p)

    def extremes(self):
        return [self.a, self.b]


class Arc(Line):
    """From a to b round `centre`, turning by `sweep`, positive counter-clockwise."""

    def __init__(self, a, b, centre, sweep):
        super().__init__(a, b)
        self.centre, self.sweep = complex(*centre), sweep
        self.radius = abs(self.a - self.centre)
        self.start = math.atan2((self.a - self.centre).imag, (self.a - self.centre).real)

    def area(self):
        return super().area() + self.radius**2 / 2 * (self.sweep - math.sin(self.sweep))

    def turn_to(self, angle):
        turn = (angle - self.start) % math.tau
        return turn if self.sweep > 0 else turn - math.tau

    def distance(self, p):
        ends = min(abs(p - self.a), abs(p - self.b))
        angle = math.atan2((p - self.centre).imag, (p - self.centre).real)
        if abs(self.turn_to(angle)) > abs(self.sweep):
            return ends
        return min(ends, abs(abs(p - self.centre) - self.radius))

    def extremes(self):
        points = [self.a, self.b]
        for k in range(4):
            if abs(self.turn_to(k * math.pi / 2)) <= abs(self.sweep):
                points.append(self.centre + self.radius * 1j**k)
        return points


def compare_outline(edges, truth, what):
    area = sum(edge.area() for edge in edges)
    check(abs(area - truth["area"]) <= AREA * truth["area"], what, "area", area, truth["area"])
    points = [p for edge in edges for p in edge.extremes()]
    near([min(p.real for p in points), min(p.imag for p in points)], truth["low"], what + " low")
    near([max(p.real for p in points), max(p.imag for p in points)], truth["high"], what + " high")
    for x, y in truth["on_curve"]:
        miss = min(edge.distance(complex(x, y)) for edge in edges)
        check(miss <= PLACE_MM, what, "misses", (x, y), "by", miss)


def full_circle(x, y, r):
    right, left = (x + r, y), (x - r, y)
    return [Arc(right, left, (x, y), math.pi), Arc(left, right, (x, y), math.pi)]


# ---- DXF ---------------------------------------------------------------------------------------


def edges_of_polyline(polyline):
    """Lines and arcs by ezdxf's own reading of bulges."""
    check(polyline.is_closed, "open polyline")
    check(polyline.is_2d_polyline, "not a plane polyline")
    vertices = [(tuple(v.dxf.location)[:2], v.dxf.get("bulge", 0.0)) for v in polyline.vertices]
    edges = []
    for (a, bulge), (b, _) in zip(vertices, vertices[1:] + vertices[:1]):
        check(math.dist(a, b) > 1e-7, "edge without length at", a)
        check(math.isfinite(bulge), "bulge", bulge)
        if bulge == 0:
            edges.append(Line(a, b))
            continue
        centre, start, end, radius = ezdxf.math.bulge_to_arc(a, b, bulge)
        check(math.isfinite(radius) and 0 < radius < 1e9, "radius", radius)
        sweep = (end - start) % math.tau
        edges.append(Arc(a, b, tuple(centre), sweep if bulge > 0 else -sweep))
    return edges


def read_dxf(path, parts):
    with open(path, "rb") as file:
        data = file.read()
    check(data.isascii() and b"\r" not in data, "not plain lines of ASCII")
    check(not re.search(rb"(?i)^\s*[-+]?(nan|inf)", data, re.MULTILINE), "not a number")
    check(not re.search(rb"^-?[0-9.]+[eE]", data, re.MULTILINE), "an exponent")
    document = ezdxf.readfile(path)  # strict: raises on any fault of structure
    auditor = document.audit()
    check(not auditor.errors, "audit errors", auditor.errors)
    check(not auditor.fixes, "audit fixes", auditor.fixes)
    check(document.dxfversion == "AC1009", document.dxfversion)
    check(document.units == 4, "units", document.units)
    check(document.header["$MEASUREMENT"] == 1, "measurement")
    lows, highs = zip(*[(part["low"], part["high"]) for part in parts])
    near(document.header["$EXTMIN"][:2], numpy.min(lows, 0), "$EXTMIN")
    near(document.header["$EXTMAX"][:2], numpy.max(highs, 0), "$EXTMAX")

    entities = list(document.modelspace())
    check(len(document.blocks) == 2, "blocks besides those of model and paper")
    types = {entity.dxftype() for entity in entities}
    check(types <= {"POINT", "CIRCLE", "POLYLINE"}, "something else to cut:", types)
    layers = [entity.dxf.layer for entity in entities]
    check(set(layers) <= set(LAYERS), "layers", set(layers))
    for layer in layers:
        check(document.layers.has_entry(layer), "undefined layer", layer)
    check(layers == sorted(layers, key=LAYERS.index), "not in the order of cutting")
    for entity in entities:
        if entity.dxftype() == "POLYLINE":
            owned = list(entity.vertices) + [entity.seqend]
            check({v.dxf.layer for v in owned} == {entity.dxf.layer}, "vertex on another layer")

    by_layer = {name: [e for e in entities if e.dxf.layer == name] for name in LAYERS}
    marks = [m for part in parts for m in part["drill_marks"]]
    holes = [h for part in parts for h in part["holes"]]
    check(len(by_layer["DRILL"]) == len(marks), "drill marks")
    check(len(by_layer["HOLES"]) == len(holes), "holes")
    check(len(by_layer["OUTLINE"]) == len(parts), "outlines")
    for point, mark in zip(by_layer["DRILL"], marks):
        check(point.dxftype() == "POINT", point.dxftype())
        near(tuple(point.dxf.location), [mark[0], mark[1], 0], "drill mark")
    for circle, hole in zip(by_layer["HOLES"], holes):
        check(circle.dxftype() == "CIRCLE", circle.dxftype())
        found = [circle.dxf.center.x, circle.dxf.center.y, 2 * circle.dxf.radius]
        near(found, [hole[0], hole[1], 2 * hole[2]], "hole")
        check(circle.dxf.radius > 0, "radius")
    seen = set()
    for outline, part in zip(by_layer["OUTLINE"], parts):
        if outline.dxftype() == "CIRCLE":
            edges = full_circle(outline.dxf.center.x, outline.dxf.center.y, outline.dxf.radius)
        else:
            edges = edges_of_polyline(outline)
            check(len(edges) == part["vertices"], "vertices")
        compare_outline(edges, part, "DXF outline")
        for edge in edges:
            ends = sorted([(edge.a.real, edge.a.imag), (edge.b.real, edge.b.imag)])
            key = (tuple(ends[0]), tuple(ends[1]), round(getattr(edge, "sweep", 0) / 4, 9))
            check(key not in seen or outline.dxftype() == "CIRCLE", "drawn twice", key)
            seen.add(key)
    centres = [tuple(e.dxf.center) for e in by_layer["HOLES"]]
    centres += [tuple(e.dxf.location) for e in by_layer["DRILL"]]
    check(len(set(centres)) == len(centres), "a hole or mark drawn twice")


# ---- SVG ---------------------------------------------------------------------------------------


def edges_of_path(element, flip):
    """Lines and arcs by svgelements' own reading of A commands, turned back to y up."""
    edges = []
    for segment in svgelements.Path(element.get("d")):
        if isinstance(segment, svgelements.Move):
            continue
        a, b = flip(segment.start), flip(segment.end)
        if isinstance(segment, svgelements.Arc):
            check(math.isclose(segment.rx, segment.ry, rel_tol=1e-9), "not a circle's arc")
            edges.append(Arc(a, b, flip(segment.center), -float(segment.sweep)))
        elif math.dist(a, b) > 0 or not isinstance(segment, svgelements.Close):
            check(math.dist(a, b) > 1e-7, "edge without length at", a)
            edges.append(Line(a, b))
    return edges


def read_svg(path, parts):
    root = ElementTree.parse(path).getroot()
    lows, highs = zip(*[(part["low"], part["high"]) for part in parts])
    low, high = numpy.min(lows, 0), numpy.max(highs, 0)
    margin = 2.0
    check(root.get("width").endswith("mm") and root.get("height").endswith("mm"), "not in mm")
    size = [float(root.get("width")[:-2]), float(root.get("height")[:-2])]
    near(size, high - low + 2 * margin, "page")
    check(root.get("viewBox") == "0 0 " + root.get("width")[:-2] + " " + root.get("height")[:-2],
          "viewBox", root.get("viewBox"))
    left, top = low[0] - margin, high[1] + margin

    def flip(point):
        return (point[0] + left, top - point[1])

    ids = [child.get("id") for child in root]
    check(all(child.tag == SVG + "g" for child in root), "something besides groups")
    check(ids == [name for name in GROUPS if name in ids] and ids[-1] == "outline", "groups", ids)
    elements = {child.get("id"): list(child) for child in root}
    for child in root:
        check(child.get("fill") == "none" and 0 < float(child.get("stroke-width")) < 0.1, "stroke")
        for element in child:
            check(not len(element) and not (element.text or "").strip(), "content")
            wanted = {SVG + "path": {"d"}, SVG + "circle": {"cx", "cy", "r"}}[element.tag]
            check(set(element.keys()) == wanted, "attributes", element.keys())

    marks = [m for part in parts for m in part["drill_marks"]]
    holes = [h for part in parts for h in part["holes"]]
    check(len(elements.get("drill", [])) == len(marks), "drill marks")
    check(len(elements.get("holes", [])) == len(holes), "holes")
    check(len(elements["outline"]) == len(parts), "outlines")
    for element, (x, y, r) in zip(elements.get("drill", []), marks):
        strokes = edges_of_path(element, flip)
        check(len(strokes) == 2, "strokes of a drill mark")
        for stroke in strokes:
            middle = (stroke.a + stroke.b) / 2
            near([middle.real, middle.imag], [x, y], "drill mark")
            near([abs(stroke.a - stroke.b)], [r], "reach of a drill mark")

    def circle(element):
        x, y = flip((float(element.get("cx")), float(element.get("cy"))))
        return x, y, float(element.get("r"))

    for element, hole in zip(elements.get("holes", []), holes):
        check(element.tag == SVG + "circle", element.tag)
        near(circle(element), hole, "hole", PLACE_MM / 2)
    for element, part in zip(elements["outline"], parts):
        if element.tag == SVG + "circle":
            edges = full_circle(*circle(element))
        else:
            check(element.get("d").endswith("Z"), "open path")
            edges = edges_of_path(element, flip)
        compare_outline(edges, part, "SVG outline")

    # svgelements' box of the whole drawing, units and all. It takes a millimetre to be
    # 0.0393701 in, 5.4e-7 of itself too much.
    drawing = svgelements.SVG.parse(path, ppi=25.4)  # so that its pixels are millimetres
    boxes = [element.bbox(with_stroke=False) for element in drawing.elements()
             if isinstance(element, svgelements.Shape)]
    boxes = numpy.array(boxes)
    near([*boxes[:, :2].min(0), *boxes[:, 2:].max(0)],
         [margin, margin, size[0] - margin, size[1] - margin], "bbox",
         1e-6 * max(size))
    return flip


# ---- ink ---------------------------------------------------------------------------------------


def read_png(data):
    """Alpha channel of an 8-bit RGBA PNG, as PNG's specification says (clauses 9 and 11)."""
    check(data[:8] == b"\x89PNG\r\n\x1a\n", "not a PNG")
    position, packed = 8, b""
    while position < len(data):
        (length,) = struct.unpack(">I", data[position:position + 4])
        kind, chunk = data[position + 4:position + 8], data[position + 8:position + 8 + length]
        if kind == b"IHDR":
            width, height, depth, colour, _, _, interlace = struct.unpack(">IIBBBBB", chunk)
            check((depth, colour, interlace) == (8, 6, 0), "PNG kind")
        if kind == b"IDAT":
            packed += chunk
        position += 12 + length
    raw = numpy.frombuffer(zlib.decompress(packed), numpy.uint8).reshape(height, 1 + 4 * width)
    image = numpy.zeros((height + 1, 4 * width + 4), numpy.uint8)  # a border of zeros
    for row in range(height):
        above, line, filtered = image[row], image[row + 1], raw[row, 1:]
        kind = raw[row, 0]
        if kind == 0:
            line[4:] = filtered
        elif kind == 2:
            line[4:] = filtered + above[4:]
        elif kind == 1:
            line[4:] = numpy.cumsum(filtered.reshape(-1, 4), 0, dtype=numpy.uint8).ravel()
        else:
            for i in range(4, 4 * width + 4):
                a, b, c = int(line[i - 4]), int(above[i]), int(above[i - 4])
                if kind == 3:
                    guess = (a + b) // 2
                else:
                    estimate = a + b - c
                    guess = min((abs(estimate - a), 0, a), (abs(estimate - b), 1, b),
                                (abs(estimate - c), 2, c))[2]
                line[i] = (int(filtered[i - 4]) + guess) & 255
    return image[1:, 4:].reshape(height, width, 4)[:, :, 3]


def alpha_of(path, dpi):
    run = subprocess.run(["rsvg-convert", f"--dpi-x={dpi}", f"--dpi-y={dpi}", "--format=png", path],
                         check=True, capture_output=True)
    return read_png(run.stdout)


def measure_inch(path):
    """A square of one inch at 600 dpi is 600 pixels from stroke to stroke."""
    alpha = alpha_of(path, 600).astype(float)
    for name, line in [("width", alpha[len(alpha) // 2]), ("height", alpha[:, len(alpha) // 2])]:
        half = len(line) // 2
        places = numpy.arange(len(line)) + 0.5  # middles of pixels
        first = (line * places)[:half].sum() / line[:half].sum()
        last = (line * places)[half:].sum() / line[half:].sum()
        check(abs(last - first - 600) <= 1, name, "of 25.4 mm at 600 dpi:", last - first, "pixels")
        check(abs(first - 2.0 / 25.4 * 600) <= 1, "margin", first)
    near(alpha.shape, [29.4 / 25.4 * 600] * 2, "page in pixels", 1)


def find_ink(path, parts, flip_back, dpi):
    """Every point known to lie on an outline has ink within a pixel."""
    ink = alpha_of(path, dpi) > 0
    grown = ink.copy()
    grown[1:] |= ink[:-1]
    grown[:-1] |= ink[1:]
    grown[:, 1:] |= grown[:, :-1].copy()
    grown[:, :-1] |= grown[:, 1:].copy()
    for part in parts:
        for point in part["on_curve"]:
            x, y = flip_back(point)
            check(grown[int(y / 25.4 * dpi), int(x / 25.4 * dpi)], "no ink at", point)


# ---- nested sheets and paths with tabs ---------------------------------------------------------


def distance(points, ring):
    """From the points of one polygon to the nearest of another's edges."""
    a, edge = ring[:-1], numpy.diff(ring)
    a, edge = a[abs(edge) > 0], edge[abs(edge) > 0]
    t = ((points[:, None] - a) / edge).real.clip(0, 1)
    return abs(points[:, None] - a - t * edge).min()


def read_nest(path, spacing, count):
    """The outlines of a sheet as ezdxf reads them lie apart by the spacing, and none in another."""
    shapes = []
    for entity in ezdxf.readfile(path).modelspace():
        if entity.dxf.layer != "OUTLINE":
            continue
        flat = [complex(p.x, p.y) for p in ezdxf.path.make_path(entity).flattening(0.001)]
        shapes.append(numpy.array(flat))
    check(len(shapes) == count, "parts on the sheet", len(shapes))
    for i, shape in enumerate(shapes):
        for other in shapes[:i]:
            least = min(distance(shape, other), distance(other, shape))
            check(least >= spacing, "parts only", least, "apart")
            for inner, outer in ((shape, other), (other, shape)):  # turns about a point inside
                turns = numpy.angle((outer[1:] - inner[0]) / (outer[:-1] - inner[0])).sum()
                check(abs(turns) < 1, "a part within another")


def entities(path):
    """Numbers of a file's outlines (points and bulges in their order), circles and marks."""
    outlines, circles = [], []
    for entity in ezdxf.readfile(path).modelspace():
        if entity.dxftype() == "CIRCLE":
            circles.append((*tuple(entity.dxf.center)[:2], entity.dxf.radius))
        elif entity.dxftype() == "POINT":
            circles.append((*tuple(entity.dxf.location)[:2], 0.0))
        elif entity.dxftype() == "POLYLINE":
            outlines.append([(*tuple(v.dxf.location)[:2], v.dxf.get("bulge", 0.0))
                             for v in entity.vertices])
    return outlines, circles


def read_mirrors(left, right):
    """Every number of the one is that of the other or its negative, to the last decimal."""
    (outlines, circles), (others, other_circles) = entities(left), entities(right)
    check(len(outlines) == len(others) == 1, "not one outline each")
    # Mirrored and run backwards: the edge from point i to the next has its bulge at the next.
    n = len(outlines[0])
    wanted = [(-outlines[0][(i + 1) % n][0], outlines[0][(i + 1) % n][1], outlines[0][i][2])
              for i in reversed(range(n))]
    start = others[0].index(wanted[0]) if wanted[0] in others[0] else -1
    check(start >= 0 and others[0][start:] + others[0][:start] == wanted, "not mirrored", right)
    check([(-x, y, r) for x, y, r in circles] == other_circles, "holes not mirrored", right)


def read_pitch(path, pitch):
    (x, y, _), (u, v, _) = entities(path)[1][-2:]
    near([math.dist((x, y), (u, v))], [pitch], "pitch of holes", 1e-8)


def length_of(edges):
    return sum(abs(edge.sweep) * edge.radius if isinstance(edge, Arc) else abs(edge.b - edge.a)
               for edge in edges)


def read_path(base, truth):
    """Open runs whose length and the tabs' make up the whole way round, in DXF and in SVG."""
    dxf, svg = [], []
    for entity in ezdxf.readfile(base + ".dxf").modelspace():
        if entity.dxf.layer != "OUTLINE":
            continue
        check(entity.dxftype() == "POLYLINE" and not entity.is_closed, "a closed run")
        vertices = [(tuple(v.dxf.location)[:2], v.dxf.get("bulge", 0.0)) for v in entity.vertices]
        check(vertices[-1][1] == 0.0, "an edge after the last vertex")
        edges = []
        for (a, bulge), (b, _) in zip(vertices, vertices[1:]):
            check(math.dist(a, b) > 1e-7, "edge without length at", a)
            if bulge == 0:
                edges.append(Line(a, b))
                continue
            centre, start, end, _ = ezdxf.math.bulge_to_arc(a, b, bulge)
            sweep = (end - start) % math.tau
            edges.append(Arc(a, b, tuple(centre), sweep if bulge > 0 else -sweep))
        dxf.append(edges)
    for group in ElementTree.parse(base + ".svg").getroot():
        if group.get("id") == "outline":
            for element in group:
                check("Z" not in element.get("d"), "a closed run")
                svg.append(edges_of_path(element, lambda p: (p[0], -p[1])))
    for runs in dxf, svg:
        check(len(runs) == truth["runs"], "runs", len(runs))
        left = sum(length_of(edges) for edges in runs) + truth["runs"] * truth["gap"]
        near([left], [truth["length"]], "length with tabs", 1e-5)
        for a, b in zip(runs, runs[1:] + runs[:1]):
            gap = abs(b[0].a - a[-1].b)
            check(0.3 * truth["gap"] < gap <= truth["gap"] + 1e-6, "gap", gap)


# ---- readers that must notice ------------------------------------------------------------------


def must_fail(what, read, path, parts, change):
    """The checks above are worth something only if they notice a spoilt file."""
    with open(path, encoding="ascii") as file:
        text = file.read()
    spoilt = change(text)
    check(spoilt != text, "nothing to spoil:", what)
    with tempfile.NamedTemporaryFile("w", suffix=os.path.splitext(path)[1]) as file:
        file.write(spoilt)
        file.flush()
        try:
            read(file.name, parts)
        except (AssertionError, ezdxf.DXFError, ValueError):
            return
    raise AssertionError("not noticed: " + what)


def must_refuse(what, read, *arguments):
    try:
        read(*arguments)
    except AssertionError:
        return
    raise AssertionError("not noticed: " + what)


def main():
    writer = sys.argv[1]
    with tempfile.TemporaryDirectory() as temporary:
        folder = sys.argv[2] if len(sys.argv) > 2 else temporary
        subprocess.run([writer, folder], check=True)
        with open(os.path.join(folder, "truth.json"), encoding="ascii") as file:
            samples = json.load(file)
        check(len(samples) >= 25, "too few samples:", len(samples))
        truth = {sample["name"]: sample["parts"] for sample in samples}
        for name, parts in truth.items():
            base = os.path.join(folder, name)
            try:
                read_dxf(base + ".dxf", parts)
                flip = read_svg(base + ".svg", parts)
                left, top = flip((0, 0))
                find_ink(base + ".svg", parts, lambda p: (p[0] - left, top - p[1]), 150)
            except AssertionError as error:
                raise AssertionError(name + ": " + str(error)) from error
        with open(os.path.join(folder, "hinges.json"), encoding="ascii") as file:
            hinges = json.load(file)
        check(len(hinges["nests"]) >= 10, "too few sheets", hinges["nests"])
        for name, spacing in hinges["nests"]:
            read_nest(os.path.join(folder, name + ".dxf"), spacing, len(truth[name]))
        check(len(hinges["mirrors"]) >= 16, "too few pairs", hinges["mirrors"])
        for left, right in hinges["mirrors"]:
            read_mirrors(os.path.join(folder, left + ".dxf"), os.path.join(folder, right + ".dxf"))
        check(len(hinges["pitches"]) >= 12, "too few arms", hinges["pitches"])
        for name, pitch in hinges["pitches"]:
            read_pitch(os.path.join(folder, name + ".dxf"), pitch)
        with open(os.path.join(folder, "paths.json"), encoding="ascii") as file:
            paths = json.load(file)
        check(len(paths) >= 5, "too few paths", len(paths))
        for path in paths:
            read_path(os.path.join(folder, path["name"]), path)
        measure_inch(os.path.join(folder, "inch_square.svg"))

        sheet = os.path.join(folder, "sheet")
        parts = truth["sheet"]
        for what, change in {
            "a bulge turned over": lambda t: t.replace("\n42\n-", "\n42\n", 1),
            "an open polyline": lambda t: t.replace("\n70\n1\n0\nVERTEX", "\n70\n0\n0\nVERTEX", 1),
            "an undefined layer": lambda t: t.replace("\nLAYER\n2\nHOLES", "\nLAYER\n2\nHALLS"),
            "inches": lambda t: t.replace("$INSUNITS\n70\n4", "$INSUNITS\n70\n1"),
            "a hole 2 µm off": lambda t: t.replace("15.123456789", "15.123458789"),
            "not a number": lambda t: t.replace("15.123456789", "nan"),
            "a radius of zero": lambda t: t.replace("\n40\n1.5\n", "\n40\n0.0\n"),
        }.items():
            must_fail(what, read_dxf, sheet + ".dxf", parts, change)
        for what, change in {
            "a sweep flag turned over": lambda t: re.sub(r"( A \S+ \S+ 0 0) 0", r"\1 1", t, 1),
            "pixels for millimetres": lambda t: t.replace("mm\"", "px\"", 1),
            "a hole off": lambda t: re.sub(r'cx="', 'cx="1', t, count=1),
            "a filled group": lambda t: t.replace('fill="none"', 'fill="red"', 1),
        }.items():
            must_fail(what, read_svg, sheet + ".svg", parts, change)
        name, spacing = hinges["nests"][0]
        nest, count = os.path.join(folder, name + ".dxf"), len(truth[name])
        must_refuse("parts too near each other", read_nest, nest, spacing + 3.0, count)
        must_refuse("a part missing", read_nest, nest, spacing, count + 1)
        left, right = (os.path.join(folder, n + ".dxf") for n in hinges["mirrors"][0])
        must_refuse("a part not turned over", read_mirrors, left, left)
        must_refuse("a hole off", read_pitch, os.path.join(folder, hinges["pitches"][0][0] + ".dxf"),
                    hinges["pitches"][0][1] + 1e-7)
        print(f"{len(paths)} paths, {len(samples)} drawings and {len(hinges['mirrors'])} mirror pairs "
              "read back by ezdxf, svgelements and librsvg")


if __name__ == "__main__":
    main()
