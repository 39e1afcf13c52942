"""A joint looked at between real boards: whether the run may go on, what drifts, when to look next.

Pure: a set-up with its checks in, a decision out. The checks are pieces in the real stock to the
model, and what it would set next is what the run is stopped for; that the offset drifts over the
joints is a regression beside it. Since the ratio of the evidence of a drift to that of none is a
fair game while there is none, a run without one is told of one with a chance of at most
RUN_DRIFT / (1 - RUN_DRIFT) * (1 - FAULT_SURE) / FAULT_SURE (Ville's inequality, from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import takewhile
from typing import NamedTuple

from .. import defaults
from ..domain import Aspect, Remark, Settings, SetUp, remark
from ..estimator.posterior import Normal
from .creep import likely_ahead
from .decision import Decision, believed, decide, weigh_all
from .history import History
from .settled import judged


class Looked(NamedTuple):
    """What a look at a joint says of the run. after: joints cut by then; settings: in force for the
    next ones, true mm.

    off: aspects in play that are not settled any more; faults: gaps seen on it; drift: of the lead
    aspect's misfit a joint, mm, None where it is not told from noise; fits: the chance that the
    next joint's lead aspect is good, None where that is not in play; look_after: joints until the
    next look, None where the run is to stop; doubted: aspects that the joint was called off in,
    where the next one is likely good all the same.
    """

    after: int
    settings: Settings
    off: tuple[Aspect, ...]
    faults: tuple[str, ...]
    drift: Normal | None
    fits: float | None
    look_after: int | None
    doubted: tuple[Aspect, ...]

    @property
    def go_on(self) -> bool:
        """Whether the run may go on."""
        return self.look_after is not None


def looked(setup: SetUp, past: History) -> Looked | None:
    """Return what the last joint that was looked at says; None where the last piece is none. That a
    set-up is finished changes nothing of it.
    """
    pieces = setup.pieces()
    if not pieces or pieces[-1].after is None:
        return None
    last, after = pieces[-1], pieces[-1].after
    every = weigh_all(setup, past, pieces)
    off = _off(setup, past, every) if believed(every) else ()
    faults = tuple(fault.place for fault in last.verdict.faults)
    found, told = every.run, every.known.creep is not None
    before = max((p.after for p in pieces[:-1] if p.after is not None), default=0)
    fits = _ahead(every)
    word = last.verdict.of(setup.plan.family.lead)
    said_good = word is None or word.settles
    look = look_after(after - before, fits, said_good=said_good) if believed(every) else 1
    return Looked(
        after,
        every.real if off else last.settings,
        off,
        faults,
        found.drift if found is not None and told else None,
        None if found is None else fits[0],
        None if off or faults else look,
        () if off else every.unsettled,
    )


def _ahead(made: Decision) -> list[float]:
    """The chances that this joint's lead aspect and those of the next LOOK_CAP are good."""
    if made.run is None:
        return [1.0] * (1 + defaults.LOOK_CAP)
    return likely_ahead(made.known, made.run, made.pieces, 1 + defaults.LOOK_CAP)


def _off(setup: SetUp, past: History, made: Decision) -> tuple[Aspect, ...]:
    """The aspects that this look unsettles: what it shows to be off, and what it leaves open that
    was settled before it.
    """
    *_, last = made.pieces
    shown = {a: judged(made.known.joint, a, last) is False for a in made.unsettled}
    if all(shown.values()):
        return made.unsettled
    so_far = tuple(cut for cut in setup.cuts if cut.piece != last.number)
    before = decide(replace(setup, cuts=so_far, outcome=None), past).settled
    return tuple(a for a, off in shown.items() if off or a in before)


def with_checks(setup: SetUp, past: History) -> Decision:
    """Return the decision on a set-up with all of its checks, also those after it was finished."""
    return decide(replace(setup, outcome=None), past)


