"""What was told of a piece as a trial cut: its settings, its number, what advice it was cut by."""

from __future__ import annotations

from ..domain import SetUp, TrialCut, clean_text
from ..errors import NotUnderstood, Refused
from ..families.typed import speech_of
from .asked import Reported
from .possible import check_settings, check_slot, end_of


def trial_cut(setup: SetUp, told: Reported) -> TrialCut:
    """Return a trial cut of a set-up, at what was shown last where nothing else was told.

    Raises Refused (no-piece, what `possible` says of settings that cannot be), NotUnderstood
    (nothing-said).
    """
    if told.slot:
        check_slot(setup.plan, told)
    last = setup.last_piece()
    if told.later and last is None:
        raise Refused(
            "no-piece",
            "there is no piece yet to add to",
            "log the first one without --same-piece",
            "cut one first, and say so",
        )
    settings = last.settings if told.later and last else setup.shown.changed(**told.changed)
    # What is said of a piece later was cut by the advice that the piece was cut by.
    first = next((c for c in setup.cuts if told.later and last and c.piece == last.number), None)
    end = end_of(setup, told, settings)
    check_settings(setup.plan, settings, told.changed, told.sizes)
    silent = told.verdict.empty and not told.readings
    if silent and not (told.note if told.later else told.unjudged):
        raise NotUnderstood(
            "nothing-said",
            "a cut without a word or a reading says nothing",
            "say how it fits: fitlog cut {word}",
            "say how it fits",
            word=speech_of(setup.plan.joint).word_of(),
        )
    number = (last.number if last else 0) + (0 if told.later else 1)
    return TrialCut(
        0,
        number,
        settings,
        told.verdict,
        told.readings,
        tuple(sorted(told.changed)),
        setup.shown if first is None else first.advised,
        clean_text("what was said", told.heard),
        clean_text("the note", told.note),
        clean_text("the scrap", told.scrap),
        told.sizes,
        slot=told.slot,
        end=end,
        after=told.after,
    )
