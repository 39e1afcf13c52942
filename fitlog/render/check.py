"""A joint looked at between real boards: go on or stop, what drifts, and last what to set."""

from __future__ import annotations

from ..advice import approach
from ..advice.run import Looked, cautions, moved, said_of
from ..document import Document, on_scale
from ..domain import SetUp
from ..domain.said import UNPLACED
from ..families.telling import say
from ..language.units import Ruler
from ..texts import tell
from .screen import Screen


def check(screen: Screen, setup: SetUp, found: Looked, ruler: Ruler) -> None:
    """Print what a look says of the run of a set-up's real boards."""
    first, *others = said_of(setup, found, to=False)
    screen.head(say(first, ruler))
    for remark in (*others, *cautions(setup, found)):
        screen.line(say(remark, ruler), indent="  ")
    if found.go_on:
        return
    if found.off and not moved(setup, found):
        screen.line(
            "The joints before it say otherwise, so nothing moves yet: look for a chip or a board "
            "that lifted, then at the next joint: fitlog check WORDS --after N."
        )
        return
    if found.off:
        stay = setup.plan.family.zeroed not in found.off
        screen.line(
            "Unplugged, set this; the stops stay:"
            if stay
            else "Unplugged, set this, and make the stops anew (fitlog stops):"
        )
        _settings(screen, setup, found, ruler)
    if setup.outcome is None and found.off:
        screen.line("Try it on scrap and log that: fitlog cut WORDS.")
    elif found.off:
        screen.line("Try it on scrap; then look at the next joint: fitlog check WORDS --after N.")
    else:
        gap = "gap" if found.faults[0] == UNPLACED else f"gap {found.faults[0]}"
        screen.line("What may cause it: fitlog fault {gap}.", gap=gap)


def _settings(screen: Screen, setup: SetUp, found: Looked, ruler: Ruler) -> None:
    """Print what to set, a row a setting that moves."""
    now, dial = setup.pieces()[-1].settings, found.settings.on_scale(setup.plan.machine)
    by = {name: found.settings[name] - now[name] for name, _ in moved(setup, found)}
    how = approach(by, setup)
    for name, move in by.items():
        kind = setup.plan.family.setting(name)
        come = say(how[name].of(setup.plan.joint), ruler, short=True) if name in how else ""
        notes = ", ".join(filter(None, (ruler.move(kind, move), come)))
        row = f"  {tell(kind.noun)}  {ruler.length(dial[name])}  {notes}"
        screen.line(row, indent=" " * 4)


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
