"""Rows of the log into domain values, which validate themselves, and back; what a family names is
`named`'s.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import MAXYEAR, MINYEAR, UTC, datetime
from typing import Any

from sqlalchemy import Row

from ..domain import (
    Bit,
    Fault,
    Machine,
    Note,
    Plan,
    Reading,
    Settings,
    Stock,
    TrialCut,
    Verdict,
    clean_name,
    clean_text,
    positive,
)
from ..errors import Refused
from ..families.names import family_of
from ..texts import tell
from .named import (
    FAULT,
    family_named,
    figures_in,
    figures_of,
    number,
    numbers,
    plan_class,
    settings_of,
)
from .parts import as_then, machine_parts, zeros_of

Values = dict[str, Any]

CLIMATE = ("moisture", "temperature", "humidity", "sawn")
PLAN_SIZES = (
    "board_width",
    "tail_thickness",
    "pin_thickness",
    "piece_width",
    "piece_thickness",
    "moisture",
    "pin_moisture",
    "scrap_moisture",
)
SIZES = ("width", "thickness")


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who did it, when (aware, kept in UTC), and on which machine.

    key: what the writer calls this deed, unique in the log, so that it can be looked for when its
    answer was lost; of several entries the first has it.
    """

    by: str
    at: datetime
    machine: str | None = None
    key: str | None = None

    def __post_init__(self) -> None:
        clean_text("the name", self.by)
        moment_text(self.at)
        if self.machine is not None:
            clean_name("machine", self.machine)


def moment_text(at: datetime) -> str:
    """Return a moment as the log keeps it; refuse one without a time zone."""
    if at.tzinfo is None:
        raise Refused("naive-time", "the time {at} has no time zone", "give it in UTC", at=at)
    return at.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def moment(text: str) -> datetime:
    """Return a moment of the log, aware and in UTC; refuse ("bad-row") what no calendar or clock
    has, 24:00 and the second 60 included, which a database takes, and what no zone's clock could
    show. The row is named by who asks (`named.made`).
    """
    try:
        at = datetime.fromisoformat(text)
        if moment_text(at) == text and MINYEAR < at.year < MAXYEAR:
            return at
    except (ValueError, TypeError, Refused):
        pass
    raise Refused(
        "bad-row",
        "it holds the impossible time {at!r}",
        "correct the row, or export the log again where it came from",
        at=str(text)[:40],
    )


def to_bit(row: Row[Any], sharpenings: int) -> Bit:
    """Return a bit as the catalogue has it today."""
    return Bit(
        row.name,
        row.diameter,
        row.angle,
        row.cutting_length,
        bool(row.measured),
        row.neck,
        bool(row.retired),
        sharpenings,
    )


def to_stock(row: Row[Any]) -> Stock:
    """Return a stock of the catalogue."""
    return Stock(
        row.name,
        row.species,
        row.thickness,
        row.width,
        **_fields(row, CLIMATE),
        retired=bool(row.retired),
    )


def catalogue_values(item: Bit | Stock | Machine) -> Values:
    """Return the columns of a catalogue row, its number excepted."""
    name = clean_name("it", item.name)
    if isinstance(item, Machine):
        return {"name": name, "retired": item.retired, "parts": machine_parts(item)}
    names = type(item).__dataclass_fields__.keys() - {"sharpenings"}
    values = {each: getattr(item, each) for each in names} | {"name": name}
    return values | (
        {"species": clean_text("the species", item.species)} if isinstance(item, Stock) else {}
    )


def plan_values(plan: Plan, first: Settings) -> Values:
    """Return the columns of a set-up that come from its plan, references excepted.

    Raises Refused: unknown-joint.
    """
    family_of(plan.joint)
    return {
        "joint": plan.joint,
        "in_play": ",".join(plan.in_play),
        "words_only": plan.words_only,
        "scrap": clean_text("the scrap", plan.scrap),
        **{name: getattr(plan, name) for name in PLAN_SIZES},
        "piece_width": _sound("the piece's width", plan.piece_width),
        "piece_thickness": _sound("the piece's thickness", plan.piece_thickness),
        "figures": figures_in(plan),
        "settings": members(first),
        "zeros": zeros_of(plan.machine) if plan.machine else None,
    }


def to_plan(
    row: Row[Any], bit: Bit, stock: Stock, pin_stock: Stock, machine: Machine | None
) -> Plan:
    """Return the plan of a set-up; the scales of `machine` start where they started then."""
    in_play = tuple(row.in_play.split(","))
    return plan_class(row.joint)(
        bit,
        stock,
        pin_stock,
        machine and as_then(machine, row.zeros),
        **_fields(row, PLAN_SIZES),
        words_only=bool(row.words_only),
        in_play=in_play,
        scrap=row.scrap,
        family=family_named(row.joint, row.settings, in_play),
        **figures_of(row.joint, row.figures),
    )


