"""How a recovered setting of a box joint looks: what to set, how sure it is, why, how to go on."""

from __future__ import annotations

from ...document import Document, names_of, remarks_document
from ...families.fingers.names import FIT
from ...families.fingers.recover import RecoveredFit
from ...families.recovering import Recovered
from ...families.telling import say
from ...language.english.names import woods
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen


def recovery(screen: Screen, told: Recovered, ruler: Ruler) -> None:
    """Print a recovered setting, why, what to mind, and the command to go on with."""
    assert isinstance(told, RecoveredFit)
    plan = told.plan
    screen.head(
        "Recovered: {bit}, {wood}{machine}",
        bit=plan.bit.name,
        wood=woods(plan.stock.name, plan.pin_stock.name),
        machine=f", {plan.machine.name}" if plan.machine else "",
    )
    screen.line()
    row = [
        tell(plan.family.adjusted(FIT).noun),
        ruler.length(told.setting + _zero(told)),
        ruler.doubt(told.sd),
        percent(told.chance),
    ]
    screen.table(["setting", "set to", "known to +-", "chance of good"], [row], right=(1, 2, 3))
    talk = (
        (tell("Why"), told.reasons),
        (tell("Note"), told.notices),
        (tell("Care"), told.cautions),
    )
    for title, remarks in talk:
        if remarks:
            screen.line()
            screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with: {start}", indent="   ", start=told.start)


def recovered_document(told: Recovered, ruler: Ruler) -> Document:
    """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""
    assert isinstance(told, RecoveredFit)
    plan, origin = told.plan, told.origin
    return {
        **names_of(plan),
        "joint": plan.joint,
        "from": origin.number if origin else None,
        "setting": plan.family.setting_of[FIT],
        "value": round(told.setting + _zero(told), 4),
        "sd": round(told.sd, 4),
        "play": round(told.play, 4),
        "chance_good": round(told.chance, 4),
        "as_it_was": told.stays,
        "start": told.start,
        "reasons": remarks_document(told.reasons, ruler),
        "notices": remarks_document(told.notices, ruler),
        "cautions": remarks_document(told.cautions, ruler),
    }


def _zero(told: RecoveredFit) -> float:
    machine = told.plan.machine
    return machine.zero(told.plan.family.adjusted(FIT).part) if machine else 0.0
