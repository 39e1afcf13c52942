"""What deserves a word beside the advice on a half-blind dovetail alone: the second pass at the
fence, the rabbet's length, the wood.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ... import defaults
from ...advice.aim import Aim
from ...advice.decision import Decision, decide
from ...advice.history import History
from ...advice.knowledge import Knowledge
from ...advice.notices import sizes
from ...domain import Piece, Remark, Settings, SetUp, remark
from . import figures
from .cautions import TURN
from .moisture import plan_remarks
from .names import CENTRE, FIT, HEIGHT
from .plan import dovetail
from .showing import fence_side_chance, second_pass_safe, showing, shown_by


def notices(made: Decision) -> tuple[Remark, ...]:
    """Return what only a half-blind dovetail asks for at the next piece."""
    know, pieces, found = made.known, made.pieces, made.found
    return (
        *centre(know, pieces, found),
        *sizes(made),
        *_rabbet(pieces[-1] if pieces else None, found.settings),
        *(() if pieces else plan_remarks(dovetail(know.joint.plan))),
    )


def before_spoiling(setup: SetUp, past: History) -> tuple[Remark, ...]:
    """Return what the second pass on the last piece, at the fence offset it was cut at, asks for
    beforehand.
    """
    pieces = setup.pieces()
    if not pieces:
        return ()
    made = decide(setup, past)
    if CENTRE in made.settled and not shown_by(made):
        chance = made.found.settled[CENTRE].chance
        return (remark("centre-known", CENTRE, chance=chance),)
    return (*centre(made.known, pieces, Aim(pieces[-1].settings)), TURN)


def centre(know: Knowledge, pieces: Sequence[Piece], found: Aim) -> Iterable[Remark]:
    """Yield what a second pass at the fence asks for at the next piece."""
    if CENTRE not in know.joint.plan.in_play or CENTRE in found.settled:
        return
    if not second_pass_safe(know, found.settings):
        yield remark("no-second-pass", CENTRE)
        return
    chance = fence_side_chance(know, found.settings)
    if chance > figures.FENCE_SIDE_CHANCE:
        yield remark("fence-side", CENTRE, shaving=defaults.FENCE_SIDE_SHAVING, chance=chance)
    elif showing(know, pieces, found.settings) == "walls":
        yield remark("walls-first", CENTRE, most=figures.MOST_SHAVING)


def _rabbet(last: Piece | None, settings: Settings) -> Iterable[Remark]:
    if last is not None and abs(settings[HEIGHT] - last.settings[HEIGHT]) > 1e-9:
        yield remark("rabbet-follows", FIT, height=settings[HEIGHT])
