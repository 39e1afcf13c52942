"""Numbers of the talk that are no lengths."""

from __future__ import annotations


def percent(chance: float) -> str:
    """Return a chance; what is not quite sure is never shown as sure, nor as nothing."""
    return "under 1%" if chance < 0.01 else "over 99%" if chance > 0.99 else f"{chance:.0%}"


def content(moisture: float) -> str:
    """Return a moisture, %, to a tenth of a per cent."""
    return f"{round(moisture, 1):g}%"
