"""How a sliding dovetail that was got back looks: what to dial, how sure it is, how to go on."""

from __future__ import annotations

from ...document import Document, names_of, on_scale, remarks_document
from ...families.sliding.recover import RecoveredTongue
from ...families.telling import say
from ...language.english.names import woods
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen


def recovery(screen: Screen, told: RecoveredTongue, ruler: Ruler) -> None:
    """Print the settings, why, what to mind, and the command to go on with."""
    plan = told.plan
    dial = told.settings.on_scale(plan.machine)
    last = plan.family.settings[-1]
    zero = dial[last.name] - told.settings[last.name]
    low, high = (ruler.length(end + zero) for end in told.range90)
    screen.head(
        "Recovered: {bit}, {wood}, slide {slide}",
        bit=plan.bit.name,
        wood=woods(plan.stock.name, plan.pin_stock.name),
        slide=ruler.size(plan.slide),
    )
    screen.line()
    rows = [[kind.noun, ruler.length(dial[kind.name]), "-", "-"] for kind in plan.family.settings]
    rows[-1][2:] = [tell("{low} to {high}", low=low, high=high), percent(told.chance)]
    screen.table(["setting", "set to", "90 % range", "chance of good"], rows, right=(1, 3))
    for title, remarks in (
        (tell("Why"), told.reasons),
        (tell("Note"), told.notices),
        (tell("Care"), told.cautions),
    ):
        screen.line()
        screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with: {start}", indent="   ", start=told.start)


def recovered_document(told: RecoveredTongue, ruler: Ruler) -> Document:
    """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""
    return {
        **names_of(told.plan),
        "from": told.origin.number if told.origin else None,
        "settings": on_scale(told.settings, told.plan.machine),
        "range90": [round(end, 4) for end in told.range90],
        "chance_good": round(told.chance, 4),
        "reasons": remarks_document(told.reasons, ruler),
        "notices": remarks_document(told.notices, ruler),
        "cautions": remarks_document(told.cautions, ruler),
        "start": told.start,
    }
