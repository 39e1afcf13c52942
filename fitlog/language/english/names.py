"""What things are called, in English."""

from __future__ import annotations


def woods(tail: str, pin: str) -> str:
    """Return the names of the tail boards' and the pin boards' wood as one."""
    return tail if tail == pin else f"{tail} on {pin}"
