"""What an edit of a bit's or a machine's figures does to the set-ups that were cut with it, said
before it is done.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from .. import defaults
from ..advice.craft import craft_of
from ..advice.history import History
from ..domain import Bit, Machine, SetUp
from ..errors import Refused
from ..language.numbers import together
from ..language.units import Ruler, counted
from ..texts import tell
from .bench import Workbench

_LOOKED_AT = 200  # newest set-ups of all machines among which those of one are sought


def bit_edit(bench: Workbench, old: Bit, new: Bit) -> Refused | None:
    """Return what another diameter or angle does to the set-ups of a bit, as a refusal; None where
    none was cut with it.

    Nothing of what was learnt is stored: every set-up since the last sharpening (all of them, for
    the angle) is replayed with the bit's figures as they stand. So what its pieces say of the true
    bit stays, as far as they go together with the new figures; where they don't, they count for
    slips.
    """
    if (old.diameter, old.angle) == (new.diameter, new.angle):
        return None
    found = bench.log.setups(bit=old.name, limit=defaults.HISTORY_NEWEST)
    used = [
        s for s in found if s.cuts and (old.angle != new.angle or s.sharpenings == old.sharpenings)
    ]
    if not used:
        return None
    size = bench.ruler.size
    ways = []
    if new.diameter != old.diameter:
        now, then = size(new.diameter), size(old.diameter)
        ways.append(tell("a diameter of {now} instead of {then}", now=now, then=then))
    if new.angle != old.angle:
        said = "an angle of {now:g} deg instead of {then:g} deg"
        ways.append(tell(said, now=new.angle, then=old.angle))
    return Refused(
        "history-changes",
        "{used} of the bit {name!r} would be read again with {ways}, and {then}",
        "if it is the same steel and the figure was wrong, say --correction; another cutter is a "
        "new bit: fitlog bit add NAME --diameter {diameter} --angle {angle:g} "
        "--cutting-length {cutting_length}",
        used=counted(len(used), "set-up"),
        name=old.name,
        ways=together(ways),
        then=_then(bench, used, old, new),
        diameter=size(new.diameter).replace(" ", ""),
        angle=new.angle,
        cutting_length=size(new.cutting_length).replace(" ", ""),
    )


def _then(bench: Workbench, used: Sequence[SetUp], old: Bit, new: Bit) -> str:
    """Where a set-up like the newest one would start before the edit and after it, and what the
    cuts say of the bit.
    """
    last, ruler = used[0], bench.ruler
    ended = [s for s in reversed(used) if s.outcome == "finished"]
    setting = last.plan.family.adjusted(last.plan.family.lead)
    zero = last.plan.machine.zero(setting.part) if last.plan.machine else 0.0
    plans = (_with(last, bit).plan for bit in (old, new))
    pasts = (History([_with(s, bit) for s in ended]) for bit in (old, new))
    before, after = (
        craft_of(plan).start_at(plan, past, bench.by) + zero
        for plan, past in zip(plans, pasts, strict=True)
    )
    said = tell(
        "one like set-up {number} would start at a {setting} of {after} instead of {before}",
        number=last.number,
        setting=setting.noun,
        after=ruler.length(after),
        before=ruler.length(before),
    )
    if not ended:
        return said
    law, _ = bench.bit_figures(old)
    return tell(
        "{said} (by its cuts the bit is {diameter} and {angle:.2f} deg)",
        said=said,
        diameter=ruler.length(law.diameter.mean),
        angle=law.angle_deg.mean,
    )


def _with(setup: SetUp, bit: Bit) -> SetUp:
    """A set-up as it reads with a bit's figures: the diameter since its last sharpening, the angle
    always.
    """
    then = setup.plan.bit
    diameter = bit.diameter if setup.sharpenings == bit.sharpenings else then.diameter
    return replace(
        setup, plan=replace(setup.plan, bit=replace(then, diameter=diameter, angle=bit.angle))
    )


def machine_edit(bench: Workbench, old: Machine, new: Machine) -> Refused | None:
    """Return what another zero of a scale does to the set-ups at a machine, as a refusal; None
    where none was cut there.

    Settings are stored as true lengths, and a set-up keeps the zeros that it started with, an open
    one too. The next one starts with the new zeros, and the heights that the earlier ones taught
    are then shown moved by the difference.
    """
    if all(old.zero(part) == new.zero(part) for part in {*old.parts, *new.parts}):
        return None
    found = bench.log.setups(limit=_LOOKED_AT)
    used = [
        s
        for s in found
        if s.cuts and s.plan.machine is not None and s.plan.machine.name == old.name
    ]
    if not used:
        return None
    still = next((s.number for s in used if s.outcome is None), None)
    return Refused(
        "history-changes",
        "{used} at {name!r} would keep the zero of the start; to the next one {said}"
        if still is None
        else "{used} at {name!r} would keep the zero of the start, set-up {still}, which is open, "
        "too; to the next one {said}",
        "where the scale itself was moved, say --yes; where it read so all along, leave it, for "
        "what the set-ups taught counts it already",
        used=counted(len(used), "set-up"),
        name=old.name,
        still=still,
        said=together([*_shown(bench.ruler, used[0], old, new)]),
    )


def _shown(ruler: Ruler, setup: SetUp, old: Machine, new: Machine) -> Iterator[str]:
    """Each setting of a set-up whose scale is moved, as it would then read."""
    last = setup.last_piece()
    settings = last.settings if last else setup.first
    before, after = settings.on_scale(old), settings.on_scale(new)
    for setting in setup.plan.family.settings:
        if old.zero(setting.part) != new.zero(setting.part):
            yield tell(
                "{setting} of set-up {number} is {now} instead of {then}",
                setting=setting.called,
                number=setup.number,
                now=ruler.length(after[setting.name]),
                then=ruler.length(before[setting.name]),
            )
