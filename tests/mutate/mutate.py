#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""Breaks the code of geometry, linkage, swing and certify in one place at a time and looks whether
their tests notice. See README.md beside this file.

    python3 tests/mutate/mutate.py [--count 240] [--seed 1] [--jobs 2]
    python3 tests/mutate/mutate.py --again      # only those that survived, after new tests
    python3 tests/mutate/mutate.py --summary    # what is known so far

Everything happens under .build/mutate: what the tests of the four layers need is built there first,
source by source (.build/tests compiles several at a time). Results are kept there, so that a run that
was stopped goes on where it was. Remove the folder to begin anew.
"""
import argparse
import concurrent.futures
import json
import os
import pathlib
import random
import re
import resource
import shutil
import subprocess
import sys
import threading
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
PLACE = ROOT / ".build" / "mutate"
SOURCE = PLACE / "source"  # as it was when the first run began
BUILT = PLACE / "built"
LAYERS = ["geometry", "linkage", "swing", "certify"]
CXX = ["g++", "-std=c++20", "-O1", "-ffp-contract=off", "-w"]
MEMORY_BYTES = 3 << 30  # of one run of the tests
PATIENCE_S = 120        # of the processor; the whole code takes 15 to a stage
# Tests that are long and say little of these layers, or that the whole suite has for them.
LEFT_OUT = {"chords keep within the stated error and on the stated side"}


# ---------------------------------------------------------------------------- places to break

def code_of(text):
    """The text with comments, strings and preprocessor lines blanked, place by place."""
    blank = lambda m: re.sub(r"[^\n]", " ", m.group(0))
    text = re.sub(r"//[^\n]*|/\*.*?\*/", blank, text, flags=re.S)
    text = re.sub(r'"(?:\\.|[^"\\\n])*"', blank, text)
    text = re.sub(r"^\s*#[^\n]*", blank, text, flags=re.M)
    # What a broken contract or an error says is not looked at.
    return re.sub(r"LW_REQUIRE\(.*?\);", blank, text, flags=re.S)


SWAPS = [(" + ", " - "), (" - ", " + "), (" * ", " / "), (" / ", " * "),
         (" += ", " -= "), (" -= ", " += "), (" && ", " || "), (" || ", " && "),
         (" < ", " >= "), (" > ", " <= "), (" <= ", " > "), (" >= ", " < "),
         (" == ", " != "), (" != ", " == "),
         ("std::min(", "std::max("), ("std::max(", "std::min("),
         ("return true;", "return false;"), ("return false;", "return true;")]


def other_number(literal):
    if "." in literal:
        value = float(literal)
        return {0.0: "1.0", 1.0: "2.0", 2.0: "3.0"}.get(value, repr(2.0 * value))
    value = int(literal)
    return {0: "1", 1: "2", 2: "3"}.get(value, str(2 * value))


def mutants_of(path):
    """All ways to break one file: (offset, what stands there, what shall, kind)."""
    text = (SOURCE / path).read_text()
    code = code_of(text)
    found = []
    for old, new in SWAPS:
        start = code.find(old)
        while start >= 0:
            line = code[code.rfind("\n", 0, start) + 1:code.find("\n", start)]
            declares = re.match(r"\s*(template|#|using|const auto&? \[)", line)
            if not (declares or "operator" in line):
                kind = {"return": "return", "std::m": "least or largest"}.get(
                    old[:6], "operator" if old.strip() in "+-*/+=-=" else
                    "logic" if old.strip() in ("&&", "||") else "comparison")
                found.append((start, old, new, kind))
            start = code.find(old, start + 1)
    for m in re.finditer(r"(?<![\w.\-])(\d+\.\d+|\d+)(?![\w.])", code):
        line = code[code.rfind("\n", 0, m.start()) + 1:code.find("\n", m.start())]
        # An array's size does not compile with less; more of it is not looked at.
        if "template" in line or re.search(r"array<[^>]*$", code[max(0, m.start() - 30):m.start()]):
            continue
        found.append((m.start(), m.group(1), other_number(m.group(1)), "constant"))
    for m in re.finditer(r"(?<=[(,=?:{] )-(?=[\w(])|(?<=[({])-(?=[A-Za-z(])|(?<=return )-(?=[\w(])",
                         code):
        found.append((m.start(), "-", "", "sign"))
    for m in re.finditer(r"(?<=[(&| ])!(?=[\w(])", code):
        found.append((m.start(), "!", "", "logic"))
    # What a function of a plain type returns.
    returns, before = None, ""
    offset = 0
    for line in code.split("\n"):
        head = re.match(r"(?:inline |static |constexpr )*(bool|double|int|\w[\w:<>, ]*[&*]?) [\w:]+\(",
                        line.strip())
        if head and len(line) - len(line.lstrip()) <= 2 and not line.strip().startswith("return"):
            returns = head.group(1)
        m = re.match(r"(\s*return )([^;{}]+);", line)
        if m and m.group(2) not in ("true", "false") and returns in ("bool", "double"):
            new = f"!({m.group(2)})" if returns == "bool" else f"({m.group(2)}) + 0.5"
            found.append((offset + len(m.group(1)), m.group(2), new, "return"))
        m = re.match(r"(\s*)([\w.\[\]>()-]+ = [^;{}]+|[\w.>-]+\([^;{}]*\));$", line)
        begins = before.rstrip().endswith((";", "{", "}", ")", ":")) or not before.strip()
        if m and begins and line.count("(") == line.count(")") and "return" not in line:
            found.append((offset + len(m.group(1)), m.group(2) + ";", ";", "statement left out"))
        offset += len(line) + 1
        before = line
    return [{"file": path, "offset": o, "line": text.count("\n", 0, o) + 1, "old": a, "new": b,
             "kind": k} for o, a, b, k in sorted(set(found))]


def broken(mutant):
    text = (SOURCE / mutant["file"]).read_text()
    o = mutant["offset"]
    assert text[o:o + len(mutant["old"])] == mutant["old"], mutant
    return text[:o] + mutant["new"] + text[o + len(mutant["old"]):]


# Public headers that hold more than declarations.
HEADERS = ["geometry/pose.h", "geometry/vec.h", "swing/motion.h", "swing/part.h"]


def files_to_break():
    files = [SOURCE / "include" / "lidwright" / h for h in HEADERS]
    for layer in LAYERS:
        files += sorted((SOURCE / "src" / layer).glob("*.cpp"))
        files += sorted((SOURCE / "src" / layer).glob("*.h"))
    return [str(f.relative_to(SOURCE)) for f in files]


def key_of(mutant):
    line = (SOURCE / mutant["file"]).read_text().split("\n")[mutant["line"] - 1].strip()
    return "|".join([mutant["file"], line, mutant["old"], mutant["new"], str(mutant.get("nth", 0))])


def choose(count, seed):
    """`count` of all ways in random order, each with a name that outlives moved lines."""
    every = [m for f in files_to_break() for m in mutants_of(f)]
    seen = {}
    for m in every:
        key = key_of(m)
        m["nth"] = seen[key] = seen.get(key, -1) + 1
        m["key"] = key_of(m)
    random.Random(seed).shuffle(every)
    return every[:count], len(every)


# ------------------------------------------------------------------------------ build and run

def run(command, **options):
    return subprocess.run([str(c) for c in command], capture_output=True, text=True, **options)


class Builder:
    """What the four layers' tests are linked of, and one tree a worker in which a file is broken."""

    def __init__(self, jobs):
        shutil.rmtree(PLACE / "trees", ignore_errors=True)
        self.build()
        made = BUILT / "tests" / "CMakeFiles" / "lidwright_tests.dir"
        self.tests = [test for layer in LAYERS for test in sorted((made / layer).glob("*.o"))]
        archives = [*sorted((BUILT / "src").glob("*.a")), *sorted((BUILT / "tests").glob("*.a"))]
        self.libraries = ["-Wl,--start-group", *archives, "-Wl,--end-group",
                          "-lCatch2WithMain", "-lgeos_c", "-lceres", "-lglog", "-lpthread"]
        eigen = run(["pkg-config", "--cflags", "eigen3"]).stdout.split()
        self.flags = [*CXX, *eigen]
        self.first = PLACE / "first.h"  # compiled once: half of what a source costs
        self.first.write_text("#include <Eigen/Core>\n#include <algorithm>\n#include <array>\n"
                              "#include <cmath>\n#include <memory>\n#include <optional>\n"
                              "#include <string>\n#include <vector>\n")
        if run([*self.flags, "-x", "c++-header", self.first]).returncode:
            sys.exit("no compiler")
        self.program = PLACE / "tests"
        if self.link([], self.program):
            sys.exit("the unbroken code does not link")

    def build(self):
        """One object a source, so that a broken one can stand in for its own."""
        made = run(["cmake", "-S", SOURCE, "-B", BUILT, "-G", "Ninja", "-DLIDWRIGHT_TESTS=ON"])
        if made.returncode:
            sys.exit(made.stderr)
        targets = run(["ninja", "-C", BUILT, "-t", "targets", "all"]).stdout
        objects = re.findall(rf"^(tests/CMakeFiles/lidwright_tests\.dir/(?:{'|'.join(LAYERS)})/\S+\.o):",
                             targets, flags=re.M)
        wanted = [*objects, "lidwright_design", "lidwright_trace", "lidwright_places",
                  "lidwright_reference"]
        if subprocess.run(["cmake", "--build", BUILT, "--target", *wanted]).returncode:
            sys.exit("no build")

    def compile(self, tree, source, target):
        layer = (tree / source).parent
        return run([*self.flags, "-include", self.first, f"-I{tree}/include", f"-I{tree}/src",
                    f"-I{layer}", "-c", tree / source, "-o", target]).returncode

    def link(self, objects, program):
        return run(["g++", *objects, *self.tests, *self.libraries, "-o",
                    program]).returncode

    def tree(self, worker):
        tree = PLACE / "trees" / str(worker)
        if not tree.exists():
            for part in ("include", "src"):
                shutil.copytree(SOURCE / part, tree / part)
        return tree

    def touched(self, path):
        """Sources of the broken layers that see a file."""
        if path.endswith(".cpp"):
            return [path]
        includes = {}
        for layer in LAYERS:
            for f in [*(SOURCE / "src" / layer).glob("*"),
                      *(SOURCE / "include" / "lidwright" / layer).glob("*.h")]:
                includes[str(f.relative_to(SOURCE))] = {
                    pathlib.Path(i).name
                    for i in re.findall(r'#include "([^"]+)"', f.read_text())}
        wanted, grown = {pathlib.Path(path).name}, True
        while grown:
            more = {pathlib.Path(f).name for f, of in includes.items()
                    if f.endswith(".h") and of & wanted} - wanted
            wanted |= more
            grown = bool(more)
        return [f for f, of in includes.items() if f.endswith(".cpp") and of & wanted]


