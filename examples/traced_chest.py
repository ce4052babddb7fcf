#!/usr/bin/python3
# SPDX-License-Identifier: Apache-2.0
"""Draws the section of a tea merchant's counter chest, a swept lid on a straight case, into
traced_chest.svg and traced_chest.dxf: what somebody might have in a drawing program."""
import pathlib

import ezdxf

HERE = pathlib.Path(__file__).parent
DEPTH, HEIGHT, WALL, FLOOR = 210, 115, 10, 12
# The lid's outside and inside as cubic Béziers over the depth, y above the rim.
OUTSIDE = [(0, 13), (50, 17), (60, 46), (105, 46)]  # its back half; the front mirrors it
INSIDE = [(10, 10), (52, 12), (62, 38), (105, 38)]
CASE = [(0, -HEIGHT), (DEPTH, -HEIGHT), (DEPTH, 0), (DEPTH - WALL, 0),
        (DEPTH - WALL, FLOOR - HEIGHT), (WALL, FLOOR - HEIGHT), (WALL, 0), (0, 0)]


def mirrored(curve):
    return [(DEPTH - x, y) for x, y in reversed(curve)]


def svg():
    left, top = 20, 70  # where the rear rim corner stands on the sheet

    def at(points):
        return " ".join(f"{x + left:g},{top - y:g}" for x, y in points)

    lid = (f"M {at([(0, 0)])} L {at(OUTSIDE[:1])} C {at(OUTSIDE[1:])} "
           f"C {at(mirrored(OUTSIDE)[1:])} L {at([(DEPTH, 0), (DEPTH - WALL, 0)])} "
           f"L {at(mirrored(INSIDE)[3:])} C {at(mirrored(INSIDE)[::-1][1:])} "
           f"C {at(INSIDE[::-1][1:])} L {at([(WALL, 0)])} Z")
    return f"""<svg xmlns="http://www.w3.org/2000/svg" width="250mm" height="210mm" viewBox="0 0 250 210">
  <title>A tea merchant's counter chest, section at mid-width</title>
  <g fill="#d9c7a3" stroke="#333" stroke-width="0.4">
    <polygon id="case" points="{at(CASE)}"/>
    <path id="lid" d="{lid}"/>
  </g>
  <text x="20" y="202" font-size="7">Counter chest, section at mid-width, 1:1 in mm</text>
</svg>
"""


def dxf():
    document = ezdxf.new("R2000", units=4)
    space = document.modelspace()
    for name, colour in [("CASE", 7), ("LID", 3), ("NOTES", 8)]:
        document.layers.add(name, color=colour)
    for a, b in zip(CASE, CASE[1:] + CASE[:1]):  # the case as loose lines
        space.add_line(a, b, dxfattribs={"layer": "CASE"})
    on_lid = {"layer": "LID"}
    for curve in [OUTSIDE, mirrored(OUTSIDE), INSIDE, mirrored(INSIDE)]:
        spline = space.add_spline(degree=3, dxfattribs=on_lid)
        spline.control_points = [(x, y, 0) for x, y in curve]
        spline.knots = [0, 0, 0, 0, 1, 1, 1, 1]
    for side in (lambda x: x, lambda x: DEPTH - x):
        space.add_lwpolyline([(side(0), OUTSIDE[0][1]), (side(0), 0), (side(WALL), 0),
                              (side(WALL), INSIDE[0][1])], dxfattribs=on_lid)
    space.add_text("Counter chest, section at mid-width", dxfattribs={"layer": "NOTES"})
    return document


(HERE / "traced_chest.svg").write_text(svg())
dxf().saveas(HERE / "traced_chest.dxf")
