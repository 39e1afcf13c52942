"""The JSON of `progress`: how a set-up converged, pieces over the months."""

from __future__ import annotations

from ...advice.months import Split, Taken, month_text
from ...advice.progress import Step, View
from ...document import Document, names_of, on_scale, said
from ...domain import Machine
from ...service.lookback import Converged, Over


def converged_document(found: Converged) -> Document:
    """Return the JSON of how a set-up converged: lengths mm, settings and good settings as the
    user's scales read them.
    """
    plan = found.setup.plan
    return {
        "setup": found.setup.number,
        "joint": plan.joint,
        **names_of(plan),
        "status": found.status,
        "in_play": list(plan.in_play),
        "pieces": found.steps[-1].known,
        "pieces_left_out": found.steps[-1].known + 1 - len(found.steps),
        "steps": [_step(step, plan.machine) for step in found.steps],
    }


def _step(step: Step, machine: Machine | None) -> Document:
    piece, cut = step.piece, step.cut
    spoken = None
    if piece is not None and cut is not None:
        spoken = {
            "piece": piece.number,
            **_view(cut, machine),
            "settings": on_scale(piece.settings, machine),
            "said": said(piece.settings.family, piece.verdict),
            "good": {a: (step.judged or {}).get(a) for a in piece.settings.family.aspects},
            "scrap": piece.scrap,
        }
    return {
        "known_pieces": step.known,
        "settled": list(step.settled),
        "window": {
            a: [round(w.low, 4), round(w.high, 4)] if (w := step.window.get(a)) else None
            for a in step.proposed.settings.family.aspects
        },
        "proposed": _view(step.proposed, machine),
        "cut": spoken,
    }


def _view(view: View, machine: Machine | None) -> Document:
    dial, true = on_scale(view.settings, machine), view.settings
    good: Document = dict.fromkeys(true.family.names)
    misfit: Document = dict.fromkeys(true.family.aspects)
    for aspect, law in view.misfit.items():
        name, belief = true.family.setting_of[aspect], view.belief[aspect]
        shift = dial[name] - true.of(aspect)
        good[name] = {
            "middle": round(belief.middle + shift, 4),
            "interval90": [round(x + shift, 4) for x in belief.interval90],
            "reach": round(belief.reach, 4),
        }
        misfit[aspect] = {
            "mean": round(law.mean, 4),
            "sd": round(law.sd, 4),
            "interval90": [round(x, 4) for x in law.interval90],
        }
    chances = {a: None if c is None else round(c, 4) for a, c in view.chance_good.items()}
    return {"settings": dial, "chance_good": chances, "misfit": misfit, "good_setting": good}


def months_document(found: Over) -> Document:
    """Return the JSON of pieces over the months; an empty month has 0 set-ups and null means."""
    months = found.months
    return {
        "asked": {name: found.asked.get(name) for name in ("bit", "stock", "machine")},
        "months": [{"month": month_text(when), **_split(split)} for when, split in months.rows],
        "total": _split(months.total),
        "not_counted": {
            "open": found.unfinished,
            "abandoned": found.abandoned,
            "without_a_piece": months.pieceless,
        },
    }


def _split(split: Split) -> Document:
    return {**_taken(split.every), "first": _taken(split.first), "later": _taken(split.later)}


def _taken(taken: Taken) -> Document:
    mean, share = (None if x is None else round(x, 4) for x in (taken.mean, taken.share))
    return {
        "setups": taken.setups,
        "pieces": taken.pieces,
        "mean_pieces": mean,
        "good_at_once": share,
    }
