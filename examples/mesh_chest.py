#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Writes the tea merchant's travelling chest as two meshes: FOLDER/case.stl and FOLDER/lid.stl.

    python3 examples/mesh_chest.py FOLDER

The chest as a modelling program would export it: millimetres, z up, the hinge at the back, which
looks towards -y, the lid shut. 360 wide, 230 deep, 125 high, walls 12. Its back is bowed by 9 mm
and its rim arched by 7 mm, both as half waves; its lid is a superellipse of exponent 2.6 from back
to front, 40 mm high in the middle and sinking as a parabola to 12 mm at the ends, its ceiling 10 mm below.

Every body is a row of sections across the width with the same corners, joined by triangles, closed
at the ends and at the inner faces of its end walls.
"""
import math
import struct
import sys

WIDTH, DEPTH, HEIGHT, WALL = 360.0, 230.0, 125.0, 12.0
BOW, ARCH = 9.0, 7.0
BAND, CROWN, CROWN_AT_ENDS, TOP, EXPONENT = 15.0, 40.0, 12.0, 10.0, 2.6
ROWS, DOME = 36, 20  # sections of the hollow part, pieces of the dome


def wave(rise, at):
    return rise * math.cos(math.pi * at / WIDTH)


def case_ring(at, solid):
    """(y, z) corners of the case's section, seen from its +x end; the inside begins at 3."""
    back, rim, floor = -wave(BOW, at), wave(ARCH, at), WALL - HEIGHT
    inside = [(DEPTH - WALL, rim), (DEPTH - WALL, floor), (back + WALL, floor), (back + WALL, rim)]
    if solid:
        inside = [inside[0], inside[-1]]
    return [(back, -HEIGHT), (DEPTH, -HEIGHT), (DEPTH, rim)] + inside + [(back, rim)]


def dome(share, rise):
    return rise * (1.0 - abs(share) ** EXPONENT) ** (1.0 / EXPONENT)


def lid_ring(at, solid):
    """The same of the lid; its inside begins at 1."""
    back, seam = -wave(BOW, at), wave(ARCH, at)
    middle, half = (back + DEPTH) / 2.0, (DEPTH - back) / 2.0
    rise = CROWN_AT_ENDS + (CROWN - CROWN_AT_ENDS) * (1.0 - (2.0 * at / WIDTH) ** 2)
    # Equal steps of an angle put more corners where the dome is steep.
    shares = [math.sin(math.pi * (i / DOME - 0.5)) for i in range(DOME + 1)]
    inside = [(back + WALL, seam), (DEPTH - WALL, seam)]
    if not solid:
        ceiling = [(middle + s * (half - WALL), seam + BAND - TOP + dome(s, rise)) for s in shares]
        inside[1:1] = ceiling
    outside = [(middle - s * half, seam + BAND + dome(s, rise)) for s in shares]
    return [(back, seam)] + inside + [(DEPTH, seam)] + outside


def cut_ears(ring):
    """Triangles, as indices, that fill a flat ring run counter-clockwise."""

    def turn(a, b, c):
        (ax, ay), (bx, by), (cx, cy) = ring[a], ring[b], ring[c]
        return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)

    left, triangles = list(range(len(ring))), []
    while len(left) >= 3:
        ear = 0
        for i in range(len(left)):
            a, b, c = left[i - 1], left[i], left[(i + 1) % len(left)]
            others = (j for j in left if j not in (a, b, c))
            if turn(a, b, c) > 1e-9 and not any(
                turn(a, b, j) >= 0 and turn(b, c, j) >= 0 and turn(c, a, j) >= 0 for j in others
            ):
                ear = i
                break
        triangles.append((left[ear - 1], left[ear], left[(ear + 1) % len(left)]))
        del left[ear]
    return triangles


def body(ring_at, inside_from):
    facets = []

    def points(ring, at):
        return [(at, y, z) for y, z in ring]

    def cap(ring, at, towards_plus_x):
        # (y, z) run counter-clockwise seen from +x.
        corners = points(ring, at)
        for a, b, c in cut_ears(ring):
            facets.append((corners[a], corners[b], corners[c]) if towards_plus_x
                          else (corners[a], corners[c], corners[b]))

    def sides(places, solid):
        before = None
        for at in places:
            now = points(ring_at(at, solid), at)
            for i in range(len(now)) if before else ():
                j = (i + 1) % len(now)
                facets.append((before[i], before[j], now[j]))
                facets.append((before[i], now[j], now[i]))
            before = now

    def inside(at):
        ring = ring_at(at, False)
        count = len(ring) - len(ring_at(at, True)) + 2
        return ring[inside_from:inside_from + count][::-1]

    half, face = WIDTH / 2.0, WIDTH / 2.0 - WALL
    wall = [face, face + WALL / 3.0, face + 2.0 * WALL / 3.0, half]
    cap(ring_at(-half, True), -half, False)
    sides([-at for at in reversed(wall)], True)
    cap(inside(-face), -face, True)
    # Closer together towards the ends, where the lid sinks fastest.
    sides([face * math.sin(math.pi * (i / ROWS - 0.5)) for i in range(ROWS + 1)], False)
    cap(inside(face), face, False)
    sides(wall, True)
    cap(ring_at(half, True), half, True)
    return facets


def write(path, facets):
    with open(path, "wb") as file:
        file.write(b"the tea merchant's travelling chest, mm, z up".ljust(80))
        file.write(struct.pack("<I", len(facets)))
        for facet in facets:
            file.write(struct.pack("<12fH", 0.0, 0.0, 0.0, *[c for p in facet for c in p], 0))


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: mesh_chest.py FOLDER")
    write(sys.argv[1] + "/case.stl", body(case_ring, 3))
    write(sys.argv[1] + "/lid.stl", body(lid_ring, 1))
