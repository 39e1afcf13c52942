"""Moments as the clock of this place shows them; the log and every document keep UTC."""

from __future__ import annotations

from datetime import datetime


def day(at: datetime) -> str:
    """Return the day of an aware moment."""
    return at.astimezone().strftime("%Y-%m-%d")


def minute(at: datetime) -> str:
    """Return an aware moment to the minute."""
    return at.astimezone().strftime("%Y-%m-%d %H:%M")
