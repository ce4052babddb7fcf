# SPDX-License-Identifier: Apache-2.0
"""Cases drawn board by board, as CAD sections are: by ezdxf as polylines, loose lines and turned
blocks, by hand as SVG. The outline that they must make together is written down here."""
import math
import pathlib
import sys
import tempfile

import ezdxf

from traced import apart, area, trace

PROGRAM = sys.argv[1]
DEPTH, HEIGHT, WALL, FLOOR = 210.0, 115.0, 10.0, 12.0
REBATE, LIFT = 4.0, 6.0  # the floor is let into the walls, this far above their lower edges
LOW = LIFT - HEIGHT
OUTLINE = [(0, -HEIGHT), (WALL, -HEIGHT), (WALL, LOW), (DEPTH - WALL, LOW), (DEPTH - WALL, -HEIGHT),
           (DEPTH, -HEIGHT), (DEPTH, 0), (DEPTH - WALL, 0), (DEPTH - WALL, LOW + FLOOR),
           (WALL, LOW + FLOOR), (WALL, 0), (0, 0)]
LID = [(0, 0), (DEPTH, 0), (DEPTH, 20), (DEPTH - 40, 45), (40, 45), (0, 20)]


def rectangle(x0, y0, x1, y1):
    return [(x0, y0), (x1, y0), (x1, y1), (x0, y1)]


def boards(into):
    """Floor `into` the walls; 0: against them; negative: that far off."""
    return [rectangle(0, -HEIGHT, WALL, 0), rectangle(DEPTH - WALL, -HEIGHT, DEPTH, 0),
            rectangle(WALL - into, LOW, DEPTH - WALL + into, LOW + FLOOR)]


def draw_dxf(file, into, how, turn):
    document = ezdxf.new("R2010", units=4)
    space = document.modelspace()
    c, s = math.cos(turn), math.sin(turn)
    for k, board in enumerate(boards(into)):
        on = {"layer": "case"}
        target = space
        if how == "blocks":  # each drawn lying along x at the origin, inserted turned
            target = document.blocks.new(f"BOARD{k}")
            board = [(x * c + y * s, y * c - x * s) for x, y in board]
        if how == "lines":
            for a, b in zip(board, board[1:] + board[:1]):
                target.add_line(a, b, dxfattribs=on)
        else:
            target.add_lwpolyline(board, close=True, dxfattribs=on)
        if how == "blocks":
            space.add_blockref(f"BOARD{k}", (0, 0), dxfattribs={"rotation": math.degrees(turn)})
    space.add_lwpolyline(LID, close=True, dxfattribs={"layer": "LID"})
    document.saveas(file)


def draw_svg(file, into):
    text = "".join('<polygon points="' + " ".join(f"{x + 20},{60 - y}" for x, y in board) + '"/>\n'
                   for board in boards(into))
    lid = " ".join(f"{x + 20},{60 - y}" for x, y in LID)
    file.write_text('<svg xmlns="http://www.w3.org/2000/svg" width="250mm" height="200mm" '
                    f'viewBox="0 0 250 200"><g id="case">\n{text}</g>'
                    f'<polygon id="lid" points="{lid}"/></svg>\n')


checked = 0
with tempfile.TemporaryDirectory() as folder:
    dxf, svg = pathlib.Path(folder) / "s.dxf", pathlib.Path(folder) / "s.svg"
    drawings = [(how, into, turn) for into in (REBATE, 0.0, -0.2, -0.5)
                for how, turn in [("polylines", 0), ("blocks", 0.3), ("blocks", -1.1), ("lines", 0),
                                  ("svg", 0)]]
    for how, into, turn in drawings:
        file = svg if how == "svg" else dxf
        if how == "svg":
            draw_svg(svg, into)
        else:
            draw_dxf(dxf, into, how, turn)
        code, said, job = trace(PROGRAM, file, "--width", "320")
        assert code == 0, (how, into, turn, said)
        rings = job["stations"][0]["case"]
        assert len(rings) == 1 and len(rings[0]) == len(OUTLINE), (how, into, turn, rings)
        assert apart(rings[0], OUTLINE) < 1e-5, (how, into, turn, apart(rings[0], OUTLINE))
        assert abs(area(rings[0]) - area(OUTLINE)) < 1e-3
        assert "stations_error" not in job
        assert ("overlap by up to 4 mm" in said) == (into == REBATE), said
        assert ("bridged at" in said) == (into < 0), said
        assert abs(job["case"]["floor"] - (LIFT + FLOOR)) < 1e-3, job["case"]
        checked += 1

    # Stations from several files, and a true size that is that of the united whole.
    other = pathlib.Path(folder) / "t.dxf"
    draw_dxf(dxf, 0.0, "polylines", 0)
    draw_dxf(other, REBATE, "blocks", 0.7)
    code, said, job = trace(PROGRAM, [dxf, other], "--width", "320", "--at", "0", "--at", "160",
                            "--true-depth", str(2 * DEPTH))
    assert code == 0, said
    for station in job["stations"]:
        assert apart(station["case"][0], [(2 * x, 2 * y) for x, y in OUTLINE]) < 1e-5
    checked += 1

    # Too far apart, and how much may be asked for.
    draw_dxf(dxf, -0.8, "polylines", 0)
    code, said, job = trace(PROGRAM, dxf, "--width", "320")
    assert code == 2 and "stands 0.8 mm apart from the other pieces at (" in said, said
    code, said, job = trace(PROGRAM, dxf, "--width", "320", "--close", "0.8")
    assert code == 0 and apart(job["stations"][0]["case"][0], OUTLINE) < 1e-5, said
    checked += 1
assert checked == len(drawings) + 2
print(f"{checked} drawings of boards give the outline that they make")
