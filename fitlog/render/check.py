"""A joint looked at between real boards: go on or stop, what drifts, and last what to set."""

from __future__ import annotations

from typing import NamedTuple

from ..advice import approach
from ..advice.run import Looked, cautions, moved, said_of
from ..document import Document, on_scale
from ..domain import SetUp
from ..domain.said import UNPLACED
from ..families.telling import COMMANDS, say
from ..language.saying import Spelling
from ..language.units import Ruler
from ..texts import tell
from .screen import Screen


class Told(NamedTuple):
    """What a look says. lines: go on or stop first; look_after: joints until the next look, None
    where the run is to stop. doubted: one joint was called off, so the next one is looked at; off:
    an aspect is; stay: the stops do all the same; settings: that move, each with where to and its
    move; gap: as a fault is asked for, "" for none.
    """

    go_on: bool
    lines: list[str]
    look_after: int | None
    doubted: bool
    off: bool
    stay: bool
    settings: list[tuple[str, str, str]]
    gap: str


def told(setup: SetUp, found: Looked, ruler: Ruler, spelling: Spelling = COMMANDS) -> Told:
    """Return what a look says of the run of a set-up's real boards."""
    said = (*said_of(setup, found, to=False), *cautions(setup, found))
    place = found.faults[0] if found.faults else ""
    return Told(
        found.go_on,
        [say(remark, ruler, spelling) for remark in said],
        found.look_after,
        bool(found.doubted),
        bool(found.off),
        setup.plan.family.zeroed not in found.off,
        _settings(setup, found, ruler) if found.off else [],
        "" if not place else "gap" if place == UNPLACED else f"gap {place}",
    )


def check(screen: Screen, setup: SetUp, found: Looked, ruler: Ruler) -> None:
    """Print what a look says of the run of a set-up's real boards."""
    run = told(setup, found, ruler)
    screen.head(run.lines[0])
    for text in run.lines[1:]:
        screen.line(text, indent="  ")
    if run.go_on:
        return
    if run.off and not run.settings:
        screen.line(
            "The joints before it say otherwise, so nothing moves yet: look for a chip or a board "
            "that lifted, then at the next joint: fitlog check WORDS --after N."
        )
        return
    if run.off:
        screen.line(
            "Unplugged, set this; the stops stay:"
            if run.stay
            else "Unplugged, set this, and make the stops anew (fitlog stops):"
        )
        for noun, length, notes in run.settings:
            screen.line(f"  {noun}  {length}  {notes}", indent=" " * 4)
    if setup.outcome is None and run.off:
        screen.line("Try it on scrap and log that: fitlog cut WORDS.")
    elif run.off:
        screen.line("Try it on scrap; then look at the next joint: fitlog check WORDS --after N.")
    else:
        screen.line("What may cause it: fitlog fault {gap}.", gap=run.gap)


def _settings(setup: SetUp, found: Looked, ruler: Ruler) -> list[tuple[str, str, str]]:
    """Return what to set, a row a setting that moves."""
    now, dial = setup.pieces()[-1].settings, found.settings.on_scale(setup.plan.machine)
    by = {name: found.settings[name] - now[name] for name, _ in moved(setup, found)}
    how, rows = approach(by, setup), []
    for name, move in by.items():
        kind = setup.plan.family.setting(name)
        come = say(how[name].of(setup.plan.joint), ruler, short=True) if name in how else ""
        notes = ", ".join(filter(None, (ruler.move(kind, move), come)))
        rows.append((tell(kind.noun), ruler.length(dial[name]), notes))
    return rows


def check_document(setup: SetUp, found: Looked) -> Document:
    """Return what a look says. settings: in force for the next joints; drift_per_joint: of the
    lead aspect's misfit, mm, null where it is not told from noise; chance: that the next joint's
    lead aspect is good, null where that is not in play; look_after: joints until the next look,
    null where the run is to stop.
    """
    law = found.drift
    drift = None if law is None else {"mean": round(law.mean, 5), "sd": round(law.sd, 5)}
    return {
        "after": found.after,
        "go_on": found.go_on,
        "off": list(found.off),
        "drift_per_joint": drift,
        "chance": None if found.fits is None else round(found.fits, 4),
        "look_after": found.look_after,
        "settings": on_scale(found.settings, setup.plan.machine),
    }
