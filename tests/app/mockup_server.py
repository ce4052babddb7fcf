#!/usr/bin/env python3
# SPDX-License-Identifier: Apache-2.0
"""What 'lidwright mockup' refuses, serves and writes, told by a client that is not a browser.

mockup_server.py PROGRAM EXAMPLES WORK [whole]: with 'whole' the set is written and compared with fit's.
"""
import base64
import filecmp
import http.client
import io
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import threading
import time
import zipfile

PROGRAM, EXAMPLES, WORK = sys.argv[1:4]
MANIFEST = ".lidwright"
JSON = {"Content-Type": "application/json"}


class Served:
    """A mock-up that runs, and ends with the test."""

    def __init__(self, *arguments):
        self.process = subprocess.Popen(
            [PROGRAM, "mockup", "--no-browser", *arguments], stdout=subprocess.PIPE, text=True)
        line = self.process.stdout.readline()
        self.host, self.path = re.search(r"http://([\d.]+:\d+)(/[0-9a-f]{32}/)", line).groups()
        self.port = int(self.host.split(":")[1])

    def __enter__(self):
        return self

    def __exit__(self, *_):
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGINT)
        assert self.process.wait(20) == 0, "it ends well"

    def call(self, method, path, body=None, headers=None):
        link = http.client.HTTPConnection(self.host, timeout=30)
        link.request(method, path, body, headers or {})
        answer = link.getresponse()
        return answer.status, answer.read(), answer

    def ask(self, **message):
        status, body, _ = self.call("POST", self.path + "ask", json.dumps({"page": "t", **message}), JSON)
        assert status == 200, (status, body)
        return json.loads(body)


def check(got, wanted, what):
    assert got == wanted, f"{what}: {got} instead of {wanted}"


def refusals(served):
    page, ask = served.path, served.path + "ask"
    good = json.dumps({"ask": "open", "page": "t"})
    for what, wanted, method, path, body, headers in [
            ("the page", 200, "GET", page, None, {}),
            ("a message", 200, "POST", ask, good, JSON),
            ("from the page itself", 200, "POST", ask, good, {**JSON, "Origin": "http://" + served.host}),
            ("by the other name", 200, "GET", page, None, {"Host": f"localhost:{served.port}"}),
            ("no token", 403, "GET", "/", None, {}),
            ("no token, asking", 403, "POST", "/ask", good, JSON),
            ("another token", 403, "GET", "/" + "0" * 32 + "/", None, {}),
            ("part of the token", 403, "GET", page[:20] + "/", None, {}),
            ("a file", 403, "GET", page + "../../etc/passwd", None, {}),
            ("a foreign host", 403, "GET", page, None, {"Host": "example.com"}),
            ("a host with our port", 403, "GET", page, None, {"Host": f"example.com:{served.port}"}),
            ("a foreign page", 403, "POST", ask, good, {**JSON, "Origin": "http://example.com"}),
            ("a page from a file", 403, "POST", ask, good, {**JSON, "Origin": "null"}),
            ("another port's page", 403, "POST", ask, good, {**JSON, "Origin": "http://127.0.0.1:1"}),
            ("a form's text", 415, "POST", ask, good, {"Content-Type": "text/plain"}),
            ("a form's parts", 415, "POST", ask, good, {"Content-Type": "multipart/form-data; boundary=x"}),
            ("packed", 415, "POST", ask, good, {**JSON, "Content-Encoding": "gzip"}),
            ("asked by GET", 405, "GET", ask, None, {}),
            ("another method", 405, "PUT", ask, good, JSON),
            ("too large by its head", 413, "POST", ask, None, {**JSON, "Content-Length": str(65 << 20)})]:
        check(served.call(method, path, body, headers)[0], wanted, what)
    head = served.call("GET", page)[2]
    policy = head.getheader("Content-Security-Policy")
    assert "default-src 'none'" in policy and "frame-ancestors 'none'" in policy, policy
    check(head.getheader("Referrer-Policy"), "no-referrer", "the token stays here")
    # Packing takes longer than this way does: what a browser says it understands is not done.
    packs = {"Accept-Encoding": "gzip, deflate, br"}
    for method, path, body in [("GET", page, None), ("POST", ask, good)]:
        _, plain, answer = served.call(method, path, body, {**JSON, **packs})
        check(answer.getheader("Content-Encoding"), None, "sent as it is")
        check(answer.getheader("Content-Length"), str(len(plain)), "and told how long it is")


