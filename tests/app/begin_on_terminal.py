# SPDX-License-Identifier: Apache-2.0
"""lidwright begin on a real terminal: asked and answered, then fit takes what it wrote."""
import json
import os
import pathlib
import pty
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]
ANSWERS = ["Tea chest", "mm", "340", "220", "120", "12", "10", "8", "14", "38", "", "", "100",
           "", "", "", ""]

with tempfile.TemporaryDirectory() as folder:
    job = pathlib.Path(folder) / "chest.json"
    child, terminal = pty.fork()
    if child == 0:
        os.execv(PROGRAM, [PROGRAM, "begin", str(job)])
    said = b""
    for answer in ANSWERS:
        while not said.endswith(b": "):  # the next question
            said += os.read(terminal, 4096)
        os.write(terminal, answer.encode() + b"\n")
        said += b"|"
    try:
        while chunk := os.read(terminal, 4096):
            said += chunk
    except OSError:  # the terminal closes with the program
        pass
    code = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    assert code == 0, said.decode()
    assert json.loads(job.read_text())["case"]["back_bow"] == 10
    run = subprocess.run([PROGRAM, "fit", job, "--out", pathlib.Path(folder) / "out", "--frames", "2"],
                         capture_output=True, text=True)
    assert run.returncode == 0, run.stdout + run.stderr

    # With nobody at a terminal it does not wait for one.
    run = subprocess.run([PROGRAM, "begin", pathlib.Path(folder) / "other.json"],
                         stdin=subprocess.DEVNULL, capture_output=True, text=True, timeout=20)
    assert run.returncode == 3 and "--width" in run.stderr, run
print("asked, answered, written and fitted")
