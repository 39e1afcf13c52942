"""From a set-up and its trial cuts to the advice: a pure function of the log."""

from __future__ import annotations

from dataclasses import replace

from ..domain import Advice, Remark, SetUp, Status, remark
from ..domain.standing import standing
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


def advise(setup: SetUp, past: History) -> Advice:
    """Return the advice for the next piece of a set-up.

    past: what earlier finished set-ups teach.
    """
    plan, made = setup.plan, decide(setup, past)
    known, pieces, found, ready = made.known, made.pieces, made.found, made.ready
    last = pieces[-1] if pieces else None
    inside = made.outlook.inside()
    misfit = misfits(known, made.base, plan.figures(last.sizes if last else None))
    moved = moves(found.settings, last) if last else None
    saves = slot_saves(made)
    status: Status = setup.outcome or ("ready" if ready else "tuning")
    advice = Advice(
        status=status,
        settled=made.settled,
        pieces=len(pieces),
        settings=found.settings,
        moves=moved,
        chance_good=made.outlook.good(made.asked),
        chance_inside=inside,
        window={a: known.joint.window(a) for a in plan.in_play},
        misfit=misfit,
        pieces_left=0.0 if ready else made.outlook.pieces_left(made.unsettled),
        reasons=next_reasons(known, pieces, found, misfit) if last else first_reasons(known),
        notices=(
            *offer(made, saves),
            *doubles(setup),
            *notices(known, pieces, found),
        ),
        cautions=cautions.after_move(moved) if last else cautions.opening(plan),
        approach=approach(moved, setup),
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
    return replace(advice, notices=(*kept, *confirm(known, advice, standing(setup, advice))))


def approach(moved: dict[str, float] | None, setup: SetUp) -> dict[str, Remark]:
    """How to come to a new height so that the lift's play is taken up: from below."""
    if moved is None or abs(moved.get("bit_height", 0.0)) < 1e-9:
        return {}
    if moved["bit_height"] > 0:
        return {"bit_height": remark("come-up")}
    machine = setup.plan.machine
    play = machine.backlash if machine is not None else None
    return {"bit_height": remark("go-below", play=play + 0.1 if play else None)}
