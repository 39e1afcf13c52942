"""A tongue in its groove to touch."""

from __future__ import annotations

from ..flip.seen import OTHER, SHOULDER, tongued
from ..seen import Drawing


def drawing() -> Drawing:
    """Return the joint with its places."""
    return tongued(("walls-unequal", (70.0, 270.0), (SHOULDER - 60, OTHER + 26)))
