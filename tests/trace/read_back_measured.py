# SPDX-License-Identifier: Apache-2.0
"""The sample chest given as measures, and as sections drawn from those measures by ezdxf (arcs as
bulges, worked out here, not by the program): the same hinge must get the same certified gaps."""
import json
import math
import pathlib
import subprocess
import sys
import tempfile

import ezdxf

PROGRAM, EXAMPLES = sys.argv[1], pathlib.Path(sys.argv[2])
# Either form may be off by its blend and its chords, of case and lid; and by the gap's tolerance.
LIMIT_MM = 2 * (0.05 + 0.02) + 0.01
JOB = json.loads((EXAMPLES / "sample_chest.json").read_text())
BOX, LID = JOB["case"], JOB["lid"]
W, D, H, T = BOX["width"], BOX["depth"], BOX["height"], BOX["wall"]


def arc(half, rise, s):
    """Height of a circular arc of that rise over the chord's ends, at s from its middle."""
    if rise == 0:
        return 0.0
    r = (half * half + rise * rise) / (2 * rise)
    return rise - (r - math.sqrt(r * r - s * s))


def section(z, at):
    back, rim = -arc(W / 2, BOX["back_bow"], z), arc(W / 2, BOX["rim_arch"], z)
    front = D
    band, rise = rim + LID["rim"], arc(W / 2, LID["crown"], z)
    half, middle = (front - back) / 2, (front + back) / 2
    outer = inner = 0.0
    sag = rise
    if rise > 1e-9:
        r = (half * half + rise * rise) / (2 * rise)
        outer = math.tan(math.asin(half / r) / 2)
        inner = math.tan(math.asin((half - T) / (r - T)) / 2)
        sag = (r - T) - math.sqrt((r - T) ** 2 - (half - T) ** 2)
    case = [(back, -H), (front, -H), (front, rim), (front - T, rim), (front - T, T - H),
            (back + T, T - H), (back + T, rim), (back, rim)]
    low = max(band + rise - T - sag, rim + 0.1)
    lid = [(back, rim, 0), (back + T, rim, 0), (back + T, low, -inner), (front - T, low, 0),
           (front - T, rim, 0), (front, rim, 0), (front, band, outer), (back, band, 0)]
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    x, y = at
    space.add_lwpolyline([(a + x, b + y) for a, b in case], close=True, dxfattribs={"layer": "case"})
    space.add_lwpolyline([(a + x, b + y, c) for a, b, c in lid], format="xyb", close=True,
                         dxfattribs={"layer": "lid"})
    return document


with tempfile.TemporaryDirectory() as name:
    folder = pathlib.Path(name)
    subprocess.run([PROGRAM, "fit", EXAMPLES / "sample_chest.json", "--out", folder / "fit",
                    "--frames", "2"], check=True, stdout=subprocess.DEVNULL)
    options, drawings = [], []
    places = [W / 2 * i / 20 for i in range(21)]
    for i, z in enumerate(places):
        drawings.append(folder / f"s{i}.dxf")
        section(z, (400, 300)).saveas(drawings[-1])
        options += ["--at", f"{z:.6f}"]
    drawn = folder / "drawn.json"
    run = subprocess.run([PROGRAM, "trace", *drawings, *options, "--width", str(W), "--end-wall",
                          str(T), "--out", drawn], capture_output=True, text=True)
    assert run.returncode == 0, run.stdout + run.stderr
    job = json.loads(drawn.read_text())
    for key, mm in [("depth", D), ("height", H), ("back_wall", T), ("floor", T),
                    ("back_bow", BOX["back_bow"]), ("rim_arch", BOX["rim_arch"])]:
        assert abs(job["case"][key] - mm) <= 0.02, (key, job["case"][key], mm)
    assert len(job["stations"]) == len(places)
    # What no section shows is asked for as in the measured job.
    for section_name in ("swing", "room", "arms"):
        job[section_name] = JOB[section_name]
    drawn.write_text(json.dumps(job))

    gaps = {}
    for source, path in [("measures", EXAMPLES / "sample_chest.json"), ("drawings", drawn)]:
        out = folder / source
        run = subprocess.run([PROGRAM, "check", path, folder / "fit" / "hinge.json", "--out", out,
                              "--frames", "2"], capture_output=True, text=True)
        assert run.returncode in (0, 1), run.stdout + run.stderr
        hinge = json.loads((out / "hinge.json").read_text())
        gaps[source] = {v["what"]: v for v in hinge["hinges"][0]["verdicts"]}
    compared = 0
    for what, verdict in gaps["measures"].items():
        if verdict.get("unit") != "mm" or not verdict["proven"]:
            continue
        a, b = verdict["found"], gaps["drawings"][what]["found"]
        print(f"{what:36} {a:.4f} {b:.4f}")
        assert abs(a - b) <= LIMIT_MM, (what, a, b)
        assert verdict["met"] == gaps["drawings"][what]["met"]
        compared += 1
    assert compared >= 8, compared
print(f"{compared} certified gaps agree within {LIMIT_MM} mm")
