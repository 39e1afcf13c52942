"""From a set-up and its trial cuts to the advice: a pure function of the log, in the user's own
units.
"""

from __future__ import annotations

from dataclasses import replace

from ..domain import Advice, SetUp, Status
from ..domain.standing import standing
from ..language.units import Ruler
from . import cautions
from .aim import moves
from .chances import misfits
from .decision import decide
from .doubles import doubles
from .history import History
from .notices import notices
from .reasons import confirm, first_reasons, next_reasons
from .slot import offer, slot_saves

__all__ = ["advise"]


def advise(setup: SetUp, past: History, ruler: Ruler) -> Advice:
    """Return the advice for the next piece of a set-up.

    past: what earlier finished set-ups teach. ruler: how lengths are shown in the texts.
    """
    plan, made = setup.plan, decide(setup, past)
    known, pieces, found, ready = made.known, made.pieces, made.found, made.ready
    last = pieces[-1] if pieces else None
    inside = made.outlook.inside()
    size = (
        (plan.width_of(last.width), plan.thickness_of(last.thickness))
        if last
        else (plan.width_of(None), plan.thickness_of(None))
    )
    misfit = misfits(known, made.base, *size)
    moved = moves(found.settings, last) if last else None
    saves = slot_saves(made)
    status: Status = setup.outcome or ("ready" if ready else "tuning")
    advice = Advice(
        status=status,
        settled=made.settled,
        pieces=len(pieces),
        settings=found.settings,
        moves=moved,
        chance_good=made.outlook.good(made.unsettled or plan.in_play),
        chance_inside=inside,
        window={a: known.joint.window(a) for a in plan.in_play},
        misfit=misfit,
        pieces_left=0.0 if ready else made.outlook.pieces_left(made.unsettled),
        reasons=next_reasons(known, pieces, found, misfit, ruler)
        if last
        else first_reasons(known, ruler),
        notices=(
            *offer(made, saves, ruler),
            *doubles(setup, ruler),
            *notices(known, pieces, found, ruler),
        ),
        cautions=cautions.after_move(moved) if last else cautions.opening(plan),
        approach=approach(moved, setup, ruler),
        settled_by=dict(found.settled),
        real=made.real,
        zero=made.zero,
        chance_real=made.chance_real,
        centre_by=made.centre_by,
        slot_saves=saves,
    )
    if not ready:
        return advice
    # The settings of the real boards are then the answer itself, and no note on the test piece's.
    kept = (note for note in advice.notices if note.code != "real-board")
    return replace(advice, notices=(*kept, *confirm(known, advice, standing(setup, advice), ruler)))


def approach(moved: dict[str, float] | None, setup: SetUp, ruler: Ruler) -> dict[str, str]:
    """How to come to a new height so that the lift's play is taken up: from below."""
    if moved is None or abs(moved.get("bit_height", 0.0)) < 1e-9:
        return {}
    machine = setup.plan.machine
    play = machine.backlash if machine is not None else None
    if moved["bit_height"] > 0:
        return {
            "bit_height": "come up to it from below; if you pass it, go back down and come up again"
        }
    past = f"at least {ruler.length(play + 0.1)}" if play else "well"
    return {
        "bit_height": f"go {past} below it, then come up to it, so that the lift's play is taken up"
    }
