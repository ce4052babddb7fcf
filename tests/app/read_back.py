# SPDX-License-Identifier: Apache-2.0
"""Runs jobs and compares their DXF files, read by ezdxf, with the pieces in hinge.json.

A piece lies in its cut file turned and shifted, so what is compared does not depend on that: the
outline's area and length (arcs by their bulges), diameters, and distances between holes.
"""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import ezdxf

PROGRAM, EXAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
LIMIT_MM = 2e-6
checked_holes = checked_pieces = 0


def close(a, b, limit=LIMIT_MM):
    return abs(a - b) <= limit


def area_and_length(vertices):
    """Of a closed polyline with bulges: the chord polygon and the circle segments beside it."""
    area = length = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1]):
        chord = math.hypot(x1 - x0, y1 - y0)
        area += (x0 * y1 - x1 * y0) / 2
        if abs(bulge) < 1e-12:
            length += chord
            continue
        angle = 4 * math.atan(bulge)
        radius = chord / 2 / math.sin(angle / 2)
        area += radius * radius * (angle - math.sin(angle)) / 2
        length += abs(radius * angle)
    return area, length


def distances(points):
    return sorted(math.dist(a, b) for i, a in enumerate(points) for b in points[:i])


with tempfile.TemporaryDirectory() as folder:
    for name in ["sample_chest", "barrel_chest", "jewellery_casket"]:
        out = pathlib.Path(folder) / name
        subprocess.run([PROGRAM, "fit", EXAMPLES / f"{name}.json", "--frames", "2", "--out", out],
                       check=True, stdout=subprocess.DEVNULL)
        hinge = json.loads((out / "hinge.json").read_text())
        pieces = {p["name"]: p for p in hinge["hinges"][0]["parts"]["pieces"]}
        for letter in "ab":  # an arm's holes are where the pivots say
            pitch = math.dist(hinge["pivots"][f"case_{letter}"], hinge["pivots"][f"lid_{letter}"])
            holes = pieces[f"arm {letter.upper()}"]["holes"]
            assert close(math.dist(holes[0]["at"], holes[1]["at"]), pitch), (name, letter)
        for piece_name in ["arm A", "arm B", "case plate", "lid plate"]:
            piece = pieces[piece_name]
            for side in ["left", "right"]:
                file = f"{piece_name.lower().replace(' ', '_')}_{side}.dxf"
                document = ezdxf.readfile(out / "cut" / file)
                audit = document.audit()
                assert not audit.errors and not audit.fixes, (name, file, audit.errors)
                assert document.units == 4, "millimetres"
                entities = list(document.modelspace())
                layers = [e.dxf.layer for e in entities]
                assert layers == sorted(layers, key=["DRILL", "HOLES", "OUTLINE"].index), layers
                outline = [e for e in entities if e.dxftype() == "POLYLINE"
                           and e.dxf.layer == "OUTLINE"]
                assert len(outline) == 1 and outline[0].is_closed, (name, file)
                read = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge)
                        for v in outline[0].vertices]
                assert len(read) == len(piece["outline"])
                area, length = area_and_length(read)
                wanted_area, wanted_length = area_and_length([tuple(v) for v in piece["outline"]])
                assert area > 0 and close(area, wanted_area, 1e-6 * wanted_area), (name, file)
                assert close(length, wanted_length, 1e-6 * wanted_length), (name, file)
                # Holes to size are circles; what the cutter cannot make is a point to drill at.
                circles = [e.dxf.center for e in entities if e.dxftype() == "CIRCLE"]
                points = [e.dxf.location for e in entities if e.dxftype() == "POINT"]
                holes = [(c.x, c.y) for c in circles + points]
                wanted = piece["holes"] + piece["drills"]
                assert len(holes) == len(wanted), (name, file, len(holes), len(wanted))
                read_sizes = [2 * e.dxf.radius for e in entities if e.dxftype() == "CIRCLE"]
                sizes = sorted(w["diameter"] for w in wanted)
                for r, w in zip(sorted(read_sizes, reverse=True), sizes[::-1]):
                    assert close(r, w), (name, file, r, w)
                for r, w in zip(distances(holes), distances([w["at"] for w in wanted])):
                    assert close(r, w, 4 * LIMIT_MM), (name, file, r, w)
                checked_holes += len(holes)
                checked_pieces += 1

assert checked_pieces == 24 and checked_holes > 60, (checked_pieces, checked_holes)
print(f"{checked_pieces} pieces with {checked_holes} holes agree within {LIMIT_MM} mm")
