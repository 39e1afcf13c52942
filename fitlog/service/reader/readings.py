"""What was measured of a piece, as it was typed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from ...domain import Reading
from ...errors import NotUnderstood
from ...families.names import family_of
from ...families.typed import typed_of
from ...language.limits import Limit
from ...language.units import quoted
from ...texts import tell
from .. import limits
from .choices import named as named_one
from .choices import pair_of
from .lengths import Reader

Numbers = str | tuple[str, str]  # one number, or two: rod and width, near wall and far wall


def named_readings(joint: str, typed: Sequence[str]) -> Iterator[tuple[str, Numbers]]:
    """Yield the readings of NAME=VALUE or NAME=VALUE:SECOND, as `readings` takes them."""
    family = family_of(joint)
    for one in typed:
        name, text = pair_of(one, "--read")
        kind = _kind(joint, name)
        second = family.readings[kind]
        if not second:
            yield kind, text
            continue
        marks = [mark for mark in (":", ";", ", ", ",") if mark in text]
        numbers = [part.strip() for part in text.split(marks[0])] if marks else []
        if len(numbers) != 2 or not all(numbers):
            raise NotUnderstood(
                "bad-choice",
                "the {called} {typed} are not two numbers",
                "write it like --read {kind}=VALUE:SECOND",
                called=kind.replace("_", " "),
                typed=quoted(text),
                kind=kind,
            )
        value, beside = numbers
        yield kind, (beside, value) if second == "rod" else (value, beside)


def readings(
    reader: Reader,
    joint: str,
    typed: Iterable[tuple[str, Numbers | None]],
    on: str = limits.TEST_PIECE,
) -> tuple[Reading, ...]:
    """Return what was measured, in the order given. on: what it was measured on, as the limit is
    called.
    """
    known = ((kind, text) for kind, text in typed if text is not None)
    return tuple(_reading(reader, joint, _kind(joint, kind), text, on) for kind, text in known)


def _kind(joint: str, name: str) -> str:
    family = family_of(joint)
    what = tell("reading of the {joint}", joint=family.called)
    return named_one(name, family.readings, what)


def _reading(reader: Reader, joint: str, kind: str, text: Numbers, on: str) -> Reading:
    taken, second = typed_of(joint).READINGS[kind], family_of(joint).readings[kind]
    texts = (text,) if isinstance(text, str) else text[::-1] if second == "rod" else text
    if len(texts) != len(taken.called):
        raise NotUnderstood(
            "bad-choice",
            "what is measured there is {called}",
            "give a number for each, and no other",
            called=tell(" and ").join(map(tell, taken.called)),
        )
    numbers = [
        reader.size(one, Limit(what, 0.0, most, on))
        for one, what, most in zip(texts, taken.called, taken.most, strict=True)
    ]
    return reading_of(kind, second, *numbers)


def reading_of(kind: str, second: str, value: float, beside: float | None = None) -> Reading:
    """Return a reading, mm. second: which the second number is, as the family says."""
    if second == "rod":
        return Reading(kind, value, rod=beside)
    return Reading(kind, value, other=beside)
