"""What is understood of what became of a set-up's joints, by its family's words."""

from __future__ import annotations

from ..domain import SetUp
from ..language.outcomes import Became, heard
from .typed import speech_of

__all__ = ["Became", "became_of"]


def became_of(setup: SetUp) -> Became | None:
    """Return what became of a set-up's joints; None where nothing is understood, or where it was
    tight once and loose once, which no other aim cures.
    """
    speech = speech_of(setup.plan.joint)
    said = [heard(note.text, speech) for note in setup.notes if note.about == "outcome"]
    newest = {one.when: one for one in said if one is not None}
    off = [one for one in newest.values() if one.direction != "good"] or list(newest.values())
    return off[-1] if len({one.direction for one in off}) == 1 else None
