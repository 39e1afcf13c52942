"""What is written down about a set-up: title, notes, where its sample is, what became of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..domain import About, Note, SetUp
from ..errors import Refused
from ..families.typed import speech_of
from ..language.outcomes import Became, heard
from .asked import Bench
from .ending import undone


@dataclass(frozen=True, slots=True)
class NotesTyped:
    """What was typed to be written down; None: not given. An empty title, or place of the sample,
    takes the one from before away.
    """

    title: str | None = None
    note: str | None = None
    kept: str | None = None

    def notes(self) -> tuple[Note, ...]:
        """Return it as notes. Raises Refused: bad-note, text-too-long, control-character."""
        said: tuple[tuple[About, str | None], ...] = (
            ("title", self.title),
            ("kept", self.kept),
            ("note", self.note),
        )
        return tuple(Note(about, text) for about, text in said if text is not None)


def note(bench: Bench, setup: SetUp, notes: Sequence[Note]) -> SetUp:
    """Log what is written down about a set-up; return it. Raises Refused: undone-setup."""
    if setup.undone:
        raise undone(setup.number)
    bench.log.note(setup.number, notes, bench.stamp(setup.plan.machine))
    return bench.log.setup(setup.number)


def outcome(bench: Bench, setup: SetUp, text: str) -> SetUp:
    """Log what became of a finished set-up; return it with that. Raises Refused: bad-note,
    not-finished, undone-setup.
    """
    said = Note("outcome", text)
    if setup.outcome is None and not setup.undone:
        raise Refused(
            "not-finished",
            "set-up {number}{titled} is still tuning: nothing can have become of it yet",
            "finish it first with fitlog finish --setup {number}, or write it down with fitlog "
            "note --setup {number}",
            "finish it first, or write a note",
            number=setup.number,
            titled=setup.titled,
        )
    if setup.outcome == "abandoned":
        raise Refused(
            "not-finished",
            "set-up {number}{titled} was abandoned: no boards were cut by it",
            "write it down with fitlog note --setup {number}, or name another",
            "write a note",
            number=setup.number,
            titled=setup.titled,
        )
    return note(bench, setup, [said])


def understood(setup: SetUp, said: Note) -> Became | None:
    """Return what is understood of an outcome; None of what is only kept."""
    return heard(said.text, speech_of(setup.plan.joint)) if said.about == "outcome" else None


def with_outcomes(bench: Bench) -> list[SetUp]:
    """Return the set-ups of which it is known what became of them, newest first."""
    known = (one for one in bench.log.every() if any(n.about == "outcome" for n in one.notes))
    return list(known)[::-1]
