# SPDX-License-Identifier: Apache-2.0
"""Runs jobs and compares their DXF files, read by ezdxf, with hinge.json to 1e-6 mm."""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import ezdxf

PROGRAM, EXAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
LIMIT_MM = 1e-6
checked = 0


def close(a, b):
    return abs(a - b) <= LIMIT_MM


with tempfile.TemporaryDirectory() as folder:
    for name in ["sample_chest", "barrel_chest", "jewellery_casket"]:
        out = pathlib.Path(folder) / name
        subprocess.run([PROGRAM, "fit", EXAMPLES / f"{name}.json", "--frames", "2", "--out", out],
                       check=True, stdout=subprocess.DEVNULL)
        hinge = json.loads((out / "hinge.json").read_text())
        for arm in "ab":
            document = ezdxf.readfile(out / "cut" / f"arm_{arm}.dxf")
            audit = document.audit()
            assert not audit.errors and not audit.fixes, (name, audit.errors, audit.fixes)
            assert document.units == 4, "millimetres"
            entities = list(document.modelspace())
            layers = [e.dxf.layer for e in entities]
            assert layers == sorted(layers, key=["DRILL", "HOLES", "OUTLINE"].index), layers
            holes = [e for e in entities if e.dxftype() == "CIRCLE" and e.dxf.layer == "HOLES"]
            assert len(holes) == 2, layers
            pivots = [hinge["pivots"][f"ground_{arm}"], hinge["pivots"][f"lid_{arm}"]]
            diameter = hinge["arms"][arm]["hole_mm"]
            for pivot in pivots:
                match = [h for h in holes if close(h.dxf.center.x, pivot[0])
                         and close(h.dxf.center.y, pivot[1])]
                assert len(match) == 1, (name, arm, pivot, [h.dxf.center for h in holes])
                assert close(2 * match[0].dxf.radius, diameter)
                checked += 1
            assert all(e.dxftype() in ("CIRCLE", "POLYLINE") for e in entities), "only geometry"
            outline = [e for e in entities if e.dxftype() == "POLYLINE"]
            assert len(outline) == 1 and outline[0].is_closed
            given = hinge["arms"][arm]["outline"]
            read = [(v.dxf.location.x, v.dxf.location.y, v.dxf.bulge) for v in outline[0].vertices]
            assert len(read) == len(given)
            for r, g in zip(read, given):
                assert all(close(a, b) for a, b in zip(r, g)), (r, g)
            # Hole to hole is what the parts list says.
            pitch = math.dist(pivots[0], pivots[1])
            assert pitch > 5

assert checked == 12, checked
print(f"{checked} holes agree within {LIMIT_MM} mm")
