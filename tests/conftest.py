"""What the tests of the shell share."""

from __future__ import annotations

import gc
import os
import shutil
import signal
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import compiled
import postgres
import pytest
from logs import Place, fill, make_place, stock_up
from shop import Shop, make_shop

from fitlog import families
from fitlog.families import names
from fitlog.log import Log, open_log

# A shell that starts the tests in its background has them, and all that they start, ignore Ctrl-C;
# what is tested here is what it does.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)

# A log waits for its disk at each commit, which was a quarter of all that was waited for here; what
# is killed or filled by the thousand (`bench_durability`) keeps to the disk.
MEMORY = "/dev/shm"
if (
    "TMPDIR" not in os.environ
    and os.access(MEMORY, os.W_OK)
    and shutil.disk_usage(MEMORY).free > 2 * 2**30
):
    tempfile.tempdir = MEMORY

compiled.share()

# What is made while the tests are gathered stays to the end: a look through it for cycles, each
# time that it has grown by a quarter, finds none and was nearly half of the gathering.
gc.disable()


def pytest_collection_finish() -> None:
    """Look for cycles from now on, in what is made from now on."""
    gc.freeze()
    gc.enable()


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_auto_num_workers() -> int:
    """One worker more than there are cores: tests of terminals, kills and deadlines mostly wait."""
    return (os.cpu_count() or 1) + 1


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: Any, log: Any) -> Any:
    """Have neighbours run in one process, as long as no other has run out of tests: what a file
    makes once, such as a starting log, is then not made once in every process.
    """
    if config.option.dist != "load":  # another way was asked for
        return None
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log)


@pytest.fixture
def registry(monkeypatch: pytest.MonkeyPatch) -> None:
    """The families that are known, as they were again after the test."""
    for module, held in ((names, "FAMILIES"), (names, "PLANS"), (families, "FOLDERS")):
        monkeypatch.setattr(module, held, dict(getattr(module, held)))
    monkeypatch.setattr(families, "FAMILIES", names.FAMILIES)
    monkeypatch.setattr(families, "PLANS", names.PLANS)


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """An empty shop in a folder of its own."""
    made = make_shop(tmp_path, monkeypatch)
    made.alone = True
    return made


@pytest.fixture(scope="session")
def server() -> Iterator[postgres.Server]:
    """A PostgreSQL server of this run's own; skipped where none can run."""
    postgres.require()
    with postgres.running() as found:
        yield found


@pytest.fixture(params=["file", "server"])
def place(request: pytest.FixtureRequest, tmp_path: Path) -> Place:
    """Where a log can be made: once a file, once a schema of a database."""
    return make_place(request.param, request, tmp_path)


@pytest.fixture
def log(place: Place) -> Iterator[Log]:
    """An open log with a stocked catalogue."""
    with open_log(place.location, create=True) as opened:
        yield stock_up(opened)


@pytest.fixture
def filled(log: Log) -> Log:
    """A log with at least one row in every table."""
    return fill(log)
