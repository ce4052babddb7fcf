# SPDX-License-Identifier: Apache-2.0
"""SVG sections of all path commands and transforms, read by svgelements and painted by librsvg."""
import pathlib
import random
import subprocess
import sys
import tempfile

import numpy as np
import svgelements

from traced import LIMIT_MM, apart, area, trace

PROGRAM = sys.argv[1]
MM_PER_PX = 25.4 / 96
CASE = "20,150 220,150 220,50 210,50 210,140 30,140 30,50 20,50"
# Lids over the rim from (20, 50) to (220, 50), y down; upper edge by every command.
TOPS = {
    "lines": "L 20,40 60,12 l 60,4 H 180 v 14 h 10 V 40 L 220,40",
    "cubics": "V 40 C 40,0 70,50 120,20 S 190,10 220,40",
    "relative cubics": "v -10 c 20,-40 50,10 100,-20 s 70,-10 100,20",
    "quadratics": "V 40 Q 50,-10 90,30 T 160,25 T 220,40",
    "relative quadratics": "v -10 q 30,-50 70,-10 t 70,-5 60,15",
    "arcs": "V 40 A 60 40 0 0 1 120,30 A 70,30 25 0,1 220,40",
    "large arc": "V 40 A 75 60 10 1 1 150,38 A 50 50 0 0 1 220,40",
    "small radii grow": "V 40 A 10 4 30 0 1 220,40",
    "tight numbers": "V40C40-.5e1,70 50 120 20.5.S190,1e1 220 40".replace(".5.S", ".5S"),
    "packed flags": "V40a60,40,0,0,1,100-10 70 30 25 01100 10",
}
FRAMES = {
    "plain": ('width="240mm" height="170mm" viewBox="0 0 240 170"', "", ""),
    "centimetres": ('width="24cm" height="17cm" viewBox="0 0 240 170"', "", ""),
    "inches, shifted view": ('width="10in" height="8in" viewBox="-7 -9 254 203.2"', "", ""),
    "points": ('width="680.3149606pt" height="481.8897638pt" viewBox="0 0 240 170"', "", ""),
    "meet": ('width="300mm" height="170mm" viewBox="0 0 240 170"', "", ""),
    "moved": ('width="240mm" height="170mm" viewBox="0 0 240 170"',
              '<g transform="translate(-9 4)"><g transform="scale(1.1,.9) translate(3)">', "</g></g>"),
    "turned and back": ('width="240mm" height="170mm" viewBox="0 0 240 170"',
                        '<g transform="rotate(30,100,80)"><g transform="rotate(-30,100,80)">',
                        "</g></g>"),
    "sheared and back": ('width="240mm" height="170mm" viewBox="0 0 240 170"',
                         '<g transform="skewX(20)"><g transform="matrix(1 0 -0.363970234266 1 0 0)">',
                         "</g></g>"),
}


def points(shape):
    """Points of the shape as written, then transformed: svgelements 1.7 itself gets a tilted ellipse
    wrong that is scaled unlike in x and y (librsvg paints it as we read it, see below)."""
    out = []
    matrix = shape.transform
    path = svgelements.Path(shape)
    path.transform = svgelements.Matrix()
    for segment in path:
        if isinstance(segment, (svgelements.Move, svgelements.Close)):
            continue
        n = 1 if isinstance(segment, svgelements.Line) else 1500
        out += [(p.x, p.y) for p in (segment.point(i / n) * matrix for i in range(n + 1))]
    return np.array(out) * MM_PER_PX * [1, -1]


checked = 0
with tempfile.TemporaryDirectory() as folder:
    file = pathlib.Path(folder) / "section.svg"
    for frame, (head, before, after) in FRAMES.items():
        for name, top in TOPS.items():
            file.write_text(f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{before}'
                            f'<polygon id="case" points="{CASE}"/>\n'
                            f'<path class="the lid" d="M20,50 {top} L220,50z"/>{after}</svg>\n')
            code, said, job = trace(PROGRAM, file, "--width", "300")
            assert code == 0, (frame, name, said)
            shapes = [e for e in svgelements.SVG.parse(file, ppi=96, reify=False).elements()
                      if isinstance(e, svgelements.Shape)]
            case, lid = [points(s) for s in shapes]
            origin = np.array([case[:, 0].min(), case[:, 1].max()])
            station = job["stations"][0]
            gap = max(apart(station["case"][0], case - origin),
                      apart(station["lid"][0], lid - origin))
            assert gap <= LIMIT_MM, (frame, name, gap)
            checked += 1
assert checked == len(FRAMES) * len(TOPS)

# With a partition, on which round things can rest.
DIVIDED = ("20,150 220,150 220,50 210,50 210,140 125,140 125,50 115,50 115,140 30,140 30,50 20,50")

# Painted by librsvg: the lid's area in pixels, and shapes that no path data describes.
shapes = {
    "rounded": '<rect id="lid" x="20" y="15" width="200" height="35" rx="12" ry="20"/>',
    "rounded one way": '<rect id="lid" x="20" y="15" width="200" height="35" rx="90"/>',
    "ellipse": '<ellipse id="lid" cx="120" cy="32" rx="100" ry="18"/>',
    "circle in a symbol": '<symbol id="s" viewBox="0 0 10 10"><circle id="lid" cx="5" cy="5" r="5"/>'
                          '</symbol><use href="#s" x="70" y="-50" width="100" height="100"/>',
    "nested": '<svg x="20" y="10" width="200" height="40" viewBox="0 0 100 20" '
              'preserveAspectRatio="xMinYMax slice"><path id="lid" d="M0 20H100L60 2H30z"/></svg>',
    "tilted arcs, unlike scales": '<g transform="scale(1.1 .8)"><path id="lid" d="M20,50 V40 A60 40 0 0 '
                                  '1 120,30 A70,30 25 0,1 220,40 V50z"/></g>',
    "large arc": '<path id="lid" d="M20,50 V40 A75 60 10 1 1 150,38 A50 50 0 0 1 220,40 V50z"/>',
}
with tempfile.TemporaryDirectory() as folder:
    file, pdf = pathlib.Path(folder) / "s.svg", pathlib.Path(folder) / "s.pdf"
    for name, shape in shapes.items():
        def sheet():
            case = f'<polygon id="case" points="{DIVIDED}" fill="none"/>'
            if "scale" in shape:
                case = f'<g transform="scale(1.1 .8)">{case}</g>'
            return ('<svg xmlns="http://www.w3.org/2000/svg" width="260mm" height="220mm" '
                    f'viewBox="0 -50 260 220">{case}{shape}</svg>')
        file.write_text(sheet())
        code, said, job = trace(PROGRAM, file, "--width", "300")
        assert code == 0, (name, said)
        subprocess.run(["rsvg-convert", "-f", "pdf", "-o", pdf, file], check=True)
        ppm = subprocess.run(["pdftoppm", "-r", "254", "-gray", pdf], check=True,
                             capture_output=True).stdout
        magic, size, top, pixels = ppm.split(b"\n", 3)
        w, h = map(int, size.split())
        grey = np.frombuffer(pixels, np.uint8, w * h).reshape(h, w)
        painted = float((255.0 - grey).sum() / 255 / 100)  # mm² at ten pixels a mm
        traced = sum(area(r) for r in job["stations"][0]["lid"])
        assert abs(painted - traced) <= 2e-3 * traced, (name, painted, traced)
        checked += 1
print(f"{checked} drawings agree")
