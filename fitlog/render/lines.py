"""Text cut to the size of a terminal, in ASCII: what the frames of the dialogue are made of."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence

from ..texts import tell

MORE = tell("More with ?")


def ascii_only(text: str) -> str:
    """Return text that any terminal shows in as many columns as it has characters."""
    kept = text.encode("ascii", "replace").decode()
    return "".join(c if c.isprintable() else "?" for c in kept)


def clip(text: str, width: int) -> str:
    """Return text in at most `width` columns, its end left out with "..." if it is longer."""
    text = ascii_only(text)
    return text if len(text) <= width else text[: max(0, width - 3)] + "..."[:width]


def wrap(text: str, width: int, indent: str = "") -> list[str]:
    """Return a paragraph as lines; `indent` for those after the first."""
    return textwrap.wrap(
        ascii_only(text), max(8, width), subsequent_indent=indent, break_on_hyphens=False
    ) or [""]


def row_of(tokens: Iterable[str], width: int) -> list[str]:
    """Set tokens side by side, three spaces apart, in as few lines as they need; a token is not
    broken.
    """
    lines = [""]
    for token in tokens:
        longer = f"{lines[-1]}   {token}" if lines[-1] else token
        if len(longer) <= width:
            lines[-1] = longer
        else:
            lines.append(clip(token, width))
    return [line for line in lines if line]


def ends(left: str, right: str, width: int) -> str:
    """Return a line with text at both ends; the left one gives way."""
    short = clip(left, max(0, width - len(right) - 2))
    return f"{short:<{max(0, width - len(right))}}{right}"[:width]


def fill(items: Sequence[Sequence[str]], rows: int) -> list[str]:
    """Return the lines of all items if `rows` hold them; else the first ones, and where
    to read on.
    """
    lines = [line for item in items for line in item]
    if len(lines) <= rows:
        return lines
    return [*lines[: rows - 1], MORE] if rows > 0 else []