def limits():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))
    resource.setrlimit(resource.RLIMIT_CPU, (PATIENCE_S, PATIENCE_S))


def run_tests(program, stages):
    for stage in stages:
        done = run([program, "-f", stage, "--abort"], preexec_fn=limits)
        if done.returncode:
            name = re.search(r"-{20,}\n(.+)\n", done.stdout)
            return "killed", name.group(1).strip() if name else f"exit {done.returncode}"
    return "survived", ""


def stages_of(builder):
    """Lists of tests by how long they take: what is quick is asked first."""
    kept = PLACE / "durations.txt"
    if not kept.exists():
        done = run([builder.program, "~[slow]", "-d", "yes"])
        if done.returncode:
            sys.exit("the whole code does not pass its tests")
        kept.write_text(done.stdout)
    tests = re.findall(r"^([\d.]+) s: (.+)$", kept.read_text(), flags=re.M)
    stages = []
    for number, (low, high) in enumerate([(0, 0.2), (0.2, 1.3), (1.3, 1e9)]):
        stage = PLACE / f"stage_{number}.txt"
        # A comma would end a name in Catch2's lists.
        stage.write_text("".join(name.strip().replace(",", "\\,") + "\n" for seconds, name in tests
                                 if low <= float(seconds) < high and name.strip() not in LEFT_OUT))
        stages.append(stage)
    return stages


