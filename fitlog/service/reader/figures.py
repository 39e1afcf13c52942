"""The named figures of a plan as they were typed, for any joint."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Bit, Machine
from ...errors import NotUnderstood
from ...families.names import family_of
from ...families.typed import Count, Figure, First, OneOf, Size, YesNo, typed_of
from ...families.wanted import PlanValue
from ...language.units import quoted
from ...texts import AsTyped, tell
from .choices import named, one_of
from .lengths import Reader

_ANSWERS = {"yes": True, "no": False}


def read_figures(
    reader: Reader, joint: str, texts: Mapping[str, str], bit: Bit, machine: Machine | None
) -> tuple[dict[str, PlanValue], dict[str, float]]:
    """Return the figures that were typed, by the plan's fields, and the first piece's settings
    among them, true mm by name.

    Raises NotUnderstood for a name that the joint has not or a value that means nothing, Refused
    for a value that cannot be.
    """
    typed, given = typed_of(joint), dict[str, str]()
    for name, text in texts.items():
        figure = named(
            name, typed.FIGURES, tell("figure of the {joint}", joint=family_of(joint).called)
        )
        if figure in given:
            raise NotUnderstood(
                "bad-choice", "the {figure} was given twice", "give it once", figure=figure
            )
        given[figure] = text
    figures: dict[str, PlanValue] = {}
    first: dict[str, float] = {}
    for name in (name for name in typed.FIGURES if name in given):
        kind = typed.FIGURES[name]
        if isinstance(kind, First):
            part, limit = family_of(joint).part_of[kind.field], typed.setting(bit, kind.field)
            first[kind.field] = reader.setting(given[name], part, limit, machine)
        else:
            figures[kind.field] = read_figure(reader, kind, name, given[name], bit)
    return figures, first


def read_figure(reader: Reader, figure: Figure, name: str, text: str, bit: Bit) -> PlanValue:
    """Return one figure, by the name it was typed by. Raises as `read_figures`."""
    called = tell("the figure {name}", name=AsTyped(name))
    match figure:
        case Size() as size:
            return reader.size(text, size.limit(bit))
        case Count() as count:
            return count.check(_whole(called, text))
        case OneOf() as one:
            return one_of(text, one.words, called)
        case YesNo():
            return _ANSWERS[one_of(text, tuple(_ANSWERS), called)]
    raise AssertionError(name)


def _whole(called: str, text: str) -> int:
    plain = text.removeprefix("-")
    if not (plain.isascii() and plain.isdecimal() and len(plain) < 10):
        raise NotUnderstood(
            "bad-choice",
            "{called} cannot be {typed}",
            "write a whole number",
            called=called,
            typed=quoted(text),
        )
    return int(text)