def malformed(served):
    """Bytes that are no request or no message: refused or hung up on, and the next one is served."""
    for body in [b"", b"{", b"[" * 100000, b"\xff\xfe\x00", b'{"ask":"state"', b"null"]:
        status, text, _ = served.call("POST", served.path + "ask", body, JSON)
        check(status, 200, "answered")
        assert "refused" in json.loads(text)
    for raw in [b"\r\n\r\n", b"GET\r\n\r\n", b"\x00" * 5000, b"GET " + b"a" * 100000 + b" HTTP/1.1\r\n\r\n",
                b"POST " + served.path.encode() + b"ask HTTP/1.1\r\nHost: " + served.host.encode()
                + b"\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n"]:
        with socket.create_connection(("127.0.0.1", served.port), 10) as link:
            link.settimeout(1.0)
            link.sendall(raw)
            try:
                link.recv(1000)
            except OSError:
                pass
    check(served.ask(ask="open")["ready"], True, "served after all that")


def chunked_flood(served):
    """A body without a stated length is given up at the limit, not kept."""
    with socket.create_connection(("127.0.0.1", served.port), 20) as link:
        link.sendall(b"POST " + served.path.encode() + b"ask HTTP/1.1\r\nHost: " + served.host.encode()
                     + b"\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n")
        piece = b"100000\r\n" + b" " * 0x100000 + b"\r\n"
        try:
            for _ in range(40):
                link.sendall(piece)
            link.sendall(b"0\r\n\r\n")
            answer = link.recv(100)
            assert b"413" in answer, answer
        except OSError:
            pass  # hung up on
    with open(f"/proc/{served.process.pid}/status") as status:
        peak = int(re.search(r"VmHWM:\s+(\d+) kB", status.read())[1])
    assert peak < 500_000, f"{peak} kB at most"


def dawdlers(served):
    """Sixty clients that send a byte now and then do not keep others waiting."""
    links = [socket.create_connection(("127.0.0.1", served.port), 10) for _ in range(60)]
    for link in links:
        link.sendall(b"P")
    begin = time.monotonic()
    check(served.ask(ask="state")["ready"], True, "served beside them")
    assert time.monotonic() - begin < 8.0, "before any of them is given up"
    for link in links:
        link.close()


