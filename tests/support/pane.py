"""A real pseudo-terminal with `fitlog bench` in it, seen through a terminal emulator as its user
sees it.
"""

from __future__ import annotations

import re
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from types import TracebackType

import forked
import pexpect
import pyte
from shop import Shop

LIFT = {"height-turn": "1.6", "fence-step": "0.05", "backlash": "0.1"}
FIT, SEAT, CENTRE = "fit, 1 of 3", "seat, 2 of 3", "centre, 3 of 3"
PATIENCE = (
    30.0  # s until a screen must have come: far above what it takes, so that only a hang fails
)
# What a VT100 knows of it (ECMA-48: CUP, EL, ED, SGR): position, erase, bold on and off.
PLAIN_ESCAPES = re.compile(rb"\x1b\[(?:\d+;1H|H|K|J|1m|0m)")


class Pane:
    """One process of `fitlog bench` (or another command) at a terminal of `columns` x `rows`."""

    def __init__(
        self, shop: Shop, *args: str, columns: int = 80, rows: int = 24, **env: str
    ) -> None:
        self.child = forked.spawn(
            shop.command(*(args or ("bench",))),
            env=shop.environment(**{"TERM": "vt100", **env}),
            dimensions=(rows, columns),
            timeout=PATIENCE,
        )
        self.child.delaybeforesend = None
        self.sent = b""  # everything the program wrote
        self._show(columns, rows)

    def __enter__(self) -> Pane:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.child.close(force=True)

    def _show(self, columns: int, rows: int) -> None:
        self.screen = pyte.HistoryScreen(columns, rows)
        self.stream = pyte.ByteStream(self.screen)

    @property
    def text(self) -> str:
        """What is on the screen, line by line."""
        return "\n".join(line.rstrip() for line in self.screen.display)

    @property
    def flat(self) -> str:
        """The same as one line, so that it does not matter where a sentence was broken."""
        return " ".join(self.text.split())

    @property
    def lines(self) -> list[str]:
        """The same as lines."""
        return self.text.split("\n")

    def resize(self, columns: int, rows: int) -> None:
        """Give the terminal another size; what was on it is gone."""
        self._show(columns, rows)
        self.child.setwinsize(rows, columns)

    def take(self, seconds: float) -> None:
        """Take what the program writes for some time."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            try:
                found = self.child.read_nonblocking(65536, timeout=min(left, 0.05))
            except pexpect.TIMEOUT:
                continue
            except pexpect.EOF:
                return
            self.sent += found
            self.stream.feed(found)

    def until(self, wanted: str) -> Pane:
        """Wait until the screen shows a text, wherever it is broken into lines."""
        end = time.monotonic() + PATIENCE
        while wanted not in self.flat:
            assert time.monotonic() < end, f"{wanted!r} never came:\n{self.text}"
            alive = self.child.isalive()
            self.take(0.05)
            assert alive or wanted in self.flat, f"{wanted!r} never came:\n{self.text}"
        return self

    def press(self, keys: str, wanted: str) -> Pane:
        """Send keys in one burst, then wait for a text."""
        self.child.send(keys)
        return self.until(wanted)

    def ended(self) -> int:
        """Wait for the end; return the exit code, or the signal's number below zero."""
        end = time.monotonic() + PATIENCE
        while self.child.isalive():
            assert time.monotonic() < end, f"it never ended:\n{self.text}"
            self.take(0.05)
        self.take(0.1)
        self.child.close()
        status, signal = self.child.exitstatus, self.child.signalstatus
        return int(status) if status is not None else -int(signal or 0)


def said(shop: Shop) -> list[tuple[int, str, str, bool]]:
    """Every entry about the pieces of the set-up: piece, what was heard, the note, whether it was
    taken back.
    """
    with closing(sqlite3.connect(shop.db)) as plain:
        rows = plain.execute(
            "SELECT piece, heard, note, entry IN (SELECT retracted FROM retraction) FROM trial_cut "
            "ORDER BY entry"
        ).fetchall()
    return [(piece, heard, note, bool(gone)) for piece, heard, note, gone in rows]


@contextmanager
def locked(shop: Shop) -> Iterator[None]:
    """Hold the log's write lock, as a backup or another window would."""
    with closing(sqlite3.connect(shop.db, isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield
        other.execute("ROLLBACK")
