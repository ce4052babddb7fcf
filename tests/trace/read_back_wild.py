# SPDX-License-Identifier: Apache-2.0
"""Drawings that nobody here made: symbols and sheets of librecad-data, icons of adwaita-icon-theme.
None is a box, so nearly all must be refused: never with a crash, always with a statement that names
the file. Where the statement gives the drawing's width, ezdxf must see the same. The same files
are then cut off, changed in single bytes and fed as each other."""
import pathlib
import random
import re
import sys
import tempfile

import ezdxf
from ezdxf import bbox

from traced import trace

PROGRAM = sys.argv[1]
random.seed(5)
READ = {"LINE", "ARC", "CIRCLE", "ELLIPSE", "LWPOLYLINE", "POLYLINE"}


def check(file, *options):
    code, said, job = trace(PROGRAM, file, "--width", "300", *options)
    assert code in (0, 2, 3), (file, code, said)
    assert "internal error" not in said and len(said) > 20, (file, said)
    assert (code == 0) == (job is not None), (file, code)
    if code:
        assert file.name in said, said
    return code, said


dxf = sorted(pathlib.Path("/usr/share/librecad").rglob("*.dxf"))[::4]
svg = sorted(pathlib.Path("/usr/share/icons/Adwaita").rglob("*.svg"))[::5]
assert len(dxf) > 250 and len(svg) > 80, "apt-get install librecad-data adwaita-icon-theme"

measured = 0
for file in dxf:
    code, said = check(file)
    width = re.search(r"in mm what is drawn would be ([\d.]+) mm wide", said)
    if not width:
        continue
    try:
        space = ezdxf.readfile(file).modelspace()
    except ezdxf.DXFStructureError:  # a section too few or too many
        continue
    if not all(e.dxftype() in READ for e in space):
        continue
    box = bbox.extents(space, flatten=1e-3)
    seen = box.extmax.x - box.extmin.x
    slack = 0.06 + 2e-3 * max(seen, box.extmax.y - box.extmin.y)
    assert abs(seen - float(width[1])) <= slack, (file, seen, width[1])
    measured += 1
assert measured > 100, measured
for file in svg:
    check(file, "--true-depth", "200")

spoilt = 0
with tempfile.TemporaryDirectory() as folder:
    for source in random.sample(dxf, 12) + random.sample(svg, 12):
        whole = source.read_bytes()
        for way in range(6):
            data = bytearray(whole)
            ending = source.suffix
            if way < 2:
                del data[random.randrange(len(data)):]
            elif way < 5:
                for _ in range(1 + 10 * (way - 2)):
                    data[random.randrange(len(data))] = random.randrange(256)
            else:
                ending = {".dxf": ".svg", ".svg": ".dxf"}[ending]
            file = pathlib.Path(folder) / ("spoilt" + ending)
            file.write_bytes(data)
            check(file, "--true-depth", "200")
            spoilt += 1
    for name, data in [("empty.dxf", b""), ("empty.svg", b""), ("noise.dxf", random.randbytes(5000)),
                       ("noise.svg", random.randbytes(5000)), ("zeros.dxf", bytes(100000)),
                       ("long.dxf", b"0" * 3_000_000), ("large.svg", b"<" * (65 << 20)),
                       ("deep.svg", b"<svg>" * 300_000), ("none", b"plain words")]:
        file = pathlib.Path(folder) / name
        file.write_bytes(data)
        code, said = check(file)
        assert code in (2, 3), (name, said)
        spoilt += 1
print(f"{len(dxf) + len(svg)} drawings, {measured} widths as ezdxf sees them, {spoilt} spoilt ones")
