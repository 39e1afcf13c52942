"""The machine-readable form of an answer: one JSON document, lengths in mm, every key
always there.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from .domain import (
    Advice,
    Family,
    Machine,
    Misfit,
    Piece,
    Plan,
    Remark,
    Settings,
    Settled,
    SetUp,
    Verdict,
    Window,
)
from .domain.standing import for_real_boards, standing
from .families.telling import say
from .language.units import Ruler

Document = dict[str, Any]


def on_scale(settings: Settings, machine: Machine | None) -> dict[str, float]:
    """Return settings as the user's own scales read them, mm."""
    return {name: round(value, 4) for name, value in settings.on_scale(machine).items()}


def found_values(
    family: Family, found: Mapping[str, float], machine: Machine | None
) -> dict[str, float | None]:
    """Return settings found, true mm by name, as the user's own scales read them; None for what was
    not measured.
    """
    zero = zeros(family, machine)
    return {name: round(found[name] + zero[name], 4) if name in found else None for name in zero}


def zeros(family: Family, machine: Machine | None) -> dict[str, float]:
    """Return what each setting's scale shows more than the truth, mm."""
    return {kind.name: machine.zero(kind.part) if machine else 0.0 for kind in family.settings}


def advice_document(setup: SetUp, advice: Advice, ruler: Ruler) -> Document:
    """Return the document that `start`, `cut`, `next`, `undo`, `redo` and `finish` print.

    standing: the code of how it stands; ended: how it ended, null while open.  pieces: test pieces,
    no joints looked at between real boards.  real: what to set
    for the real boards; chance_real: that they then come out inside.  settled_by: by what each
    settled aspect is.  centre_by: `Advice.shown_by`, of the half-blind dovetail how the next piece
    shows the centre, "turn", "walls" or "".
    test_stock: of `start --pieces`, null where not asked.
    slot_saves: test pieces that a measured slot would save now, null for none.  ruler: of the
    texts.
    """
    plan, last, how = setup.plan, setup.last_piece(), standing(setup, advice)
    aspects = plan.family.aspects
    return {
        "setup": setup.number,
        "title": setup.noted("title") or None,
        "joint": plan.joint,
        "status": "abandoned" if setup.undone else advice.status,
        "standing": how.code,
        "ended": how.ended,
        "in_play": list(plan.in_play),
        "settled": list(advice.settled),
        "settled_by": {a: _settled_by(advice.settled_by.get(a)) for a in aspects},
        "centre_by": advice.shown_by,
        "test_stock": None,
        "slot_saves": None if advice.slot_saves is None else round(advice.slot_saves, 2),
        "pieces": len(setup.tests()),
        "fixed": fixed(plan),
        "last": _last(last, plan.machine) if last else None,
        "settings": on_scale(advice.settings, plan.machine),
        "real": on_scale(for_real_boards(setup, advice), plan.machine),
        "moves": {k: round(v, 4) for k, v in advice.moves.items()} if advice.moves else None,
        "chance_good": _chances(advice.chance_good),
        "chance_inside": _chances(advice.chance_inside),
        "chance_real": _chances(advice.chance_real),
        "window": {a: window(advice.window.get(a)) for a in aspects},
        "misfit": {a: _misfit(advice.misfit.get(a)) for a in aspects},
        "pieces_left": round(advice.pieces_left, 2),
        "reasons": remarks_document(advice.reasons, ruler),
        "notices": remarks_document(advice.notices, ruler),
        "cautions": remarks_document(advice.cautions, ruler),
    }


def stock_document(scraps: Sequence[Remark], ruler: Ruler) -> list[Document]:
    """Return the scraps to prepare for test pieces, mm, each with its sentence. ends: how many of
    their ends are used.
    """
    names = ("count", "ends", "width", "thickness", "length")
    return [
        {
            "what": scrap.code.removeprefix("stock-"),
            **{name: dict(scrap.values)[name] for name in names},
            "text": say(scrap, ruler),
        }
        for scrap in scraps
    ]


def _settled_by(by: Settled | None) -> Document | None:
    return None if by is None else {"way": by.way, "chance": round(by.chance, 4), "piece": by.piece}


def names_of(plan: Plan) -> dict[str, str | None]:
    """Return what a plan is made of, by its names in the catalogue."""
    at, stock, pin_stock = plan.machine, plan.stock.name, plan.pin_stock.name
    machine = at.name if at else None
    return {"bit": plan.bit.name, "stock": stock, "pin_stock": pin_stock, "machine": machine}


def fixed(plan: Plan) -> dict[str, float | str]:
    """Return the figures of a plan that its family declares as fixed, mm."""
    found = ((name, getattr(plan, name)) for name in plan.family.fixed)
    return {name: round(x, 4) if isinstance(x, float) else x for name, x in found}


def said(family: Family, verdict: Verdict) -> Document:
    """Return a verdict as words with their sizes in mm."""
    spoken: Document = {a: str(s) if (s := verdict.of(a)) else None for a in family.aspects}
    spoken["faults"] = [str(f) for f in verdict.faults]
    return spoken


def moment(at: datetime | None) -> str | None:
    """Return a time as ISO 8601 in UTC to the second."""
    return None if at is None else at.strftime("%Y-%m-%dT%H:%M:%SZ")


def _last(piece: Piece, machine: Machine | None) -> Document:
    return {
        "piece": piece.number,
        "settings": on_scale(piece.settings, machine),
        "stated": list(piece.stated),
        "said": said(piece.settings.family, piece.verdict),
    }


def _chances(chances: dict[str, float | None]) -> dict[str, float | None]:
    return {name: None if chance is None else round(chance, 4) for name, chance in chances.items()}


def window(found: Window | None) -> list[float | None] | None:
    """Return a window as its two ends, mm; null for an end that it has not."""
    if found is None:
        return None
    return [round(end, 4) if math.isfinite(end) else None for end in (found.low, found.high)]


def _misfit(misfit: Misfit | None) -> Document | None:
    if misfit is None:
        return None
    return {
        "mean": round(misfit.mean, 4),
        "sd": round(misfit.sd, 4),
        "interval90": [round(x, 4) for x in misfit.interval90],
    }


def remarks_document(remarks: Sequence[Remark], ruler: Ruler) -> list[Document]:
    """Return remarks with their stable codes and their sentences, in a person's units."""
    return [{"code": r.code, "aspect": r.aspect, "text": say(r, ruler)} for r in remarks]
