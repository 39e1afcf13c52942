"""From a set-up and its trial cuts to the advice: a pure function of the log."""

from __future__ import annotations

from dataclasses import replace

from ..domain import NOTHING_KNOWN, Advice, Remark, SetUp, Status, remark
from ..domain.standing import standing
from .aim import moves
from .brief import brief
from .chances import misfits
from .craft import craft_of
from .decision import decide
from .doubles import doubles
from .history import History
from .notices import notices
from .reasons import confirm, first_reasons, next_reasons
from .run import run_remarks

__all__ = ["advise"]


def advise(setup: SetUp, past: History) -> Advice:
    """Return the advice for the next piece of a set-up.

    past: what earlier finished set-ups teach.
    """
    plan, made = setup.plan, decide(setup, past)
    craft = craft_of(plan)
    known, pieces, found, ready = made.known, made.pieces, made.found, made.ready
    last = pieces[-1] if pieces else None
    misfit = misfits(known, made.base, plan.figures(last.sizes if last else None))
    moved = moves(found.settings, last) if last else None
    saves, shown = craft.slot_saves(made), craft.shown_by(made)
    steps = craft.recipe(plan, found.settings, shown, made.asked)
    reasons = next_reasons(made, misfit) if last else first_reasons(known, found.settings)
    if moved is not None and any(said.code == "same-end" for said in reasons):
        steps = craft.again(steps, moved)
    status: Status = setup.outcome or ("ready" if ready else "tuning")
    advice = Advice(
        status=status,
        settled=made.settled,
        pieces=len(pieces),
        settings=found.settings,
        moves=moved,
        chance_good=made.outlook.good(made.asked),
        chance_inside=made.outlook.within(),
        window={a: known.joint.window(a) for a in plan.in_play},
        misfit=misfit,
        pieces_left=0.0 if ready else made.outlook.pieces_left(made.unsettled),
        reasons=reasons,
        notices=(
            *run_remarks(setup, past),
            *craft.offer(made, saves),
            *doubles(setup),
            *notices(made),
        ),
        cautions=craft.cautions(plan, moved),
        approach=approach(moved, setup),
        settled_by=dict(found.settled),
        real=made.real,
        zero=made.zero,
        chance_real=made.chance_real,
        brief=tuple(brief(made, misfit)),
        steps=steps,
        shown_by=shown,
        slot_saves=saves,
    )
    if not ready:
        return advice
    # The settings of the real boards are then the answer itself, and no note on the test piece's.
    kept = (note for note in advice.notices if note.code != "real-board")
    return replace(advice, notices=(*kept, *confirm(known, advice, standing(setup, advice))))


def approach(moved: dict[str, float] | None, setup: SetUp) -> dict[str, Remark]:
    """How to come to the new value of a setting so that its play is taken up: from below."""
    machine, out = setup.plan.machine, dict[str, Remark]()
    for kind in setup.plan.family.settings:
        part = machine.part(kind.part) if machine is not None else NOTHING_KNOWN
        slack = kind.from_below and part.pack is None  # what is stacked has no play
        move = (moved or {}).get(kind.name, 0.0) if slack else 0.0
        if move > 1e-9:
            out[kind.name] = remark("come-up")
        elif move < -1e-9:
            play = part.backlash
            past = play + 0.1 if play else None
            out[kind.name] = remark("go-below", play=past, part=kind.part)
    return out
