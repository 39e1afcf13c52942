"""How a recovered setting looks: the height to dial first, how sure it is, why, what to mind, how
to go on.
"""

from __future__ import annotations

from collections.abc import Sequence

from ...document import Document, names_of, remarks_document
from ...families.half_blind.recover import RecoveredHeight
from ...families.half_blind.recovery import Offer
from ...families.telling import say
from ...language.english.names import woods
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen

_ANSWER = ("test-piece", "no-test-piece")  # said right under the height


def recovery(screen: Screen, told: RecoveredHeight, ruler: Ruler) -> None:
    """Print a recovered height, why, what to mind, and the command to go on with."""
    found, start = told.found, told.start
    talk = (
        (tell("Why"), told.reasons),
        (tell("Note"), told.notices),
        (tell("Care"), told.cautions),
    )
    plan, offer, lead = found.plan, found.offer, found.plan.family.settings[0]
    zero = plan.machine.zero("height") if plan.machine else 0.0
    machine = f", {plan.machine.name}" if plan.machine else ""
    wood = woods(plan.stock.name, plan.pin_stock.name)
    screen.head(
        "Recovered: {bit}, {wood}{machine}, pitch {pitch}",
        bit=plan.bit.name,
        wood=wood,
        machine=machine,
        pitch=ruler.size(plan.pitch),
    )
    screen.line()
    low, high = (ruler.length(end + zero) for end in found.range90)
    screen.table(
        ["setting", "set to", "90 % range", "chance of good"],
        [
            [
                tell(lead.noun),
                ruler.length(offer.height + zero),
                tell("{low} to {high}", low=low, high=high),
                percent(offer.chance),
            ]
        ],
        right=(1, 3),
    )
    if ruler.turn is not None:
        up = ruler.move(lead, offer.height)
        screen.line(
            "From level with the table: {up}; come up to it from below.", indent="   ", up=up
        )
    screen.line()
    answer = next(r for _, remarks in talk for r in remarks if r.code in _ANSWER)
    screen.line(say(answer, ruler))
    for title, remarks in talk:
        screen.line()
        screen.head(title)
        for remark in (r for r in remarks if r.code not in _ANSWER):
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with: {start}", indent="   ", start=start)


def recovered_document(told: RecoveredHeight, ruler: Ruler) -> Document:
    """The one JSON document: lengths mm, heights on the user's own scale as everywhere."""
    found, plan, origin = told.found, told.found.plan, told.origin
    zero = plan.machine.zero("height") if plan.machine else 0.0
    return {
        **names_of(plan),
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
