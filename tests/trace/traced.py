# SPDX-License-Identifier: Apache-2.0
"""Runs lidwright trace and measures how far its outlines are from others'."""
import json
import pathlib
import subprocess
import tempfile

import numpy as np

# Chords of the program and of the other reading, and six decimals in the job file.
LIMIT_MM = 0.02 + 0.001 + 1e-5


def trace(program, drawing, *options):
    """(exit code, all it said, the job it wrote or None)"""
    with tempfile.TemporaryDirectory() as folder:
        out = pathlib.Path(folder) / "job.json"
        run = subprocess.run([program, "trace", *([drawing] if isinstance(drawing, (str, pathlib.Path))
                                                  else drawing), "--out", out, *options],
                             capture_output=True, text=True, errors="replace", timeout=120)
        job = json.loads(out.read_text()) if out.exists() else None
        return run.returncode, run.stdout + run.stderr, job


def one_way(points, ring):
    """Greatest distance of the points from the ring's edges."""
    a = np.asarray(ring)
    d = np.roll(a, -1, axis=0) - a
    length = np.maximum((d * d).sum(axis=1), 1e-300)
    worst = 0.0
    for p in np.asarray(points):
        t = np.clip(((p - a) * d).sum(axis=1) / length, 0, 1)
        worst = max(worst, np.sqrt((((a + t[:, None] * d) - p) ** 2).sum(axis=1).min()))
    return worst


def apart(first, second):
    """Hausdorff distance of two rings, up to their own edges' midpoints."""
    def dense(ring):
        a = np.asarray(ring, dtype=float)
        return np.concatenate([a, (a + np.roll(a, -1, axis=0)) / 2])
    return max(one_way(dense(first), second), one_way(dense(second), first))


def area(ring):
    x, y = np.asarray(ring, dtype=float).T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
