"""How a recovered setting looks: the height to dial first, how sure it is, why, what to mind, how
to go on.
"""

from __future__ import annotations

from ..families.telling import say
from ..language.english.names import woods
from ..language.numbers import percent
from ..language.units import Ruler
from ..service.recovery import Recovered
from .screen import Screen

_ANSWER = ("test-piece", "no-test-piece")  # said right under the height


def recovery(screen: Screen, told: Recovered, ruler: Ruler) -> None:
    """Print a recovered height, why, what to mind, and the command to go on with."""
    found, start = told.found, told.start
    talk = (("Why", told.reasons), ("Note", told.notices), ("Care", told.cautions))
    plan, offer, lead = found.plan, found.offer, found.plan.family.settings[0]
    zero = plan.machine.zero("height") if plan.machine else 0.0
    machine = f", {plan.machine.name}" if plan.machine else ""
    wood = woods(plan.stock.name, plan.pin_stock.name)
    screen.head(f"Recovered: {plan.bit.name}, {wood}{machine}, pitch {ruler.size(plan.pitch)}")
    screen.line()
    low, high = (ruler.length(end + zero) for end in found.range90)
    screen.table(
        ["setting", "set to", "90 % range", "chance of good"],
        [
            [
                lead.noun,
                ruler.length(offer.height + zero),
                f"{low} to {high}",
                percent(offer.chance),
            ]
        ],
        right=(1, 3),
    )
    if ruler.turn is not None:
        up = ruler.move(lead.name, offer.height, lead.ways)
        screen.line(f"From level with the table: {up}; come up to it from below.", indent="   ")
    screen.line()
    answer = next(r for _, remarks in talk for r in remarks if r.code in _ANSWER)
    screen.line(say(answer, ruler))
    for title, remarks in talk:
        screen.line()
        screen.head(title)
        for remark in (r for r in remarks if r.code not in _ANSWER):
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    screen.line()
    screen.line(f"Go on with: {start}", indent="   ")