def members(settings: Settings) -> dict[str, float]:
    """Return settings as a row has them."""
    return numbers(dict(settings), settings.family.names)


def require_joint(joint: str, settings: Settings) -> None:
    """Refuse ("bad-setting") settings that are of another joint than their set-up."""
    if settings.family.name != joint:
        raise Refused(
            "bad-setting",
            "the settings are of the {other}, the set-up is of the {joint}",
            "name a set-up of that joint",
            other=settings.family.name,
            joint=joint,
        )


def cut_values(cut: TrialCut) -> Values:
    """Return the columns of a trial cut, its entry and advice excepted."""
    names = cut.settings.family.names
    unknown = set(cut.stated) - set(names)
    if unknown:
        raise Refused(
            "bad-setting",
            "{name!r} is no setting",
            "known: {names}",
            name=min(unknown),
            names=", ".join(names),
        )
    if cut.slot and (not cut.readings or not cut.verdict.empty):
        hint = "say how wide it is: fitlog cut --slot --mouth WIDTH"
        raise Refused("bad-slot", "a slot in waste is measured, not judged", hint)
    return {
        "piece": cut.piece,
        "settings": members(cut.settings),
        "stated": ",".join(name for name in names if name in cut.stated),
        "advised": members(cut.advised) if cut.advised else None,
        **{
            name: clean_text(tell("the {name}", name=name), getattr(cut, name))
            for name in ("heard", "note", "scrap")
        },
        "sizes": _own_sizes(cut),
        "slot": int(cut.slot),
        "recut_of": cut.end,
        "after": cut.after,
    }


def _own_sizes(cut: TrialCut) -> dict[str, float]:
    """Return the sizes of a piece that are not the set-up's, mm."""
    return {
        name: number(name, positive(tell("the scrap's {name}", name=name), size))
        for name, size in cut.sizes.items()
    }


def verdict_values(verdict: Verdict) -> list[Values]:
    """Return one row for each aspect judged and each gap seen, without their cut."""
    judged = [(said.aspect, said.word, said.size) for said in verdict.said]
    gaps = [(FAULT, fault.place, fault.size) for fault in verdict.faults]
    return [{"aspect": a, "word": w, "size": size} for a, w, size in [*judged, *gaps]]


def reading_values(readings: Iterable[Reading]) -> list[Values]:
    """Return one row for each reading, without their cut."""
    return [{"kind": r.kind, "value": r.value, "rod": r.rod, "other": r.other} for r in readings]


def to_cut(row: Row[Any], said: Sequence[Row[Any]], read: Sequence[Row[Any]]) -> TrialCut:
    """Return a trial cut from its row joined with its entry and its set-up's joint.

    said, read: the rows of its verdict and its readings, in the order of the log.
    """
    family = family_named(row.joint, row.settings, said=said, read=read)
    judged, gaps = (
        [part for part in said if (part.aspect == FAULT) is gap] for gap in (False, True)
    )
    sizes = numbers(row.sizes, SIZES)
    return TrialCut(
        entry=row.entry,
        piece=row.piece,
        settings=settings_of(family, row.settings),
        verdict=Verdict(
            tuple(family.said(part.aspect, part.word, part.size) for part in judged),
            tuple(Fault(part.word, part.size) for part in gaps),
        ),
        readings=tuple(Reading(r.kind, r.value, r.rod, r.other) for r in read),
        stated=tuple(name for name in row.stated.split(",") if name),
        advised=None if row.advised is None else settings_of(family, row.advised),
        heard=row.heard,
        note=row.note,
        scrap=row.scrap,
        sizes={name: positive(tell("the {name}", name=name), size) for name, size in sizes.items()},
        by=row.by,
        at=moment(row.at),
        machine=row.machine,
        slot=bool(row.slot),
        end=row.recut_of,
        after=row.after,
    )


def to_note(row: Row[Any]) -> Note:
    """Return a note from its row joined with its entry."""
    return Note(row.about, row.text, row.entry, row.by, moment(row.at))


def _sound(what: str, value: float | None) -> float | None:
    # SQLite would store nan as NULL, which means something else.
    return None if value is None else positive(what, value)


def _fields(row: Row[Any], names: Iterable[str]) -> Values:
    return {name: getattr(row, name) for name in names}
