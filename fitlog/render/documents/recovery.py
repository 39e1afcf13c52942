"""The JSON of `recover`."""

from __future__ import annotations

from collections.abc import Sequence

from ...document import Document, remarks_document
from ...families.half_blind.recovery import Offer
from ...language.units import Ruler
from ...service.recovery import Recovered


def recovered_document(told: Recovered, ruler: Ruler) -> Document:
    """The one JSON document: lengths mm, heights on the user's own scale as everywhere."""
    found, plan, origin = told.found, told.found.plan, told.origin
    zero = plan.machine.zero("height") if plan.machine else 0.0
    return {
        "bit": plan.bit.name,
        "stock": plan.stock.name,
        "pin_stock": plan.pin_stock.name,
        "machine": plan.machine.name if plan.machine else None,
        "from": origin.number if origin else None,
        "pitch": round(plan.pitch, 4),
        "height": round(found.offer.height + zero, 4),
        "height_sd": round(found.height.sd, 4),
        "interval90": [round(end + zero, 4) for end in found.range90],
        "chance_good": round(found.offer.chance, 4),
        "test_piece": found.test_piece,
        "clearance": _law(found.offer.clearance),
        "window": [round(found.window.low, 4), round(found.window.high, 4)],
        "by_figures": _law(found.figures, zero),
        "cut_at": _law(found.cut_at, zero),
        "rods_angle": _law(found.rods_angle),
        "diameter": _law(found.diameter),
        "angle": _law(found.angle_deg),
        "setups": found.taught,
        "readings": [
            {
                "kind": h.reading.kind,
                "value": h.reading.value,
                "rod": h.reading.rod,
                "height_sd": round(h.height_sd, 4),
                "off": round(h.off, 2),
                "left_out": h.left_out,
            }
            for h in found.heard
        ],
        "remembered": _offer(found.remembered, zero),
        "start": told.start,
        "reasons": remarks_document(told.reasons, ruler),
        "notices": remarks_document(told.notices, ruler),
        "cautions": remarks_document(told.cautions, ruler),
    }


def _law(law: Sequence[float] | None, zero: float = 0.0) -> Document | None:
    return None if law is None else {"mean": round(law[0] + zero, 4), "sd": round(law[1], 4)}


def _offer(offer: Offer | None, zero: float) -> Document | None:
    if offer is None:
        return None
    return {
        "height": round(offer.height + zero, 4),
        "clearance": _law(offer.clearance),
        "chance_good": round(offer.chance, 4),
    }
