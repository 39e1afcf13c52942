"""The page under load: python tests/benchmarks/bench_page.py [--answers N] [--every S] [--server]

Ten phones answer, each every S seconds, on a log with 100,000 trial cuts (`bigshop`), a set-up and
a bit each; then all ten at once, again and again. Each holds the stream of events of the screen
that it shows, as a browser does; two more only look on at the set-ups of two of them, and have to
hear of every answer. An answer's time is from the touch that stores it to the screen that comes
next, whole, over the loopback. Afterwards the log is read: every answer has to be there once.
Beside: the start to the first screen, the server's memory after a tenth of the answers and at the
end, and the time of a processor that it took, for all that the phones asked, an answer.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import re
import socket
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

import beside  # noqa: F401
from bigshop import BITS, MACHINES, STOCKS, make
from browsing import Served
from postgres import running

PHONES, SETUPS = 10, 5_000
WORDS = {"fit": "slightly tight", "seat": "slightly proud", "centre": "gap far"}
ROUNDS = 20  # of all ten at once
LOOKING = 2  # phones that only look on


class Stream:
    """What a screen is told of its set-up as long as it is shown. heard: the moment of each newest
    entry that came.
    """

    def __init__(self, port: int, setup: int, seen: str) -> None:
        self.heard: dict[int, float] = {}
        self._wire = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        head = {"Accept": "text/event-stream"}
        self._wire.request("GET", f"/s/{setup}/events?seen={seen}", headers=head)
        self._socket, self._open = self._wire.sock, True
        self._thread = threading.Thread(target=self._read)
        self._thread.start()

    def _read(self) -> None:
        try:
            reply = self._wire.getresponse()
            assert reply.status == 200, reply.status
            for line in reply:
                if line.startswith(b"data: "):
                    self.heard[int(line[6:])] = time.perf_counter()
        except (OSError, http.client.HTTPException):
            assert not self._open, "a stream broke"

    def close(self) -> None:
        """Leave, as a browser does that shows something else."""
        self._open = False
        self._socket.shutdown(socket.SHUT_RDWR)
        self._thread.join()
        self._wire.close()


class Phone:
    """One phone's browser: it follows where it is sent, and knows the form it was shown. said: the
    moment of each answer by its entry; took: how long each took, s.
    """

    def __init__(self, port: int, setup: int) -> None:
        self.port, self.setup = port, setup
        self.said, self.took = dict[int, float](), list[float]()
        self.wire = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        self.origin = f"http://127.0.0.1:{port}"
        self.text = self.at = ""
        self.stream: Stream | None = None
        self.open(f"/s/{setup}")

    def open(self, path: str) -> None:
        """Open a screen, and let it listen."""
        self.get(path)
        self.listen()

    def listen(self) -> None:
        """Hold the stream of the screen that is shown."""
        self.stream = Stream(self.port, self.setup, self.field("seen"))

    def leave(self) -> None:
        """Show this screen no longer."""
        if self.stream is not None:
            self.stream.close()
        self.stream = None

    def field(self, name: str) -> str:
        """Return a field of the form that is shown."""
        found = re.search(rf'(?:name="{name}" value|data-{name})="([^"]+)"', self.text)
        assert found is not None, (name, self.at)
        return found[1]

    def get(self, path: str) -> None:
        """Open a screen, following to where it is."""
        self.leave()
        while True:
            reply, text = self.ask("GET", path)
            self.text, self.at = text, path
            if reply.status != 303:
                assert reply.status == 200, (reply.status, path, self.text)
                return
            path = str(reply.headers["location"])

    def ask(self, *request: Any) -> tuple[http.client.HTTPResponse, str]:
        """Ask, and ask again over a new connection where the server has closed the idle one, as a
        browser does: the page's answers have numbers.
        """
        for last in (False, True):
            try:
                self.wire.request(*request)
                reply = self.wire.getresponse()
                return reply, reply.read().decode()
            except (http.client.RemoteDisconnected, BrokenPipeError, ConnectionResetError):
                self.wire.close()
                if last:
                    raise
        raise AssertionError

    def answer(self) -> None:
        """Say the next thing that this set-up is asked, and note how long the next screen took."""
        if self.at.endswith("/now"):
            self.open(f"/s/{self.setup}/set")
        at = re.search(r'name="aspect" value="(\w+)"', self.text)
        if self.at.endswith("/set"):
            self.open(f"/s/{self.setup}/cut?seen={self.field('seen')}")
            fields = {"what": "cut"}
        elif self.at.endswith("/number"):
            fields = {"what": "number", "aspect": at[1] if at else "", "text": "0.4 mm"}
        else:
            assert at is not None, self.at
            fields = {"choice": f"word:{WORDS[at[1]]}", "aspect": at[1]}
        fields |= {name: self.field(name) for name in ("key", "seen")}
        head = {
            "Content-Type": "application/x-www-form-urlencoded",
            "Origin": self.origin,
            "Fitlog-Script": "1",
        }
        begun = time.perf_counter()
        reply, _ = self.ask("POST", f"/s/{self.setup}/answer", urlencode(fields), head)
        assert reply.status == 204, (reply.status, fields)
        self.get(str(reply.headers["Fitlog-Next"]))
        self.took.append(time.perf_counter() - begun)
        self.said[int(self.field("seen")[1:])] = begun
        self.listen()


def main() -> None:
    """Run it on a file, or on a server of its own on the loopback."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--answers", type=int, default=1000)
    asked.add_argument("--every", type=float, default=3.0)
    asked.add_argument("--server", action="store_true")
    told = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, place(Path(folder), told.server) as log:
        setups = [start(Path(folder), log, n) for n in range(PHONES)]
        before = entries(Path(folder), log)
        begun = time.perf_counter()
        served = Served(Path(folder), log)
        phones = [Phone(served.port, setup) for setup in setups[:1]]
        print(f"start to the first screen: {time.perf_counter() - begun:.2f} s", flush=True)
        phones += [Phone(served.port, setup) for setup in setups[1:]]
        looking = [Phone(served.port, setup) for setup in setups[:LOOKING]]
        busy = processor(served)
        spread(phones, max(1, told.answers // 10 // PHONES), told.every)
        early = held(served)
        spread(phones, told.answers * 9 // 10 // PHONES, told.every)
        say(f"each every {told.every:g} s", [t for p in phones for t in p.took])
        each = (processor(served) - busy) / sum(len(p.took) for p in phones)
        print(f"the server's processor: {1000 * each:.0f} ms an answer")
        print(f"memory: {early} MB after a tenth of the answers, {held(served)} MB at the end")
        for phone in phones:
            phone.took.clear()
        for _ in range(ROUNDS):
            at_once(phones)
        say("all ten at once", [t for p in phones for t in p.took])
        hear(looking, phones)
        for phone in (*phones, *looking):
            phone.leave()
        served.end()
        there, said = entries(Path(folder), log) - before, sum(len(p.said) for p in phones)
        print(f"answers: {said} given, {there} in the log")
        assert there == said


@contextmanager
def place(folder: Path, server: bool) -> Iterator[str]:
    """Make the long log; yield where it is."""
    path = folder / "log.db"
    print(f"{make(path, SETUPS):,} trial cuts", flush=True)
    if not server:
        yield str(path)
        return
    export = folder / "log.json"
    with running() as there:
        url = there.place()
        fitlog(folder, str(path), "log", "export", str(export))
        fitlog(folder, url, "log", "import", str(export))
        yield url


def start(folder: Path, log: str, n: int) -> int:
    """Start a set-up of a bit of its own; return its number."""
    names = (
        "--bit",
        BITS[n + 1].name,
        "--stock",
        STOCKS[n].name,
        "--machine",
        MACHINES[n % 5].name,
    )
    return int(json.loads(fitlog(folder, log, "start", *names, "--yes", "--json"))["setup"])


def fitlog(folder: Path, log: str, *words: str) -> str:
    """Run a command at a log; return what it printed."""
    env = {**os.environ, "HOME": str(folder), "FITLOG_DB": log, "USER": "jo", "LOGNAME": "jo"}
    command = [sys.executable, "-m", "fitlog", *words]
    return subprocess.run(command, env=env, check=True, capture_output=True, text=True).stdout


def entries(folder: Path, log: str) -> int:
    """Return how many entries about pieces the log holds."""
    return int(json.loads(fitlog(folder, log, "log", "where", "--json"))["rows"]["trial_cut"])


def spread(phones: list[Phone], answers: int, every: float) -> None:
    """Let each phone answer so many times, one answer in `every` seconds, the phones shifted."""

    def go(phone: Phone, shift: float) -> None:
        begun = time.monotonic() + shift
        for n in range(answers):
            time.sleep(max(0.0, begun + n * every - time.monotonic()))
            phone.answer()

    together([(go, phone, n * every / PHONES) for n, phone in enumerate(phones)])


def at_once(phones: list[Phone]) -> None:
    """Let all answer in the same moment."""
    gate = threading.Barrier(len(phones))

    def go(phone: Phone) -> None:
        if phone.at.endswith("/now"):
            phone.open(f"/s/{phone.setup}/set")
        gate.wait()
        phone.answer()

    together([(go, phone) for phone in phones])


def together(jobs: list[tuple[object, ...]]) -> None:
    """Run some jobs in threads, and raise what any of them raised."""
    failed: list[BaseException] = []

    def run(job: object, *given: object) -> None:
        try:
            job(*given)  # type: ignore[operator]
        except BaseException as error:
            failed.append(error)

    threads = [threading.Thread(target=run, args=job) for job in jobs]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    for error in failed:
        raise error


def hear(looking: list[Phone], phones: list[Phone]) -> None:
    """Say how long it was until who looks on heard of each answer: of it, or of a later one."""
    took = []
    for here, there in zip(looking, phones, strict=False):
        assert here.stream is not None
        heard, until = here.stream.heard, time.monotonic() + 10
        while max(heard, default=0) < max(there.said) and time.monotonic() < until:
            time.sleep(0.05)
        for entry, at in there.said.items():
            first = [moment for number, moment in heard.items() if number >= entry]
            assert first, f"nobody heard of entry {entry}"
            took.append(min(first) - at)
    say("until another phone hears of it", took)


def processor(served: Served) -> float:
    """Return the time of a processor that the server has taken, s."""
    status = Path(f"/proc/{served.process.pid}/stat").read_text().rpartition(")")[2].split()
    return (int(status[11]) + int(status[12])) / os.sysconf("SC_CLK_TCK")


def held(served: Served) -> int:
    """Return the memory that the server holds, MB."""
    status = Path(f"/proc/{served.process.pid}/status").read_text()
    found = re.search(r"VmRSS:\s+(\d+)", status)
    assert found is not None
    return int(found[1]) // 1024


def say(what: str, took: list[float]) -> None:
    """Print a row of the table."""
    hundred = statistics.quantiles(took, n=100)
    print(
        f"{what}: {len(took)} answers, median {1000 * statistics.median(took):.0f} ms, "
        f"99 % within {1000 * hundred[98]:.0f} ms, the slowest {1000 * max(took):.0f} ms",
        flush=True,
    )


if __name__ == "__main__":
    main()