def look_after(since: int, fits: Sequence[float], *, said_good: bool = True) -> int:
    """Return after how many more joints to look again, at least 1.

    since: joints between the last two looks; fits: the chance that the joint looked at is good,
    then those of each of the next, LOOK_CAP of them at most, which fall where the fit drifts;
    said_good: the joint was, in words. Then, far from the edge, the interval doubles, up to
    LOOK_CAP; at the edge it halves; and it never lasts so long that the fit leaves its window
    before it with more than LOOK_RISK.
    """
    since = max(1, since)
    wanted = 2 * since if said_good and fits[0] >= defaults.LOOK_SURE else since
    if fits[0] < defaults.LOOK_NEAR:
        wanted = max(1, since // 2)
    most = min(wanted, defaults.LOOK_CAP, len(fits) - 1)
    kept = 0
    while kept < most and fits[0] - fits[kept + 1] <= defaults.LOOK_RISK:
        kept += 1
    return max(1, kept)


def run_remarks(setup: SetUp, past: History) -> tuple[Remark, ...]:
    """Return what the last joint that was looked at says; nothing where the last piece is none. Of
    a finished set-up with what to set where the run is to stop: its own settings stay as they were.
    """
    found = looked(setup, past)
    return () if found is None else said_of(setup, found, to=setup.outcome is not None)


def said_of(setup: SetUp, found: Looked, *, to: bool) -> tuple[Remark, ...]:
    """Return what a look says: go on or stop, and what drifts. to: with what to set."""
    first = _on(setup, found) if found.go_on else _stop(setup, found, to=to)
    joint = setup.plan.joint
    return tuple(one.of(joint) for one in (first, *_drift(found)))


def _on(setup: SetUp, found: Looked) -> Remark:
    sure = 1.0 if found.fits is None else found.fits
    why = "drift" if found.drift is not None else "edge" if sure < defaults.LOOK_SURE else ""
    why = "doubt" if found.doubted else why
    off = takewhile(
        lambda p: any(said.side and said.kind.name in found.doubted for said in p.verdict.said),
        setup.checks()[::-1],
    )
    many = sum(1 for _ in off)
    return remark("run-on", after=found.after, look=found.look_after, why=why, off=many)


def _stop(setup: SetUp, found: Looked, *, to: bool) -> Remark:
    """Why a run is to stop, and with `to` what to set."""
    last, dial = setup.pieces()[-1], found.settings.on_scale(setup.plan.machine)
    said = {a: last.verdict.of(a) for a in found.off}
    zeroed = setup.plan.family.zeroed
    return remark(
        "run-stop",
        after=found.after,
        off=tuple((a, s.word if s is not None else None) for a, s in said.items()),
        faults=found.faults,
        stops=zeroed not in found.off,
        to=tuple((part, dial[name]) for name, part in moved(setup, found)) if to else (),
    )


def moved(setup: SetUp, found: Looked) -> list[tuple[str, str]]:
    """Return the settings that are to move, by name, each with its part of the machine."""
    now = setup.pieces()[-1].settings
    parts = setup.plan.family.part_of
    return [(n, parts[n]) for n in found.settings if abs(found.settings[n] - now[n]) > 1e-6]


def _drift(found: Looked) -> tuple[Remark, ...]:
    """What drifts, where it is told from noise."""
    law, family = found.drift, found.settings.family
    if law is None:
        return ()
    lead = family.kind(family.lead)
    middle = lead.settled_at
    side = lead.words[middle + 1 :] if law.mean > 0 else lead.words[:middle]
    word = side[len(side) // 2]
    return (remark("run-drift", lead.name, mean=abs(law.mean), sd=law.sd, word=word),)


def cautions(setup: SetUp, found: Looked) -> tuple[Remark, ...]:
    """Return what a move between real boards means for those that are cut."""
    if not found.off:
        return ()
    zeroed = setup.plan.family.setting_of.get(setup.plan.family.zeroed or "")
    names = [name for name, _ in moved(setup, found) if name != zeroed]
    called = tuple(setup.plan.family.setting(name).noun for name in names)
    good = 0
    for piece in setup.checks()[:-1]:
        good = piece.after or 0
    joints = remark("run-cut", first=good + 1, last=found.after)
    mixed = (remark("run-mixed", settings=called),) if called else ()
    return tuple(one.of(setup.plan.joint) for one in (joints, *mixed))