def crowd(served):
    """Two hundred at once are all served."""
    done = []

    def one():
        done.append(served.ask(ask="progress")["work"]["going"])

    threads = [threading.Thread(target=one) for _ in range(200)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    check(len(done), 200, "answers")


def loopback_only(served):
    listening = subprocess.run(["ss", "-ltnH"], capture_output=True, text=True, check=False).stdout \
        if shutil.which("ss") else ""
    places = [line.split()[3] for line in listening.splitlines() if line.split()[3].endswith(f":{served.port}")]
    assert all(place == served.host for place in places), places


def two_names(one, other):
    assert one.path != other.path, "each has a token of its own"
    check(other.call("GET", one.path)[0], 403, "one's token at the other")


def wait_for_end(served):
    while True:
        told = served.ask(ask="progress")["work"]
        if not told["going"]:
            return told
        time.sleep(0.05)


def same_as_fit(set_folder):
    fitted = os.path.join(WORK, "fitted")
    shutil.rmtree(fitted, ignore_errors=True)
    subprocess.run([PROGRAM, "fit", os.path.join(set_folder, "job.json"), "--out", fitted],
                   check=True, stdout=subprocess.DEVNULL)
    names = sorted(os.path.relpath(os.path.join(at, f), fitted) for at, _, fs in os.walk(fitted) for f in fs)
    assert len(names) > 100, len(names)
    names.remove(MANIFEST)
    _, differ, missing = filecmp.cmpfiles(fitted, set_folder, names, shallow=False)
    check((differ, missing), ([], []), "as fit writes it")
    # The page writes the job beside the set.
    with open(os.path.join(set_folder, MANIFEST)) as ours, open(os.path.join(fitted, MANIFEST)) as theirs:
        check([line for line in ours if not line.rstrip().endswith(" job.json")], list(theirs), "what was written")
    return len(names)


def packed_as_written(served, folder):
    check(served.call("GET", served.path + "hinge.zip")[0], 404, "nothing was packed yet")
    check(served.call("GET", "/hinge.zip")[0], 403, "no token")
    served.ask(ask="save", packed=True)
    told = wait_for_end(served)
    assert told["good"] and told["packed"], told
    status, body, answer = served.call("GET", served.path + "hinge.zip")
    check((status, answer.getheader("Content-Type")), (200, "application/zip"), "the zip")
    with zipfile.ZipFile(io.BytesIO(body)) as packed:
        check(packed.testzip(), None, "every check sum")
        names = sorted(os.path.relpath(os.path.join(at, f), folder) for at, _, fs in os.walk(folder) for f in fs)
        names.remove(MANIFEST)
        check(sorted(packed.namelist()), names, "names in the zip")
        for name in names:
            with open(os.path.join(folder, name), "rb") as file:
                check(packed.read(name) == file.read(), True, name)


def writes_the_set():
    folder = os.path.join(WORK, "set")
    shutil.rmtree(folder, ignore_errors=True)
    with Served(os.path.join(EXAMPLES, "sample_chest.json"), "--out", folder) as served:
        served.ask(ask="open")
        served.ask(ask="find")
        wait_for_end(served)
        check(served.ask(ask="state")["now"]["outcome"], "clear", "a hinge")
        served.ask(ask="save", replace=False)
        told = wait_for_end(served)
        assert told["good"], told
        count = same_as_fit(folder)
        packed_as_written(served, folder)
        with open(os.path.join(folder, "summary.txt"), "rb") as file:
            before = file.read()
        served.ask(ask="save", replace=False)
        told = wait_for_end(served)
        assert told["there"] and not told["good"], told
        with open(os.path.join(folder, "summary.txt"), "rb") as file:
            check(file.read(), before, "nothing is overwritten unasked")
        served.ask(ask="save", replace=True)
        assert wait_for_end(served)["good"]
        check(served.ask(ask="end")["ended"], True, "ends when asked")
    left = [name for name in os.listdir(WORK) if name.startswith(".set")]
    check(left, [], "no half-written files")
    print(f"{count} files as fit writes them")


def tells(served, **message):
    served.ask(**message)
    return wait_for_end(served)


# What stands in a job's file and in which order, however its lines are broken.
def said(job):
    return json.dumps(json.loads(job))


# A job as the terminal makes it of the same file.
def made_by(*command):
    out = os.path.join(WORK, "made.json")
    subprocess.run([PROGRAM, *command, "--out", out, "--replace"], check=True, stdout=subprocess.DEVNULL)
    with open(out, encoding="utf-8") as file:
        return file.read()


def boxes_from_files(served):
    served.ask(ask="open")
    for ending in ("svg", "dxf"):
        drawing = os.path.join(EXAMPLES, "traced_chest." + ending)
        with open(drawing, encoding="utf-8") as file:
            text = file.read()
        told = tells(served, ask="trace", name="traced_chest." + ending, text=text, width="32 cm")
        assert told["good"], told
        assert told["said"].startswith(f"traced_chest.{ending}:\n  "), told
        check(said(served.ask(ask="state")["file"]), said(made_by("trace", drawing, "--width", "32 cm")),
              "as trace makes it")
    before = served.ask(ask="state")["file"]
    told = tells(served, ask="trace", name="a.svg", text=text, width="")
    check((told["good"], told["said"]), (False, "say the box's outside width with --width: a section does not show it\n"),
          "a width is asked for")
    told = tells(served, ask="trace", name="/etc/passwd", text="root:x:0", width="3")
    check((told["good"], told["said"]), (False, "passwd: is no drawing that can be traced; .svg and .dxf can\n"),
          "a path is no file")
    meshes = os.path.join(WORK, "meshes")
    os.makedirs(meshes, exist_ok=True)
    subprocess.run(["/usr/bin/python3", os.path.join(EXAMPLES, "mesh_chest.py"), meshes], check=True,
                   stdout=subprocess.DEVNULL)
    files = {}
    for name in ("case", "lid"):
        with open(os.path.join(meshes, name + ".stl"), "rb") as file:
            files[name] = base64.b64encode(file.read()).decode()
    pair = {"case_name": "case.stl", "lid_name": "lid.stl", **files}
    told = tells(served, ask="slice", hinge_side="z", **pair)
    assert not told["good"] and "the back cannot look up or down" in told["said"], told
    told = tells(served, ask="slice", hinge_side="-y", **{**pair, "lid": files["case"]})
    assert not told["good"], told
    check(served.ask(ask="state")["file"], before, "what fails changes nothing")
    told = tells(served, ask="slice", hinge_side="-y", **pair)
    assert told["good"], told
    made = made_by("slice", *(os.path.join(meshes, name + ".stl") for name in ("case", "lid")), "--hinge-side", "-y")
    check(said(served.ask(ask="state")["file"]), said(made), "as slice makes it")


def ends_in_the_middle_of_a_search():
    with Served(os.path.join(EXAMPLES, "sample_chest.json"), "--out", os.path.join(WORK, "none")) as served:
        served.ask(ask="open")
        served.ask(ask="find")
        time.sleep(0.3)
    assert not os.path.exists(os.path.join(WORK, "none"))


def main():
    os.makedirs(WORK, exist_ok=True)
    if sys.argv[4:] == ["whole"]:
        writes_the_set()
        return
    with Served() as served, Served() as other:
        for part in (refusals, malformed, chunked_flood, dawdlers, crowd, loopback_only, boxes_from_files):
            begin = time.monotonic()
            part(served)
            print(f"{part.__name__}: {time.monotonic() - begin:.1f} s")
        two_names(served, other)
    taken = socket.socket()
    taken.bind(("127.0.0.1", 0))
    taken.listen()
    refused = subprocess.run([PROGRAM, "mockup", "--no-browser", "--port", str(taken.getsockname()[1])],
                             capture_output=True, text=True, check=False)
    check(refused.returncode, 3, "a port that is taken")
    assert "--port" in refused.stderr, refused.stderr
    ends_in_the_middle_of_a_search()


main()
