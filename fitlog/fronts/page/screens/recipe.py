"""How the piece is cut, a step at a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from markupsafe import Markup

from ....domain import Advice, SetUp, Verdict
from ....errors import Refused
from ....families.boards import boards_of
from ....families.drawing import drawings_of
from ....language.doubts import Doubt
from ....render.onscreen import svg
from ....service.asked import Reported
from ....service.bench import Workbench
from ....service.possible import check_settings
from ....service.reader.cuts import CutTyped, Dialled, all_dialled, changed
from ....service.slips import doubts_on
from ....texts import tell
from ..answers import Meanwhile
from ..desk import Sitting
from ..said import typed_settings
from .common import Values, common, spoken

_WIDTH = 66.0  # mm, of a drawing on a phone: its letters are read at the machine


@dataclass(frozen=True, slots=True)
class Odd(Exception):
    """A setting that no shop would mean, before a piece is cut at it. fields: those of the screen
    to set; name: of that setting.
    """

    setup: SetUp
    doubt: Doubt
    fields: Mapping[str, str]
    name: str


def recipe(sitting: Sitting, setup: SetUp, bench: Workbench, fields: Mapping[str, str]) -> Values:
    """Return the steps of the next piece. fields: `set.NAME`, settings really set otherwise;
    `meant`, the names of those that are odd and meant. Raises NotUnderstood, Refused for one that
    cannot be, Odd for one that no shop would mean, Meanwhile where others were shown to be set.
    """
    answer, typed = bench.look_at(setup), typed_settings(fields)
    if answer.unkept is None and _read(setup, bench) != _read(answer.setup, bench):
        others = tell("What is to be set is something else now, by what other set-ups taught.")
        raise Meanwhile(answer.setup, [others])
    setup, ruler = answer.setup, bench.ruler
    otherwise = CutTyped(settings={name: Dialled(text) for name, text in typed.items()})
    held, _ = changed(sitting.reader, setup, all_dialled(setup.plan.joint, otherwise))
    check_settings(setup.plan, setup.shown.changed(**held), held, {})
    for name in [one for one in held if one not in fields.get("meant", "").split()]:
        told = Reported(Verdict(), changed={name: held[name]}, unjudged=True)
        for doubt in doubts_on(bench, setup, told):
            raise Odd(setup, doubt, fields, name)
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
        "kept": urlencode({f"set.{name}": text for name, text in typed.items()}),
        "meant": bool(fields.get("meant")),
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


def _read(setup: SetUp, bench: Workbench) -> list[str]:
    """Return the settings last shown as they are read."""
    return [*map(bench.ruler.length, setup.shown.on_scale(setup.plan.machine).values())]


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
