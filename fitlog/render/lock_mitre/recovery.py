"""How a lock mitre that was got back looks: what to dial, how sure it is, how to go on."""

from __future__ import annotations

from ...document import Document, names_of, on_scale, remarks_document
from ...families.lock_mitre.recover import RecoveredMitre
from ...families.recovering import Recovered
from ...families.telling import say
from ...language.english.names import woods
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen


def recovery(screen: Screen, told: Recovered, ruler: Ruler) -> None:
    """Print the settings, why, what to mind, and the command to go on with."""
    assert isinstance(told, RecoveredMitre)
    plan = told.plan
    dial = told.settings.on_scale(plan.machine)
    screen.head(
        "Recovered: {bit}, {wood}, boards {thick} thick",
        bit=plan.bit.name,
        wood=woods(plan.stock.name, plan.pin_stock.name),
        thick=ruler.size(plan.tail_thickness),
    )
    screen.line()
    rows = [
        [kind.noun, ruler.length(dial[kind.name]), percent(told.chances[aspect])]
        for aspect, kind in ((a, plan.family.adjusted(a)) for a in told.chances)
    ]
    screen.table(["setting", "set to", "chance of good"], rows, right=(1, 2))
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


def recovered_document(told: Recovered, ruler: Ruler) -> Document:
    """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""
    assert isinstance(told, RecoveredMitre)
    return {
        **names_of(told.plan),
        "from": told.origin.number if told.origin else None,
        "settings": on_scale(told.settings, told.plan.machine),
        "chance_good": {aspect: round(chance, 4) for aspect, chance in told.chances.items()},
        "reasons": remarks_document(told.reasons, ruler),
        "notices": remarks_document(told.notices, ruler),
        "cautions": remarks_document(told.cautions, ruler),
        "start": told.start,
    }
