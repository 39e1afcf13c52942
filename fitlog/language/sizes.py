"""The number said with a word: what it may be, and what is said of one that cannot be."""

from __future__ import annotations

from ..domain import AspectKind, Said
from ..errors import Clause, FitlogError, Mm, NotUnderstood
from ..texts import tell
from .limits import check_range
from .speech import Speech
from .units import Length, quoted, shown


def sized(said: Said, length: Length, speech: Speech) -> Said:
    """Return a word with the size that was read for it; raises as `parse_phrases` does for one that
    the word cannot have.
    """
    return Said(said.kind, said.word, checked(said.kind, said.word, length, speech))


def checked(kind: AspectKind, word: str, length: Length, speech: Speech) -> float:
    """Return the size that goes with a word, mm; refuse one that it cannot have."""
    name, limit = speech.number(kind.name)
    refuse_turns(name, length)
    if word in kind.unread:
        raise _no_size(kind, word, length.text, speech)
    if length.mm <= 0:
        zero = "say {word}" if kind.settling in kind.unread else "leave the number out"
        zero = tell(zero, word=kind.settling)
        raise none_at_all(name, length, zero, speech.opposite(kind, word))
    return believed(length, name, limit)


def believed(length: Length, name: str, limit: float) -> float:
    """Return a length as what it is called, mm; raises Refused above its limit."""
    why = Clause("the {limit:g} that is plausible for it", limit=Mm(limit))
    return check_range(length, 0.0, limit, name, why)


def refuse_turns(name: str, length: Length) -> None:
    """Refuse what only a lift is moved by."""
    if length.unit == "turn":
        raise NotUnderstood(
            "bad-length",
            "{name} cannot be in turns: {typed}",
            "give it as a length, not in turns",
            name=name,
            typed=quoted(length.text),
        )


def _no_size(kind: AspectKind, word: str, typed: str, speech: Speech) -> FitlogError:
    """Return the refusal of a size behind a word that has none."""
    if word != kind.settling:
        return speech.without_number(word, shown(typed))
    hints = tell(" or ").join(f"{off} {typed.lstrip('+-−')}" for off in speech.offs(kind))
    return NotUnderstood("no-size", '"{word}" takes no size', "say {hints}", word=word, hints=hints)


def none_at_all(name: str, length: Length, zero: str, other: str | None = None) -> NotUnderstood:
    """Return the error for a size of zero or below. zero: what to do where there is none; other:
    the word of the other side, if there is one.
    """
    if length.mm < 0:
        return NotUnderstood(
            "bad-size",
            "{name} of {typed} is negative",
            "say {other} {size}" if other else "write it {size}",
            name=name,
            typed=shown(length.text),
            other=other,
            size=length.text[1:],
        )
    return NotUnderstood("bad-size", "{name} cannot be zero", "{advised}", name=name, advised=zero)
