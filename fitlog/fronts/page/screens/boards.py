"""The real boards: what is set and cut as a list to tick, and when to look at a joint."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from ....domain import SetUp
from ....errors import FitlogError
from ....families.boards import names_boards
from ....families.telling import PAGE, say
from ....language.units import Ruler
from ....render.check import Told, told
from ....render.standing import unsettled
from ....render.ticks import Part, Tick, parts
from ....service.bench import Workbench
from ....service.boards import for_sheet
from ....service.reader.layouts import BatchTyped, batch_of
from ....service.run import last_look
from ....texts import tell
from ..desk import Sitting
from ..figure import Figure, figure
from ..refusals import told as refused_as
from .common import Values, common, spoken


@dataclass(frozen=True, slots=True)
class ToTick:
    """One thing to tick. id: of its box, the same as long as the stops are."""

    id: str
    figure: Figure
    what: str


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the work, as the screen shows it."""

    heading: str
    told: list[str]
    ticks: list[ToTick]
    beside: tuple[Tick, ...]


def boards(sitting: Sitting, setup: SetUp, bench: Workbench, named: str) -> Values:
    """Return the list. named: the boards that are cut, as typed, for their order; "": none were.
    sign: another one where the stops are others, so that no tick of before counts; next: joints cut
    when one is to be looked at; least: counted at the last look; refused: why the boards named are
    none, and little else.
    """
    named, ruler = named.strip()[:200], bench.ruler
    try:
        batch = batch_of(sitting, setup, BatchTyped(boards=(named,) if named else ()))
        job = for_sheet(bench, setup, None, batch)
    except FitlogError as error:
        if not named:
            raise
        why = {"refused": refused_as(error), "code": error.code}
        return {**common(sitting, setup), **why, "http": 409, "named": named}
    found = parts(job, ruler)
    run, least = last_said(setup, bench), least_joints(setup)
    return {
        **common(sitting, setup),
        "refused": "",
        "unsettled": "" if run and not run.go_on else unsettled(job.standing),
        "stopped": run.lines[0] if run and not run.go_on else "",
        "notes": [
            say(note, ruler, PAGE, short=True) or say(note, ruler, PAGE) for note in job.notices
        ],
        "told_open": not any(part.told and part.ticks for part in found),
        "parts": [_section(n, part, ruler) for n, part in enumerate(found)],
        "cautions": spoken(list(job.cautions), ruler),
        "named": named,
        "can_name": names_boards(setup.plan.joint),
        "sign": _sign(found),
        "least": least,
        "next": least + ((run.look_after if run else 1) or 1),
        "when": when(run, least),
    }


def last_said(setup: SetUp, bench: Workbench) -> Told | None:
    """Return what the last joint that was looked at says; None where the last piece is none."""
    look = last_look(bench, setup)
    return None if look is None else told(setup, look, bench.ruler, PAGE)


def least_joints(setup: SetUp) -> int:
    """Return how many joints were cut at the last look, 0 before it."""
    return max((piece.after or 0 for piece in setup.checks()), default=0)


def when(run: Told | None, least: int) -> str:
    """Return when a joint is to be looked at. least: joints cut at the last look."""
    if run is None:
        return tell(
            "Look at the first joint that is together; then it says after how many to look again."
        )
    if run.look_after is None:
        return tell("Look at the next joint.")
    return tell("Look again when {joints} joints are cut.", joints=least + run.look_after)


def _section(number: int, part: Part, ruler: Ruler) -> Section:
    ticks = [
        ToTick(f"t{number}-{n}", figure(tick.length), tick.what)
        for n, tick in enumerate(part.ticks)
    ]
    return Section(part.heading, spoken(part.told, ruler), ticks, part.beside)


def _sign(found: list[Part]) -> str:
    told = repr([(part.heading, part.ticks) for part in found])
    return hashlib.sha256(told.encode()).hexdigest()[:12]
