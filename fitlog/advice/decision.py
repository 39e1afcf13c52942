"""The next settings and what is settled: the core of the advice, without its words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from .. import defaults
from ..domain import Aspect, Misfit, Piece, Settings, SetUp
from ..domain.standing import on_test_piece
from ..estimator.run import Run
from .aim import Aim, aim, for_real_boards
from .chances import Outlook
from .creep import creep_of, likely_ahead, run_law
from .history import History
from .knowledge import Knowledge, know
from .laws import nominal_of
from .stages import by_stage
from .sure import board_inside, chance_inside


@dataclass(frozen=True)
class Decision:
    """What to set for the next piece. base: the settings it starts from; settled: aspects that stay
    as they are. run: law of the lead's offset and its drift through a run of real boards, None
    without one.
    """

    known: Knowledge
    pieces: tuple[Piece, ...]
    base: Settings
    found: Aim
    settled: tuple[Aspect, ...]
    run: Run | None = None

    @property
    def settings(self) -> Settings:
        """The next settings, true mm, as the machine can make them."""
        return self.found.settings

    @property
    def unsettled(self) -> tuple[Aspect, ...]:
        """Aspects in play that are still open."""
        return tuple(a for a in self.known.joint.plan.in_play if a not in self.settled)

    @property
    def asked(self) -> tuple[Aspect, ...]:
        """Aspects that the next piece is to be good in: those still open of the present stage."""
        left = by_stage(self.known.joint, self.unsettled, self.pieces)[0]
        return tuple(left) or self.known.joint.plan.in_play

    @property
    def ready(self) -> bool:
        """Whether nothing is left to tune."""
        return not self.unsettled

    @cached_property
    def outlook(self) -> Outlook:
        """What to expect of a piece cut at the settings."""
        end = self.pieces[-1] if self.found.end is not None else None
        return Outlook(self.known, self.settings, end)

    @property
    def goes_on(self) -> bool:
        """Whether the last piece is a joint of a run of real boards which goes on as it was cut:
        all that is in play is settled, or the lead is not and its own setting is not to move.
        """
        if not self.pieces or not self.pieces[-1].check:
            return False
        lead = self.known.joint.plan.family.lead
        stays = abs(self.settings.of(lead) - self.base.of(lead)) < 1e-6
        return self.ready or (lead in self.unsettled and stays)

    @cached_property
    def real(self) -> Settings:
        """What to set for the real boards, true mm."""
        if self.goes_on:
            return self.known.joint.carried(self.base)
        return for_real_boards(self.known, self.found)

    @cached_property
    def zero(self) -> Misfit | None:
        """Error of what is known by its zero, of a real board's cut at `real`, mm; None where it is
        not in play.
        """
        plan = self.known.joint.plan
        zeroed = plan.family.zeroed
        if zeroed not in plan.in_play or zeroed is None:
            return None
        law = self.known.law(zeroed)
        nominal = self.known.joint.nominal(zeroed, self.real, plan.boards())
        low, high = law.interval(0.90)
        left, right = law.interval(
            0.6827
        )  # a normal law's sd; a slip's far tails, which the interval knows, would widen it
        return Misfit(nominal + law.mean, (right - left) / 2, (nominal + low, nominal + high))

    @cached_property
    def chance_real(self) -> dict[str, float | None]:
        """Chance that the real boards come out inside each window and all at `real`; of what is
        known by its zero, that it is known.
        """
        plan = self.known.joint.plan
        own = self.known.joint.for_piece(self.real)
        lead_open = plan.family.lead in self.unsettled
        found: dict[str, float | None] = {
            a: self.known.real_chance(nominal_of(self.known, a, own))
            if self.known.kind(a).tried and self.known.kind(a).driver is None
            else board_inside(self.known, a, own, fit_open=lead_open)
            for a in plan.in_play
        }
        together = dict(found)
        # A joint that fits seats as one that fits: what is coupled hangs together with its driver.
        for a in found:
            if self.known.kind(a).driver in found:
                together[a] = chance_inside(self.known, a, own, fit_open=True)
        return {
            **dict.fromkeys(plan.family.aspects),
            **found,
            "all": math.prod(c for c in together.values() if c is not None),
        }


def decide(setup: SetUp, past: History) -> Decision:
    """Return the decision on the next piece of a set-up, given what earlier set-ups taught.

    One joint of a run that is called off, though the next one is likely good where it was cut,
    moves nothing yet: the next one is looked at first.
    """
    pieces = setup.tuned_on()
    made = weigh_all(setup, past, pieces)
    while pieces and not believed(made):
        pieces = pieces[:-1]
        made = weigh_all(setup, past, pieces)
    return made


def weigh_all(setup: SetUp, past: History, joints: Sequence[Piece]) -> Decision:
    """Return the decision that all of a set-up's pieces give, joints of the real boards taken as
    test pieces of its own size.
    """
    plan = setup.plan
    pieces = tuple(on_test_piece(plan, p) if p.check else p for p in joints)
    base = pieces[-1].settings if pieces else setup.first
    by = pieces[-1].by if pieces else setup.by
    known = know(plan, pieces, past, setup.first, by, setup.slots())
    run = run_law(known, pieces)
    creep = creep_of(run, pieces)
    known = known if creep is None else replace(known, creep=creep)
    found = aim(known, pieces, base) if pieces or setup.slots() else Aim(setup.first)
    settled = tuple(a for a in plan.in_play if a in found.settled)
    made = Decision(known, pieces, base, found, settled, run)
    if made.goes_on:  # its stops and sheets stay true: nothing moves by a trifle
        return replace(made, found=replace(found, settings=base))
    if made.ready and plan.boards() == plan.figures():  # one more piece is as the boards will be
        return replace(made, found=replace(found, settings=made.real))
    return made


def believed(made: Decision) -> bool:
    """Tell whether what the last piece left open is to be acted on: of a joint of a run only where
    the next one is not likely good all the same.
    """
    last = made.pieces[-1]
    if not last.check or not made.unsettled:
        return True
    likely = Outlook(made.known, last.settings).within()
    if made.run is not None:
        (likely[made.known.joint.plan.family.lead],) = likely_ahead(
            made.known, made.run, made.pieces, 1
        )
    return any((likely[a] or 0.0) < defaults.LOOK_SURE for a in made.unsettled)
