"""A shop for the tests of the shell: one log in a folder of its own, and every way to run a command
on it.
"""

from __future__ import annotations

import json
import os
import sqlite3
import subprocess
import sys
from collections.abc import Callable, Mapping
from contextlib import closing
from functools import cache
from pathlib import Path
from typing import Any

import forked
import pytest
from typer.core import TyperGroup
from typer.main import get_group
from typer.testing import CliRunner

from fitlog.cli import app

ROOT = forked.ROOT
# Invented: nobody's bit, nobody's wood.
BIT = ("--diameter", "13.1", "--angle", "9", "--cutting-length", "14")
STOCK = ("--species", "elm (invented)", "--thickness", "17", "--width", "150")

# Who and what machine a command is by, where it does not say so itself.
WHO = ("LOGNAME", "USER", "LNAME", "USERNAME", "FITLOG_MACHINE")
_BUILT: dict[tuple[object, ...], dict[Path, bytes]] = {}  # what lies in its home, by its path


class Result:
    """What a command gave: its exit code and what it said on either stream."""

    def __init__(self, code: int, out: str, err: str) -> None:
        self.code, self.out, self.err = code, out, err

    @property
    def document(self) -> Any:
        """The one JSON document on standard output."""
        return json.loads(self.out)

    def __str__(self) -> str:
        return f"exit {self.code}\n--- out\n{self.out[-600:]}\n--- err\n{self.err[-600:]}"


@cache
def command_line() -> TyperGroup:
    """The whole command line, made once: making it takes longer than most commands do."""
    return get_group(app)


class Shop:
    """One log, in `home / log.db`, which is also the whole world of the user who works on it."""

    def __init__(self, home: Path) -> None:
        self.home, self.db = home, home / "log.db"
        self.alone = False  # whether it is the one shop of a test

    def run(self, *args: str, code: int | None = 0, env: Mapping[str, str] | None = None) -> Result:
        """Run a command in this process; anything that would be a traceback is raised."""
        ended: object = "nothing: it returned"
        with CliRunner().isolation(env=env) as (out, err, _):
            try:
                command_line().main(list(args), "fitlog")
            except SystemExit as end:
                ended = end.code
            except Exception as error:
                raise AssertionError(f"{args} ended in a traceback") from error
            sys.stdout.flush()
            sys.stderr.flush()
            said = [stream.getvalue().decode() for stream in (out, err)]
        assert isinstance(ended, int), f"{args} exited with {ended}"
        result = Result(ended, *said)
        assert code is None or result.code == code, f"{args}: {result}"
        return result

    def words(self, line: str, code: int | None = 0) -> Result:
        """Run a command written as one line without quotes."""
        return self.run(*line.split(), code=code)

    def json(self, line: str, code: int | None = 0) -> Any:
        """Run a line with --json and return its document."""
        return self.words(f"{line} --json", code).document

    def refused(self, *args: str, code: int = 1, kept: bool = True) -> str:
        """Run what must be refused in one sentence that leaves the log as it was; return the
        sentence.
        """
        before = self.everything()
        result = self.run(*args, code=code)
        assert result.out == "", result
        sentence(result.err)
        assert not kept or self.everything() == before, f"{args} wrote something"
        return result.err

    def stocked(self, *, machine: Mapping[str, str] | None = None) -> Shop:
        """Put one bit and one stock in the catalogue, and a machine with these options."""
        return self.built(_stock_up, machine)

    def started(self, line: str = "", *, machine: Mapping[str, str] | None = None) -> Shop:
        """Stock the shop and open a set-up."""
        return self.built(_start, machine, line)

    def built(self, build: Callable[..., object], *told: Any) -> Shop:
        """Have what `build` makes of an empty shop, told this: its log, and what else it writes
        into the home.

        It is made by its commands once in a process; the next test's own shop gets a copy of the
        files. Any other shop has it made: two logs of one test are never copies of each other.
        """
        if not self.alone or self.db.exists() or os.environ.get("FITLOG_DB") != str(self.db):
            build(self, *told)
            return self
        key = (build, str(told), *(os.environ.get(name) for name in WHO))
        if key in _BUILT:
            for name, held in _BUILT[key].items():
                path = self.home / name
                path.parent.mkdir(parents=True, exist_ok=True)
                path.touch(0o600)
                path.write_bytes(held)
        else:
            before = set(self.home.rglob("*"))
            build(self, *told)
            assert not Path(f"{self.db}-wal").exists(), "somebody has the log open still"
            made = (path for path in set(self.home.rglob("*")) - before if path.is_file())
            _BUILT[key] = {path.relative_to(self.home): path.read_bytes() for path in made}
        return self

    def everything(self) -> list[str]:
        """Every row of the log as SQL; nothing when there is no log."""
        if not self.db.exists():
            return []
        with closing(sqlite3.connect(self.db)) as plain:
            return list(plain.iterdump())

    def entries(self) -> int:
        """Number of the log's entries."""
        with closing(sqlite3.connect(self.db)) as plain:
            return int(plain.execute("SELECT count(*) FROM entry").fetchone()[0])

    def command(self, *args: str) -> list[str]:
        """The same command for a process of its own."""
        return [sys.executable, "-m", "fitlog", *args]

    def environment(self, **more: str) -> dict[str, str]:
        """The environment of a process of its own."""
        kept = {k: v for k, v in os.environ.items() if k not in forked.DROPPED}
        return {**kept, "PYTHONPATH": str(ROOT), "FITLOG_DB": str(self.db), **more}

    def process(self, *args: str, code: int | None = 0, anew: bool = False, **env: str) -> Result:
        """Run a command as a process of its own, forked from one that has imported it all.

        anew: started as its user starts it instead.
        """
        done = (subprocess if anew else forked).run(
            self.command(*args),
            env=self.environment(**env),
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            timeout=60,
        )
        result = Result(done.returncode, done.stdout, done.stderr)
        assert "Traceback" not in result.err, result
        assert code is None or result.code == code, f"{args}: {result}"
        return result


def _stock_up(shop: Shop, machine: Mapping[str, str] | None) -> None:
    shop.run("bit", "add", "marsh", *BIT)
    shop.run("stock", "add", "elm", *STOCK)
    if machine is not None:
        options = [part for name, value in machine.items() for part in (f"--{name}", value)]
        shop.run("machine", "add", "bench", *options)


def _start(shop: Shop, machine: Mapping[str, str] | None, line: str) -> None:
    shop.stocked(machine=machine).words(f"start {line}")


def make_shop(home: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A shop whose user has no home but `home`, in this process and in those it starts."""
    made = Shop(home)
    for name, value in (
        ("FITLOG_DB", made.db),
        ("HOME", home / "home"),
        ("XDG_CONFIG_HOME", home / "home/config"),
        ("XDG_DATA_HOME", home / "home/data"),
        ("APPDATA", home / "home/app"),
    ):
        monkeypatch.setenv(name, str(value))
    for name in ("NO_COLOR", "COLUMNS", "_FITLOG_COMPLETE"):
        monkeypatch.delenv(name, raising=False)
    return made


def sentence(err: str) -> None:
    """One line, fitlog's own, that says something."""
    assert err.startswith("fitlog: "), err
    assert err.endswith("\n") and err.count("\n") == 1, err
    assert "Traceback" not in err and len(err) > len("fitlog: x\n"), err


def by_code(remarks: list[dict[str, Any]]) -> dict[str, str]:
    """Remarks of a document as code -> text."""
    return {remark["code"]: remark["text"] for remark in remarks}
