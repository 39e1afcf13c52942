"""Rows of the log into domain values, which validate themselves, and back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Row

from ..domain import (
    ADJUSTED,
    Bit,
    Family,
    Fault,
    Machine,
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
from ..domain.setups import known
from ..errors import Refused
from ..families.half_blind.names import ASPECTS, HALF_BLIND, SETTING_OF, say, set_to
from ..families.half_blind.plan import DovetailPlan, dovetail

Values = dict[str, Any]

STATED = dict(
    zip(SETTING_OF.values(), ("height_stated", "fence_stated", "depth_stated"), strict=True)
)
ADVISED = dict(
    zip(SETTING_OF.values(), ("advised_height", "advised_fence", "advised_depth"), strict=True)
)
MACHINE_SIZES = (
    "height_step",
    "height_turn",
    "fence_step",
    "backlash",
    "height_zero",
    "fence_zero",
    "depth_step",
)
CLIMATE = ("moisture", "temperature", "humidity", "sawn")
PLAN_COUNTS = ("tails", "spacing", "moisture", "pin_moisture", "scrap_moisture")
PLAN_SIZES = (
    "pitch",
    "board_width",
    "tail_thickness",
    "pin_thickness",
    "rabbet_depth",
    "wanted_step",
    "piece_width",
    "piece_thickness",
)
PLAN_FLAGS = ("words_only", "by_eye", "spaced", "many_tails")


@dataclass(frozen=True, slots=True)
class Stamp:
    """Who did it, when (aware, kept in UTC), and on which machine."""

    by: str
    at: datetime
    machine: str | None = None

    def __post_init__(self) -> None:
        clean_text("the name", self.by)
        moment_text(self.at)
        if self.machine is not None:
            clean_name("machine", self.machine)


def moment_text(at: datetime) -> str:
    """Return a moment as the log keeps it; refuse one without a time zone."""
    if at.tzinfo is None:
        raise Refused("naive-time", f"the time {at} has no time zone", "give it in UTC")
    return at.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def moment(text: str) -> datetime:
    """Return a moment of the log, aware and in UTC; refuse a day that no calendar has."""
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise Refused(
            "damaged-log", f"the log holds the impossible time {text!r}", "restore a backup"
        ) from error


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


def to_machine(row: Row[Any]) -> Machine:
    """Return a machine of the catalogue."""
    between = tuple(part for part in row.between_marks.split(",") if part)
    return Machine(
        row.name, **_fields(row, MACHINE_SIZES), retired=bool(row.retired), between=between
    )


def catalogue_values(item: Bit | Stock | Machine) -> Values:
    """Return the columns of a catalogue row, its number excepted."""
    names = type(item).__dataclass_fields__.keys() - {"sharpenings", "between"}
    values = {name: getattr(item, name) for name in names} | {"name": clean_name("it", item.name)}
    if isinstance(item, Machine):
        values["between_marks"] = ",".join(part for part in ADJUSTED if part in item.between)
    return values | (
        {"species": clean_text("the species", item.species)} if isinstance(item, Stock) else {}
    )


def plan_values(plan: Plan, first: Settings) -> Values:
    """Return the columns of a set-up that come from its plan, references excepted."""
    return {
        "joint": plan.joint,
        "rabbet_bit": dovetail(plan).rabbet_bit,
        "in_play": ",".join(plan.in_play),
        "scrap": clean_text("the scrap", plan.scrap),
        "height_zero": plan.machine.height_zero if plan.machine else None,
        "fence_zero": plan.machine.fence_zero if plan.machine else None,
        "piece_width": _sound("the piece's width", plan.piece_width),
        "piece_thickness": _sound("the piece's thickness", plan.piece_thickness),
        **{name: getattr(plan, name) for name in (*PLAN_SIZES[:6], *PLAN_FLAGS, *PLAN_COUNTS)},
        **settings_values(first),
    }


def to_plan(
    row: Row[Any], bit: Bit, stock: Stock, pin_stock: Stock, machine: Machine | None
) -> Plan:
    """Return the plan of a set-up; the scales of `machine` start where they started then."""
    if machine is not None:
        machine = replace(machine, height_zero=row.height_zero, fence_zero=row.fence_zero)
    return DovetailPlan(
        bit,
        stock,
        pin_stock,
        machine,
        **_fields(row, (*PLAN_SIZES, *PLAN_COUNTS)),
        rabbet_bit=row.rabbet_bit,
        in_play=tuple(row.in_play.split(",")),
        scrap=row.scrap,
        family=_family(row.joint),
        **{name: bool(getattr(row, name)) for name in PLAN_FLAGS},
    )


def _family(joint: str) -> Family:
    """The family of a joint. One that this version does not know is kept by its name, so that what
    it says of itself can be listed; `joint_of` refuses it.
    """
    return HALF_BLIND if joint == HALF_BLIND.name else replace(HALF_BLIND, name=joint)


def settings_values(settings: Settings) -> Values:
    """Return the three columns of settings."""
    return dict(settings)


def to_settings(row: Row[Any]) -> Settings:
    """Return the settings of a row that has the three columns."""
    return set_to(row.bit_height, row.fence_offset, row.socket_depth)


def cut_values(cut: TrialCut) -> Values:
    """Return the columns of a trial cut, its entry and advice excepted."""
    unknown = set(cut.stated) - STATED.keys()
    if unknown:
        raise Refused(
            "bad-setting", f"{sorted(unknown)[0]!r} is no setting", f"known: {', '.join(STATED)}"
        )
    if cut.slot and (not cut.readings or not cut.verdict.empty):
        hint = "say how wide it is: fitlog cut --slot --mouth WIDTH"
        raise Refused("bad-slot", "a slot in waste is measured, not judged", hint)
    return {
        "piece": cut.piece,
        **settings_values(cut.settings),
        **{column: name in cut.stated for name, column in STATED.items()},
        **{column: cut.advised[name] if cut.advised else None for name, column in ADVISED.items()},
        **{
            name: clean_text(f"the {name}", getattr(cut, name))
            for name in ("heard", "note", "scrap")
        },
        "scrap_width": _sound("the scrap's width", cut.sizes.get("width")),
        "scrap_thickness": _sound("the scrap's thickness", cut.sizes.get("thickness")),
        "slot": cut.slot,
    }


def verdict_values(entry: int, verdict: Verdict) -> list[Values]:
    """Return one row for each aspect judged and each gap seen."""
    said = [(aspect, verdict.of(aspect)) for aspect in ASPECTS]
    judged = [(aspect, s.word, s.size) for aspect, s in said if s is not None]
    gaps = [("fault", fault.place, fault.size) for fault in verdict.faults]
    return [{"cut": entry, "aspect": a, "word": w, "size": size} for a, w, size in [*judged, *gaps]]


def reading_values(entry: int, readings: Iterable[Reading]) -> list[Values]:
    """Return one row for each reading."""
    return [
        {"cut": entry, "kind": r.kind, "value": r.value, "rod": r.rod, "other": r.other}
        for r in readings
    ]


def to_verdict(rows: Iterable[Row[Any]]) -> Verdict:
    """Return the verdict that `rows` of one cut make up, in the order of the log."""
    said, faults = [], []
    for row in rows:
        if row.aspect == "fault":
            faults.append(Fault(row.word, row.size))
        else:
            said.append(say(row.aspect, row.word, row.size))
    return Verdict(tuple(said), tuple(faults))


def to_cut(row: Row[Any], verdict: Verdict, readings: Iterable[Row[Any]]) -> TrialCut:
    """Return a trial cut from its row joined with its entry."""
    advised = (
        None
        if row.advised_height is None
        else set_to(*(getattr(row, name) for name in ADVISED.values()))
    )
    return TrialCut(
        entry=row.entry,
        piece=row.piece,
        settings=to_settings(row),
        verdict=verdict,
        readings=tuple(Reading(r.kind, r.value, r.rod, r.other) for r in readings),
        stated=tuple(name for name, column in STATED.items() if getattr(row, column)),
        advised=advised,
        heard=row.heard,
        note=row.note,
        scrap=row.scrap,
        sizes=known(width=row.scrap_width, thickness=row.scrap_thickness),
        by=row.by,
        at=moment(row.at),
        machine=row.machine,
        slot=bool(row.slot),
    )


def _sound(what: str, value: float | None) -> float | None:
    # SQLite would store nan as NULL, which means something else.
    return None if value is None else positive(what, value)


def _fields(row: Row[Any], names: Iterable[str]) -> Values:
    return {name: getattr(row, name) for name in names}
