"""Where text goes: tables and colour where a person looks, plain stable lines in a pipe."""

from __future__ import annotations

import os
import shutil
import sys
import textwrap
from collections.abc import Sequence
from typing import TextIO

from ..texts import tell

PIPE_WIDTH = 10_000  # lines in a pipe are never wrapped
_NARROW, _WIDE = 40, 60


class Screen:
    """One output stream. `line` wraps for a terminal; `table` is drawn there and aligned
    in a pipe. What they are given is an English text and its values (`texts.tell`).

    rows: of `line` and `head`, so far.
    """

    def __init__(self, stream: TextIO | None = None) -> None:
        self.stream = stream if stream is not None else sys.stdout
        self.terminal = bool(getattr(self.stream, "isatty", lambda: False)())
        self.width = (
            max(_NARROW, shutil.get_terminal_size((80, 24)).columns)
            if self.terminal
            else PIPE_WIDTH
        )
        self.rows = 0

    @property
    def narrow(self) -> bool:
        """Whether it is a terminal with room for little beside a setting."""
        return self.width < _WIDE

    def wrapped(self, text: str, indent: str = "") -> list[str]:
        """Return the rows that a text takes; `indent` for those that follow its first."""
        if not self.terminal:
            return [text]
        return textwrap.wrap(
            text, self.width - 1, subsequent_indent=indent, break_on_hyphens=False
        ) or [""]

    def line(self, text: str = "", /, *, indent: str = "", **values: object) -> None:
        """Print a paragraph; `indent` for the lines that follow its first."""
        for part in self.wrapped(tell(text, **values), indent):
            self.rows += 1
            print(plain(part), file=self.stream)

    def head(self, text: str, /, **values: object) -> None:
        """Print a heading."""
        text = tell(text, **values)
        if not self.terminal or os.environ.get("NO_COLOR"):
            self.line(text)
            return
        for part in self.wrapped(text):
            self.rows += 1
            print(f"\033[1m{plain(part)}\033[0m", file=self.stream)

    def table(
        self, headers: Sequence[str], rows: Sequence[Sequence[str]], *, right: Sequence[int] = ()
    ) -> None:
        """Print rows under headers; columns in `right` are right-aligned. A narrow terminal gets
        one block a row.
        """
        headers, cells = list(map(tell, headers)), [[plain(c) for c in row] for row in rows]
        widths = [max(len(r[i]) for r in (headers, *cells)) for i in range(len(headers))]
        if self.terminal and self.holds(headers, cells):
            self._drawn(headers, cells, right)
        elif self.terminal:
            self._blocks(headers, cells)
        else:
            for row in (headers, *cells):
                parts = [
                    c.rjust(w) if i in right else c.ljust(w)
                    for i, (c, w) in enumerate(zip(row, widths, strict=True))
                ]
                print("  ".join(parts).rstrip(), file=self.stream)

    def holds(self, headers: Sequence[str], rows: Sequence[Sequence[str]]) -> bool:
        """Tell whether rows go side by side here; a narrow terminal gets a block for each."""
        cells = [list(map(tell, headers)), *([plain(c) for c in row] for row in rows)]
        widths = [max(map(len, column)) for column in zip(*cells, strict=True)]
        return not self.terminal or sum(widths) + 2 * (len(widths) - 1) <= self.width

    def _drawn(
        self, headers: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[int]
    ) -> None:
        from rich import box
        from rich.console import Console
        from rich.table import Table
        from rich.text import Text

        table = Table(
            box=box.SIMPLE_HEAD,
            pad_edge=False,
            show_edge=False,
            collapse_padding=True,
            padding=(0, 1),
        )
        for i, name in enumerate(headers):
            table.add_column(Text(name), justify="right" if i in right else "left", no_wrap=True)
        for row in rows:
            table.add_row(*(Text(cell) for cell in row))
        console = Console(
            file=self.stream,
            width=self.width,
            highlight=False,
            color_system=None if os.environ.get("NO_COLOR") else "auto",
        )
        console.print(table)

    def _blocks(self, headers: Sequence[str], rows: Sequence[Sequence[str]]) -> None:
        lead = max(len(name) for name in headers) + 2
        for row in rows:
            for name, cell in zip(headers, row, strict=True):
                if cell:
                    self.line(f"{name.ljust(lead)}{cell}", indent=" " * lead)
            self.line()


def plain(text: str) -> str:
    """Return text that is safe on any terminal: control characters as their escapes."""
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)
