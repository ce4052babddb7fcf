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
    ax, ay = np.asarray(ring).T
    dx, dy = np.roll(ax, -1) - ax, np.roll(ay, -1) - ay
    length = np.maximum(dx * dx + dy * dy, 1e-300)
    dx, dy = dx / length, dy / length
    points = np.asarray(points)
    at_once = max(1, 20_000 // len(ax))  # pairs that the processor's cache holds
    worst = 0.0
    for first in range(0, len(points), at_once):
        px, py = points[first:first + at_once].T
        x, y = px[:, None] - ax, py[:, None] - ay
        t = x * dx
        t += y * dy
        np.clip(t, 0, 1, out=t)
        t *= length
        x -= t * dx
        y -= t * dy
        x *= x
        y *= y
        x += y
        worst = max(worst, x.min(axis=1).max())
    return float(np.sqrt(worst))


def apart(first, second):
    """Hausdorff distance of two rings, up to their own edges' midpoints."""
    def dense(ring):
        a = np.asarray(ring, dtype=float)
        return np.concatenate([a, (a + np.roll(a, -1, axis=0)) / 2])
    return max(one_way(dense(first), second), one_way(dense(second), first))


def area(ring):
    x, y = np.asarray(ring, dtype=float).T
    return float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2)
