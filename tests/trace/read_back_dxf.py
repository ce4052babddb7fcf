# SPDX-License-Identifier: Apache-2.0
"""Sections drawn by ezdxf with every kind of curve; the truth is ezdxf's own flattening."""
import math
import pathlib
import random
import sys
import tempfile

import ezdxf

from traced import LIMIT_MM, apart, area, trace

PROGRAM = sys.argv[1]
DEPTH, HEIGHT, WALL, BAND = 200.0, 100.0, 10.0, 12.0
CASE = [(0, -HEIGHT), (DEPTH, -HEIGHT), (DEPTH, 0), (DEPTH - WALL, 0), (DEPTH - WALL, WALL - HEIGHT),
        (WALL, WALL - HEIGHT), (WALL, 0), (0, 0)]
random.seed(3)


def spline(space, points, degree, on, weights=None):
    s = space.add_spline(degree=degree, dxfattribs=on)
    s.control_points = [(x, y, 0) for x, y in points]
    inner = len(points) - degree - 1
    cuts = sorted(random.uniform(0.2, 2.8) for _ in range(inner))
    s.knots = [0.0] * (degree + 1) + cuts + [3.0] * (degree + 1)
    if weights:
        s.weights = weights
    return s


def wavy(n):
    xs = [DEPTH * i / (n - 1) for i in range(n)]
    return [(x, BAND + (0 if i in (0, n - 1) else random.uniform(10, 60)))
            for i, x in enumerate(xs)]


def crown(name, space, on):
    """The lid's upper edge from (0, BAND) to (DEPTH, BAND), as entities in that order."""
    half, rise = DEPTH / 2, 45.0
    radius = (half * half + rise * rise) / (2 * rise)
    centre = (half, BAND + rise - radius)
    turn = math.degrees(math.asin(half / radius))
    if name == "arc":
        return [space.add_arc(centre, radius, 90 - turn, 90 + turn, dxfattribs=on)]
    if name == "arc from below":  # extrusion -z: its own x runs the other way
        return [space.add_arc((-centre[0], centre[1]), radius, 90 - turn, 90 + turn,
                              dxfattribs={**on, "extrusion": (0, 0, -1)})]
    bulges = [-0.3, 0.12, 0.0, -0.9, -0.2]
    if name == "bulges":
        xs = [0, 40, 80, 120, 160, DEPTH]
        points = [(x, BAND + (0 if x in (0, DEPTH) else 25), b) for x, b in zip(xs, bulges + [0])]
        return [space.add_lwpolyline(points, format="xyb", dxfattribs=on)]
    if name == "old polyline":
        p = space.add_polyline2d([(x, BAND + (0 if x in (0, DEPTH) else 25))
                                  for x in (0, 40, 80, 120, 160, DEPTH)], dxfattribs=on)
        for vertex, b in zip(p.vertices, bulges + [0]):
            vertex.dxf.bulge = b
        return [p]
    if name == "ellipse":
        return [space.add_ellipse((half, BAND), (half, 0), 0.4, 0, math.pi, dxfattribs=on)]
    if name == "tilted ellipses":  # two that share their crest, each with its own main axis
        return [space.add_ellipse((half, BAND), (0, 110), half / 110, 0, math.pi / 2, dxfattribs=on),
                space.add_ellipse((half, BAND), (0, -110), half / 110, math.pi / 2, math.pi,
                                  dxfattribs=on)]
    if name == "ellipse from below":
        return [space.add_ellipse((half, BAND), (half, 0), 0.4, -math.pi, 0,
                                  dxfattribs={**on, "extrusion": (0, 0, -1)})]
    degree = {"spline 1": 1, "spline 2": 2, "spline 3": 3, "spline 5": 5}.get(name, 3)
    if name.startswith("spline"):
        return [spline(space, wavy(9), degree, on)]
    if name == "rational":
        return [spline(space, wavy(7), 3, on, [1, 0.4, 2.5, 1, 3, 0.7, 1])]
    raise KeyError(name)


