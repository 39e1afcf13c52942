"""How the piece is cut, a step at a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from markupsafe import Markup

from ....domain import Advice, SetUp
from ....errors import Refused
from ....families.boards import boards_of
from ....families.drawing import drawings_of
from ....render.onscreen import svg
from ....service.bench import Workbench
from ....service.reader.cuts import CutTyped, Dialled, all_dialled, changed
from ....texts import tell
from ..desk import Sitting
from .common import Values, common, spoken

_WIDTH = 66.0  # mm, of a drawing on a phone: its letters are read at the machine


def recipe(sitting: Sitting, setup: SetUp, bench: Workbench, typed: Mapping[str, str]) -> Values:
    """Return the steps of the next piece. typed: settings really set otherwise, by name, as typed.
    Raises NotUnderstood, Refused for one that cannot be.
    """
    answer = bench.look_at(setup)
    setup, ruler = answer.setup, bench.ruler
    otherwise = CutTyped(settings={name: Dialled(text) for name, text in typed.items()})
    held, _ = changed(sitting.reader, setup, all_dialled(setup.plan.joint, otherwise))
    shown = setup.shown.changed(**held)
    steps = answer.advice.steps
    if held:
        steps = bench.steps(replace(setup, shown=shown))
    dialled = shown.on_scale(setup.plan.machine)
    family = setup.plan.family
    return {
        **common(sitting, setup),
        "piece": answer.advice.pieces + 1,
        "steps": spoken(list(steps), ruler),
        "drawings": drawn(replace(setup, shown=shown), answer.advice, bench),
        "typed": typed,
        "otherwise": [
            tell(
                "{setting} {length}",
                setting=tell(family.setting(name).noun),
                length=ruler.length(dialled[name]),
            )
            for name in held
        ],
        "settings": [
            (tell(kind.noun), ruler.length(dialled[kind.name])) for kind in family.settings
        ],
    }


def drawn(setup: SetUp, found: Advice, bench: Workbench) -> list[tuple[str, Markup]]:
    """Return the piece as it lies at the machine, at the settings shown: titles and SVGs; nothing
    where its boards cannot be cut so.
    """
    try:
        job = boards_of(setup.plan.joint).real_boards(setup, found, bench.past(setup), None)
    except Refused:
        return []
    return [
        (tell(one.title), Markup(svg(one, bench.ruler, _WIDTH)))  # its texts are escaped there
        for one in drawings_of(replace(job, settings=setup.shown))
    ]
