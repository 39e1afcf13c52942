"""Bars of characters: blocks where a terminal has them, ASCII elsewhere."""

from __future__ import annotations

from .screen import Screen

EIGHTHS = " \u258f\u258e\u258d\u258c\u258b\u258a\u2589\u2588"


def bar(length: float, blocks: bool) -> str:
    """Return a bar of `length` characters, never quite nothing where there is something."""
    if length <= 0:
        return ""
    if not blocks:
        return "#" * max(1, round(length))
    full, part = divmod(max(1, round(length * 8)), 8)
    return EIGHTHS[8] * full + (EIGHTHS[part] if part else "")


def has_blocks(screen: Screen, characters: str = EIGHTHS) -> bool:
    """Tell whether a stream's encoding has these characters."""
    try:
        characters.encode(getattr(screen.stream, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return False
    return True
