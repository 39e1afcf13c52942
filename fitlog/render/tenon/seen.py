"""A tenon to touch."""

from __future__ import annotations

from ..flip.seen import tongued
from ..seen import Drawing


def drawing() -> Drawing:
    """Return the joint with its places."""
    return tongued()