def try_one(builder, mutant, worker, stages):
    tree = builder.tree(worker)
    target = tree / mutant["file"]
    target.write_text(broken(mutant))
    try:
        objects = []
        for source in builder.touched(mutant["file"]):
            made = tree / (source.replace("/", "_") + ".o")
            if builder.compile(tree, source, made):
                return "not C++", ""
            objects.append(made)
        program = tree / "tests"
        if builder.link(objects, program):
            return "not C++", "linking"
        return run_tests(program, stages)
    finally:
        shutil.copy(SOURCE / mutant["file"], target)


# ------------------------------------------------------------------------------------- results

def read_results():
    path = PLACE / "results.jsonl"
    results = {}
    if path.exists():
        for line in path.read_text().splitlines():
            result = json.loads(line)
            results[result["key"]] = result
    return results


def summary(results):
    valid = [r for r in results.values() if r["outcome"] in ("killed", "survived")]
    killed = [r for r in valid if r["outcome"] == "killed"]
    print(f"{len(valid)} broken in one place, {len(killed)} noticed "
          f"({100.0 * len(killed) / max(1, len(valid)):.1f} %), "
          f"{len(results) - len(valid)} were not C++ any more")
    for kind in sorted({r["kind"] for r in valid}):
        of = [r for r in valid if r["kind"] == kind]
        print(f"  {kind:20} {sum(r['outcome'] == 'killed' for r in of):4} of {len(of):4}")
    for layer in LAYERS:
        of = [r for r in valid if f"/{layer}/" in r["file"]]
        print(f"  {layer:20} {sum(r['outcome'] == 'killed' for r in of):4} of {len(of):4}")
    for r in sorted(valid, key=lambda r: (r["file"], r["line"])):
        if r["outcome"] == "survived":
            print(f"survived: {r['file']}:{r['line']}: '{r['old'].strip()}' as '{r['new'].strip()}'"
                  f"\n          {r['key'].split('|')[1]}")


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--count", type=int, default=240, help="how many, good C++ or not")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--again", action="store_true", help="only those that survived")
    parser.add_argument("--summary", action="store_true", help="only what is known")
    options = parser.parse_args()
    PLACE.mkdir(parents=True, exist_ok=True)
    if not SOURCE.exists():
        for part in ("include", "src", "tests", "examples"):
            shutil.copytree(ROOT / part, SOURCE / part)
        shutil.copy(ROOT / "CMakeLists.txt", SOURCE)
    results = read_results()
    if options.summary:
        return summary(results)
    chosen, total = choose(options.count, options.seed)
    if options.again:
        chosen = [m for m in chosen if results.get(m["key"], {}).get("outcome") == "survived"]
    else:
        chosen = [m for m in chosen if m["key"] not in results]
    builder = Builder(options.jobs)
    stages = stages_of(builder)
    print(f"{total} places, {len(chosen)} to try", flush=True)
    free = list(range(options.jobs))
    lock = threading.Lock()

    def work(mutant):
        with lock:
            worker = free.pop()
        began = time.time()
        try:
            outcome, by = try_one(builder, mutant, worker, stages)
        finally:
            with lock:
                free.append(worker)
        result = {**mutant, "outcome": outcome, "by": by, "seconds": round(time.time() - began, 1)}
        with lock:
            with open(PLACE / "results.jsonl", "a") as file:
                file.write(json.dumps(result) + "\n")
            print(outcome, mutant["file"], mutant["line"], repr(mutant["old"]), repr(mutant["new"]),
                  by, flush=True)
        return result

    with concurrent.futures.ThreadPoolExecutor(options.jobs) as pool:
        list(pool.map(work, chosen))
    summary(read_results())


if __name__ == "__main__":
    main()