def pieces(entity):
    """Points of the entity itself: ezdxf's paths turn arcs into Béziers, off by up to 0.03 mm."""
    if entity.dxftype() in ("LWPOLYLINE", "POLYLINE"):
        for part in entity.virtual_entities():
            if part.dxftype() == "LINE":
                yield [part.dxf.start, part.dxf.end]
                continue
            points = list(part.flattening(1e-3))  # always counter-clockwise
            yield points if points[0][0] < points[-1][0] else points[::-1]
    elif entity.dxftype() == "SPLINE":
        curve = entity.construction_tool()
        at = {curve.max_t * i / 1500 for i in range(1501)} | set(curve.knots())
        yield list(curve.points(sorted(at)))
    else:
        yield list(entity.flattening(1e-3))


NEW = ["arc", "arc from below", "bulges", "old polyline", "ellipse", "tilted ellipses", "ellipse from below",
       "spline 1", "spline 2", "spline 3", "spline 5", "rational"]
OLD = ["arc", "arc from below", "old polyline"]  # all that R12 has


def draw(release, name, unit, at, turn, block):
    document = ezdxf.new(release, units=unit)
    for layer in ("case", "LID"):
        document.layers.add(layer)
    space = document.blocks.new("SECTION", base_point=(3, 4)) if block else document.modelspace()
    case, lid = {"layer": "case"}, {"layer": "LID"}
    for a, b in zip(CASE, CASE[1:] + CASE[:1]):
        if random.random() < 0.5:
            a, b = b, a
        space.add_line(a, b, dxfattribs=case)
    top = crown(name, space, lid)
    space.add_line((0, 0), (0, BAND), dxfattribs=lid)
    space.add_line((DEPTH, BAND), (DEPTH, 0), dxfattribs=lid)
    space.add_line((0, 0), (DEPTH, 0), dxfattribs=lid)
    truth = []
    for entity in top:
        for piece in pieces(entity):
            truth += [(p[0], p[1]) for p in piece]
    truth = sorted(truth) if name == "tilted ellipses" else truth
    if truth[0][0] > truth[-1][0]:
        truth.reverse()
    if block:
        x, y = at
        document.modelspace().add_blockref("SECTION", (x, y), dxfattribs={
            "xscale": block[0], "yscale": block[1], "rotation": turn})
    return document, [(0, 0)] + truth + [(DEPTH, 0)]


checked = 0
with tempfile.TemporaryDirectory() as folder:
    file = pathlib.Path(folder) / "section.dxf"
    for release, names in [("R12", OLD), ("R2000", NEW), ("R2010", NEW), ("R2018", NEW)]:
        for name in names:
            for block, turn in [(None, 0), ((1, 1), 0), ((-1, -1), 180), ((-1, 1), 0)]:
                document, truth = draw(release, name, 4, (310.5, -47.25), turn, block)
                document.saveas(file)
                options = ["--width", "300"] + (["--unit", "mm"] if release == "R12" else [])
                if block == (-1, 1):
                    options += ["--back", "right"]
                code, said, job = trace(PROGRAM, file, *options)
                assert code == 0, (release, name, block, said)
                station = job["stations"][0]
                gap = max(apart(station["lid"][0], truth), apart(station["case"][0], CASE))
                assert gap <= LIMIT_MM, (release, name, block, gap)
                assert abs(abs(area(truth)) - area(station["lid"][0])) < LIMIT_MM * 2 * DEPTH
                checked += 1

    # Units: the same numbers in inches and in centimetres.
    for unit, mm in [(1, 25.4), (5, 10.0)]:
        document, truth = draw("R2010", "arc", unit, (0, 0), 0, None)
        document.saveas(file)
        code, said, job = trace(PROGRAM, file, "--width", "3000")
        if unit == 1:
            assert code == 2 and "did you mean 200 mm (mm read as inches)" in said, said
        else:
            assert code == 0 and abs(job["case"]["depth"] - DEPTH * mm) < 1e-6, said
        checked += 1

    # Negative control: a crown drawn one millimetre off its place is seen by this comparison.
    document, truth = draw("R2010", "arc", 4, (0, 0), 0, None)
    document.saveas(file)
    _, _, job = trace(PROGRAM, file, "--width", "300")
    assert apart(job["stations"][0]["lid"][0], [(x, y + (y > 30)) for x, y in truth]) > 0.5

assert checked == (len(OLD) + 3 * len(NEW)) * 4 + 2, checked
print(f"{checked} drawings agree within {LIMIT_MM} mm")
