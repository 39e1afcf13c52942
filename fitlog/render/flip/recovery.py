"""How a joint cut from both faces looks that was got back: what to set, how sure it is, why, how to
go on.
"""

from __future__ import annotations

from ...document import Document, names_of, on_scale, remarks_document
from ...families.flip.names import HEIGHT
from ...families.flip.recover import RecoveredFlip
from ...families.telling import say
from ...language.english.names import woods
from ...language.numbers import percent
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen


def recovery(screen: Screen, told: RecoveredFlip, ruler: Ruler) -> None:
    """Print the settings, why, what to mind, and the command to go on with."""
    plan = told.plan
    screen.head(
        "Recovered: {bit}, {wood}, {joint}",
        bit=plan.bit.name,
        wood=woods(plan.stock.name, plan.pin_stock.name),
        joint=plan.joint,
    )
    screen.line()
    dial, rows = told.settings.on_scale(plan.machine), []
    for kind in plan.family.settings:
        sure = (ruler.doubt(told.sd), percent(told.chance)) if kind.name == HEIGHT else ("-", "-")
        rows.append([tell(kind.noun), ruler.length(dial[kind.name]), *sure])
    screen.table(["setting", "set to", "known to +-", "chance of good"], rows, right=(1, 2, 3))
    talk = (
        (tell("Why"), told.reasons),
        (tell("Note"), told.notices),
        (tell("Care"), told.cautions),
    )
    for title, remarks in talk:
        screen.line()
        screen.head(title)
        for remark in remarks:
            screen.line(f"- {say(remark.of(plan.joint), ruler)}", indent="  ")
    screen.line()
    screen.line("Go on with: {start}", indent="   ", start=told.start)


def recovered_document(told: RecoveredFlip, ruler: Ruler) -> Document:
    """Return it as JSON: lengths mm, settings on the user's own scale as everywhere."""
    plan = told.plan
    return {
        **names_of(plan),
        "joint": plan.joint,
        "from": told.origin.number if told.origin else None,
        "settings": on_scale(told.settings, plan.machine),
        "sd": round(told.sd, 4),
        "left": round(told.left, 4),
        "chance_good": round(told.chance, 4),
        "reasons": remarks_document(tuple(r.of(plan.joint) for r in told.reasons), ruler),
        "notices": remarks_document(tuple(r.of(plan.joint) for r in told.notices), ruler),
        "cautions": remarks_document(tuple(r.of(plan.joint) for r in told.cautions), ruler),
        "start": told.start,
    }
