"""What every screen of a set-up shows beside its own: which it is, what was said last."""

from __future__ import annotations

import os
from typing import Any

from ....domain import Remark, SetUp
from ....families.screens import screens_of
from ....families.telling import PAGE, say
from ....language.english.names import woods
from ....language.units import Ruler
from ....service import undoing
from ....texts import tell
from ..desk import Sitting

Values = dict[str, Any]


def common(sitting: Sitting, setup: SetUp) -> Values:
    """Return what a set-up's screens share. key: a fresh number for the answer; seen: what is on
    the screen; holder: who gives it.
    """
    plan = setup.plan
    return {
        "number": setup.number,
        "titled": setup.noted("title"),
        "heading": tell("Set-up {number}", number=setup.number),
        "line": ", ".join(
            (
                tell(plan.joint),
                plan.bit.name,
                woods(plan.stock.name, plan.pin_stock.name),
                *((plan.machine.name,) if plan.machine else ()),
                *screens_of(plan.family).figures(plan, sitting.ruler(plan.machine)),
            )
        ),
        "key": new_key(),
        "seen": f"e{setup.newest}",
        "holder": sitting.by,
        "back": undoing.newest(sitting.log, setup),
        "reads": sitting.phone.only_reads,
        "units": sitting.reader.units,
    }


def new_key() -> str:
    """Return a number that no other answer has."""
    return os.urandom(12).hex()


def sentence(text: str) -> str:
    """Return a question of the dialogue as one that stands for itself."""
    return f"{text[:1].upper()}{text[1:]}"


def spoken(remarks: tuple[Remark, ...] | list[Remark], ruler: Ruler) -> list[str]:
    """Return remarks as the page says them."""
    return [text for remark in remarks if (text := say(remark, ruler, PAGE))]
