"""One key at a time from a terminal, and one frame at a time onto it; the terminal is put back on
every way out.

Only what a VT100 knows is sent: cursor position, erase, bold. What was typed while nobody was to be
asked is dropped.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from typing import Protocol

from ...errors import Refused

HOME, ERASE_LINE, ERASE_BELOW, BOLD, PLAIN = "\033[H", "\033[K", "\033[J", "\033[1m", "\033[0m"


class Terminal(Protocol):
    """Where the dialogue is held."""

    def read(self) -> str:
        """Wait for a key: one character, "esc", "other" for what is no answer, or "resize".

        Raises HungUp when no more can come, KeyboardInterrupt for Ctrl-C.
        """

    def drop(self) -> None:
        """Forget what was typed and not yet read."""


def require_terminal() -> None:
    """Refuse ("no-terminal") what is no terminal that a dialogue can be held on."""
    both = all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))
    if not both or os.environ.get("TERM") == "dumb":
        what = (
            "a terminal that can place text" if both else "a terminal to read keys from and draw on"
        )
        raise Refused(
            "no-terminal",
            "bench is a dialogue and needs {what}",
            "log the piece with fitlog cut instead",
            what=what,
        )


def size() -> tuple[int, int]:
    """Return columns and rows to draw on, asked anew each time; the last column stays free, so that
    nothing wraps.
    """
    try:
        columns, rows = os.get_terminal_size(sys.stdout.fileno())
    except (OSError, ValueError):
        columns, rows = 0, 0
    return max(12, (columns or 80) - 1), max(6, rows or 24)


def put(lines: Sequence[str]) -> None:
    """Draw a frame from the top left, the first line bold; the cursor stays at the end of the last
    one.
    """
    bold, plain = ("", "") if os.environ.get("NO_COLOR") else (BOLD, PLAIN)
    drawn = [f"{HOME}{bold}{lines[0]}{plain}{ERASE_LINE}"]
    drawn += [f"\033[{row};1H{line}{ERASE_LINE}" for row, line in enumerate(lines[1:], 2)]
    sys.stdout.write("".join(drawn) + ERASE_BELOW)
    sys.stdout.flush()


def _wipe() -> None:
    with suppress(OSError, ValueError):  # a terminal that is gone needs no wiping
        sys.stdout.write(HOME + ERASE_BELOW)
        sys.stdout.flush()


@contextmanager
def terminal() -> Iterator[Terminal]:
    """Take the terminal for a dialogue; what it was like before is restored whatever happens."""
    if sys.platform == "win32":
        from .keys_windows import WindowsKeys

        os.system("")  # turns on the escapes of a VT100 in the console
        taken: Terminal = WindowsKeys()
        try:
            yield taken
        finally:
            _wipe()
    else:
        from .keys_posix import PosixKeys

        with PosixKeys(sys.stdin.fileno()) as keys:
            try:
                yield keys
            finally:
                _wipe()
