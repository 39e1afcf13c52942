"""How a recovered width of a cut for a sheet looks: what to set, how sure it is, why, what next."""

from __future__ import annotations

from ...document import Document, names_of, remarks_document
from ...families.recovering import Recovered
from ...families.sheets.recover import RecoveredWidth
from ...families.telling import say
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen


def recovery(screen: Screen, told: Recovered, ruler: Ruler) -> None:
    """Print what was recovered, why, what to mind, and the command to go on with."""
    assert isinstance(told, RecoveredWidth)
    plan = told.plan
    screen.head("Recovered: {bit}, {stock}", bit=plan.bit.name, stock=plan.stock.name)
    screen.line()
    row = [
        tell(plan.family.adjusted(plan.family.lead).noun),
        ruler.length(_dialled(told)),
        ruler.doubt(told.sd),
        percent(told.chance),
    ]
    screen.table(["setting", "set to", "known to +-", "chance of good"], [row], right=(1, 2, 3))
    for title, remarks in ((tell("Why"), told.reasons), (tell("Care"), told.cautions)):
        screen.line()
        screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark, ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with: {start}", indent="   ", start=told.start)


def recovered_document(told: Recovered, ruler: Ruler) -> Document:
    """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""
    assert isinstance(told, RecoveredWidth)
    return {
        **names_of(told.plan),
        "joint": told.plan.joint,
        "from": told.origin.number if told.origin else None,
        "setting": told.plan.family.setting_of[told.plan.family.lead],
        "value": round(_dialled(told), 4),
        "sd": round(told.sd, 4),
        told.called: round(told.aimed, 4),
        "chance_good": round(told.chance, 4),
        "start": told.start,
        "reasons": remarks_document(told.reasons, ruler),
        "notices": remarks_document(told.notices, ruler),
        "cautions": remarks_document(told.cautions, ruler),
    }


def _dialled(told: RecoveredWidth) -> float:
    machine = told.plan.machine
    part = told.plan.family.adjusted(told.plan.family.lead).part
    return told.value + (machine.zero(part) if machine else 0.0)
