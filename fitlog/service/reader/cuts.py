"""A trial cut as it was typed: words, settings or moves since the last piece, readings."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from ...domain import Plan, Reading, Said, SetUp, Verdict
from ...domain.setups import known
from ...errors import NotUnderstood, Refused
from ...families.half_blind.plan import dovetail
from ...language.phrases import parse_phrases, sized
from ...language.units import MM_PER_INCH, parse_length
from .. import limits
from ..asked import Reported
from ..doubts import likely
from .lengths import PieceTyped, Reader

_BARE_FRACTION = re.compile(r"[+\u2212-]?(?:[0-9]+[ -]+)?[0-9]+/0*[1-9][0-9]*")
Values = dict[str, float]
Numbers = str | tuple[str, str]  # one number, or two: rod and width, near wall and far wall


@dataclass(frozen=True, slots=True)
class Dialled:
    """A setting as typed: itself, or how far it grew (`more`) or shrank (`less`) since the last
    piece.
    """

    itself: str | None = None
    more: str | None = None
    less: str | None = None

    @property
    def said(self) -> tuple[str, ...]:
        """What was typed of it."""
        return tuple(t for t in (self.itself, self.more, self.less) if t is not None)


@dataclass(frozen=True, slots=True)
class CutTyped:
    """A trial cut as typed; settings and readings by name. What each field means: see
    `Reported`.
    """

    words: tuple[str, ...] = ()
    settings: Mapping[str, Dialled] = field(default_factory=dict)
    readings: Mapping[str, Numbers | None] = field(default_factory=dict)
    later: bool = False
    slot: bool = False
    note: str = ""
    piece: PieceTyped = field(default_factory=PieceTyped)

    @property
    def wordless(self) -> bool:
        """Whether it needs no words: a slot, or something measured."""
        return self.slot or any(self.readings.values())


def reported(reader: Reader, setup: SetUp, typed: CutTyped) -> tuple[Reported, Values]:
    """Return a trial cut as a use case takes it, and the moves that name its settings, signed mm.

    Raises NotUnderstood, Refused.
    """
    if typed.later and any(one.said for one in typed.settings.values()):
        raise Refused(
            "settings-on-same-piece",
            "a piece keeps the settings it was cut at",
            "leave the settings out, or --same-piece",
        )
    named, moved = changed(reader, setup, typed.settings)
    thickness = limits.scrap_thickness(dovetail(setup.plan).rabbet_depth, "any piece")
    told = Reported(
        verdict=parse_phrases(typed.words, units=reader.units),
        heard=" ".join(typed.words),
        readings=readings(reader, typed.readings.items()),
        changed=named,
        later=typed.later,
        slot=typed.slot,
        note=typed.note,
        scrap=typed.piece.scrap or "",
        sizes=known(
            width=reader.maybe(typed.piece.width, limits.SCRAP_WIDTH),
            thickness=reader.maybe(typed.piece.thickness, thickness),
        ),
    )
    return told, moved


def numbered(reader: Reader, said: Said, text: str) -> Reported:
    """Return the last word said again, with the number that was typed for it."""
    parse_length(text, units=reader.units, turn=1.0, what="the number")
    length = parse_length(" ".join(text.lower().split()), units=reader.units, turn=1.0)
    return Reported(Verdict().with_(sized(said, length)), f"{said.word} {text}", later=True)


def changed(reader: Reader, setup: SetUp, typed: Mapping[str, Dialled]) -> tuple[Values, Values]:
    """Return the settings that were typed, true mm, and those moves that name them, signed mm."""
    named: Values = {}
    moved: Values = {}
    last = setup.last_piece()
    for name, dialled in typed.items():
        spoken = name.replace("_", " ")
        if len(dialled.said) > 1:
            raise Refused(
                "two-settings",
                f"the {spoken} was given twice",
                "give the setting, or one move since the last piece",
            )
        if dialled.itself is not None:
            named[name] = _itself(reader, setup, name, dialled.itself)
        elif dialled.said:
            if last is None:
                raise Refused(
                    "no-piece",
                    f"there is no last piece to move the {spoken} from",
                    "give the setting itself",
                )
            size = _move(reader, setup.plan, name, dialled.said[0])
            moved[name] = size if dialled.more is not None else -size
            named[name] = last.settings[name] + moved[name]
    return named, moved


def _itself(reader: Reader, setup: SetUp, name: str, text: str) -> float:
    """Read a setting on the person's own scale, true mm; past its limit with what was likely meant,
    where a slip explains it.
    """
    plan, machine = setup.plan, setup.plan.machine
    try:
        return reader.setting(text, name, limits.setting(plan, name), machine)
    except Refused as error:
        typed, advised = reader.length(text, name, machine).mm, setup.shown.on_scale(machine)[name]
        found = likely(typed, [advised], reader.ruler) if typed > 0 else None
        if found is None:
            raise
        raise Refused("absurd-size", error.message, f"did you mean {found[1]}?") from None


def _move(reader: Reader, plan: Plan, name: str, text: str) -> float:
    if name == "bit_height":
        text = _turns_or_inches(reader, plan, text)
    limit = limits.MOVE._replace(what=f"the move of the {name.replace('_', ' ')}")
    return reader.size(text, limit, plan.machine)


def _turns_or_inches(reader: Reader, plan: Plan, text: str) -> str:
    """Return a move of the lift with its unit: a bare fraction is turns as likely as inches, so
    that it is never guessed.
    """
    turn, bare = plan.machine.height_turn if plan.machine else None, text.strip()
    if turn is None or not _BARE_FRACTION.fullmatch(bare):
        return text
    parts = parse_length(f"{bare} in", what="the move of the bit height").mm / MM_PER_INCH
    size = reader.ruler.size
    ways = {"turn": size(abs(parts) * turn), "in": size(abs(parts) * MM_PER_INCH)}
    for unit, meant in ways.items() if reader.agrees is not None else ():
        if reader.agrees is not None and reader.agrees(f"Did you mean {bare} {unit} ({meant})?"):
            return f"{bare} {unit}"
    raise NotUnderstood(
        "turn-or-inch",
        f"a move of {bare} may be {bare} turn ({ways['turn']}) or {bare} in ({ways['in']}) at a "
        "lift that counts turns",
        f"write {bare}turn or {bare}in",
    )


def readings(
    reader: Reader, typed: Iterable[tuple[str, Numbers | None]], on: str = limits.TEST_PIECE
) -> tuple[Reading, ...]:
    """Return what was measured, in the order given. on: what it was measured on, as the limit is
    called.
    """
    return tuple(_reading(reader, kind, text, on) for kind, text in typed if text is not None)


def _reading(reader: Reader, kind: str, text: Numbers, on: str) -> Reading:
    def read(typed: str, what: str) -> float:
        return reader.size(typed, limits.reading(kind, what, on))

    spoken = kind.replace("_", " ")
    if isinstance(text, str):
        return Reading(kind, read(text, f"the {spoken}"))
    first, second = text
    if kind == "walls":
        near = read(first, "the wall at the fence")
        return pair(kind, near, read(second, "the far wall"))
    width = read(second, f"the width {spoken}")
    return pair(kind, width, reader.size(first, limits.ROD._replace(why=on)))


def pair(kind: str, value: float, beside: float) -> Reading:
    """Return a reading of two numbers, mm: a width and the rods it was taken with, or two walls."""
    if kind == "walls":
        return Reading(kind, value, other=beside)
    return Reading(kind, value, rod=beside)
