"""What to set: each figure huge, with its move; what stays small."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ....domain import SetUp
from ....domain.standing import standing as decided
from ....families.screens import screens_of
from ....families.telling import PAGE, say
from ....language.units import Ruler
from ....render.answer import real, standing
from ....render.dial import Dialled, dialled
from ....service.bench import Workbench
from ....texts import tell
from ..desk import Sitting
from ..figure import Figure, figure
from ..said import typed_settings
from .common import Values, common, spoken


@dataclass(frozen=True, slots=True)
class Big:
    """One setting: what it is called, its figure, what to do, how to come to it, how it is
    measured.
    """

    name: str
    dial: Dialled
    figure: Figure
    measured: str


def dial(sitting: Sitting, setup: SetUp, bench: Workbench, fields: Mapping[str, str]) -> Values:
    """Return the settings for the next piece. fields: `set.NAME`, what was typed before of it."""
    answer = bench.look_at(setup)
    setup, found, ruler = answer.setup, answer.advice, bench.ruler
    plan = setup.plan
    by = screens_of(plan.family).measured(plan, found.settings, ruler)
    all_ = [
        Big(kind.name, one, figure(one.length), by.get(kind.name, ""))
        for kind, one in zip(
            plan.family.settings, dialled(setup, found, {}, ruler, PAGE), strict=True
        )
    ]
    first = found.moves is None
    moved = [one for one in all_ if one.dial.changed or first]
    code = decided(setup, found).code
    band = [r for r in found.notices if r.code == "as-found"]
    return {
        **common(sitting, setup),
        "piece": found.pieces + 1,
        "big": moved,
        "small": [one for one in all_ if one not in moved],
        "standing": standing(setup, found, found.pieces + 1, PAGE),
        "tuning": code == "tuning",
        "measure_first": spoken(band, ruler),
        "wanted": [
            say(r, ruler, PAGE, short=True)
            for r in found.notices
            if r.code.startswith(("coarse-", "limit-"))  # wanted, and not what stands below
        ],
        "cautions": spoken(found.cautions, ruler),
        "real": real(setup, found, ruler),
        "unkept": "" if answer.unkept is None else answer.unkept.message,
        "fields": [(kind.name, tell(kind.noun)) for kind in plan.family.settings],
        "held": typed_settings(fields),
        "waste": _waste(setup),
        "unit": unit(ruler),
    }


def unit(ruler: Ruler) -> str:
    """Return the unit that a number typed without one has."""
    return "mm" if ruler.units == "mm" else tell("in")


def _waste(setup: SetUp) -> Values | None:
    """Return the reading of a cut in waste that is no piece, None where the joint has none."""
    own = screens_of(setup.plan.family)
    if not own.waste:
        return None
    typed = own.readings()[own.waste]
    return {"kind": own.waste, "asks": typed.asks, "told": typed.told}
