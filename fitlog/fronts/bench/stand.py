"""Where the dialogue stands: a pure function of a set-up's live entries."""

from __future__ import annotations

from dataclasses import dataclass

from ...domain import Aspect, AspectKind, Said, SetUp, TrialCut


@dataclass(frozen=True, slots=True)
class Stand:
    """at: "settings" before piece number `piece` is cut; an aspect while piece `piece` is judged;
    "over" at the end.
    """

    at: str
    piece: int


def stand(setup: SetUp) -> Stand:
    """Return where the dialogue on a set-up stands.

    A piece is asked about when its first entry says only that it was cut: what `fitlog cut` logged
    was said in one go, and what it left out was not judged.
    """
    told = about_last(setup)
    number = told[0].piece if told else 0
    if setup.undone or setup.outcome is not None:
        return Stand("over", number)
    if told and told[0].verdict.empty and not told[0].readings:
        for aspect in asked_of(setup):
            if not _answered(setup.plan.family.kind(aspect), told):
                return Stand(aspect, number)
    return Stand("settings", number + 1)


def asked_of(setup: SetUp) -> list[Aspect]:
    """Return the aspects in play, and those that nothing tunes, in the order in which a piece is
    asked about.
    """
    family, in_play = setup.plan.family, setup.plan.in_play
    return [a for a in family.asked if a in in_play or a not in family.setting_of]


def about_last(setup: SetUp) -> list[TrialCut]:
    """Return the entries about the last piece, in the order of the log; none before the first
    piece.
    """
    cuts = [cut for cut in setup.cuts if not cut.slot]
    number = max((cut.piece for cut in cuts), default=0)
    return [cut for cut in cuts if cut.piece == number]


def not_judged(aspect: Aspect) -> str:
    """Return the note that says that a piece is not judged in an aspect."""
    return f"{aspect} not judged"


def _answered(kind: AspectKind, told: list[TrialCut]) -> bool:
    """Tell whether the entries about a piece judge an aspect, measure it or leave it out."""
    return any(
        cut.verdict.of(kind.name) is not None
        or cut.note == not_judged(kind.name)
        or any(reading.kind in kind.read_by for reading in cut.readings)
        for cut in told
    )


def last_word(setup: SetUp) -> Said | None:
    """Return the newest word about the last piece, the one that a measured number belongs to; None
    without one.
    """
    order = setup.plan.family.asked
    for cut in reversed(about_last(setup)):
        said = [s for a in reversed(order) if (s := cut.verdict.of(a)) is not None]
        if said:
            return next((s for s in said if takes_number(s)), said[0])
    return None


def takes_number(said: Said) -> bool:
    """Tell whether a word can have a number: a joint that does not come apart has no gap, a flush
    one no step.
    """
    return said.word not in said.kind.unread
