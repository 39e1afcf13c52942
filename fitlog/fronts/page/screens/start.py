"""What a set-up is started with: an earlier one, or what a new one needs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ....domain import Bit, Machine, SetUp, Stock
from ....errors import FitlogError, Refused
from ....families.names import FAMILIES, family_of
from ....families.screens import screens_of
from ....families.typed import Figure, First, OneOf, Size, YesNo, typed_of
from ....language.doubts import Doubt
from ....language.english.names import woods
from ....language.units import Ruler
from ....render.again import as_setup, differ, plan_told
from ....service.again import Named, alike
from ....service.bench import Workbench
from ....texts import tell
from ..desk import Sitting
from ..refusals import told
from .common import Values, common, new_key, spoken
from .dial import unit

Choice = tuple[str, str]  # a name, and what tells it from the others
_MOST = 20  # numbers of set-ups in an address


def start(
    sitting: Sitting,
    fields: Mapping[str, str],
    *,
    new: bool = False,
    error: FitlogError | None = None,
    old: str = "",
) -> Values:
    """Return what is asked. fields: what was typed before, which stays; old: the number of the
    answer that was refused.
    """
    joint = fields.get("joint", "")
    joint = joint if joint in FAMILIES else ""
    home = sitting.home()
    named = Named(machine=home.name if home else None)
    earlier = [] if new or joint else alike(sitting.bench(), named)
    return {
        "key": new_key(),
        "old": old,
        "refused": "" if error is None else told(error),
        "code": "" if error is None else error.code,
        "earlier": [_earlier(sitting, setup) for setup in earlier],
        "joint": joint,
        "joint_told": tell(joint) if joint else "",
        "joints": [] if joint or earlier else _joints(),
        "parts": _parts(sitting) if joint else [],
        "figures": _figures(joint, sitting.bits.all(False)) if joint else [],
        "typed": fields,
        "unit": unit(sitting.ruler()),
        "reads": sitting.phone.only_reads,
        "holder": sitting.by,
    }


def _earlier(sitting: Sitting, setup: SetUp) -> Values:
    plan = setup.plan
    return {
        "number": str(setup.number),
        "title": setup.noted("title") or tell("Set-up {number}", number=setup.number),
        "joint": tell(plan.joint),
        "boards": woods(plan.stock.name, plan.pin_stock.name),
        "told": "; ".join(plan_told(plan, sitting.ruler(plan.machine)).values()),
    }


def _joints() -> list[tuple[str, str, str]]:
    return [(name, tell(name), screens_of(family_of(name)).what_for()) for name in FAMILIES]


def _parts(sitting: Sitting) -> list[tuple[str, str, list[Choice], bool]]:
    """Return what is chosen from the catalogue: its field, its question, the choices, and whether
    one must be.
    """
    ruler, own = sitting.ruler(), sitting.home()
    bits = [(bit.name, _bit(bit, ruler)) for bit in sitting.bits.all(False)]
    stocks = [(stock.name, _stock(stock, ruler)) for stock in sitting.stocks.all(False)]
    machines = [(machine.name, _machine(machine, own)) for machine in sitting.machines.all(False)]
    same = [("", tell("the same")), *stocks] if len(stocks) > 1 else []
    found = [
        ("bit", tell("Which bit?"), bits, True),
        ("stock", tell("Which boards?"), stocks, True),
        ("pin_stock", tell("And the boards that they meet?"), same, False),
        ("machine", tell("At which machine?"), machines, True),
    ]
    return [part for part in found if part[2]]


def _bit(bit: Bit, ruler: Ruler) -> str:
    return tell("{wide} wide, {angle:g} deg", wide=ruler.size(bit.diameter), angle=bit.angle)


def _stock(stock: Stock, ruler: Ruler) -> str:
    return tell(
        "{species}, {width} by {thickness}",
        species=stock.species,
        width=ruler.size(stock.width),
        thickness=ruler.size(stock.thickness),
    )


def _machine(machine: Machine, own: Machine | None) -> str:
    return tell("your own") if own is not None and own.name == machine.name else ""


def _figures(joint: str, bits: Sequence[Bit]) -> list[tuple[str, str, tuple[str, ...], bool]]:
    """Return the figures of a plan that can be said: name, what it is called, the words that it
    takes, none for a number, whether that is a length. bits: of the catalogue.
    """
    return [
        (
            name,
            _called(joint, name, figure, bits),
            figure.words
            if isinstance(figure, OneOf)
            else ("yes", "no")
            if isinstance(figure, YesNo)
            else (),
            isinstance(figure, Size | First),
        )
        for name, figure in typed_of(joint).FIGURES.items()
    ]


def _called(joint: str, name: str, figure: Figure, bits: Sequence[Bit]) -> str:
    """Return what a figure is called: as its family declares it, where it does."""
    if isinstance(figure, First):
        return tell(family_of(joint).setting(figure.field).noun)
    if isinstance(figure, Size) and bits:
        return tell(figure.limit(bits[0]).what).removeprefix("the ")
    return name.replace("-", " ")


def doubted(sitting: Sitting, doubt: Doubt, fields: Mapping[str, str], old: str) -> Values:
    """Return the question about what was typed."""
    return {
        "key": new_key(),
        "old": old,
        "question": doubt.question,
        "meant": doubt.meant if doubt.mend else "",
        "insist": tell(doubt.insist),
        "again": {k: v for k, v in fields.items() if k not in ("key", "meant", "mend")},
        "reads": sitting.phone.only_reads,
        "holder": sitting.by,
    }


def begun(sitting: Sitting, setup: SetUp, bench: Workbench, asked: Mapping[str, str]) -> Values:
    """Return what was started: as which earlier set-up, what was ended for it, and the cautions in
    full. asked: the numbers of those.
    """
    answer = bench.look_at(setup)
    base = _numbers(asked.get("as", ""))[:1]
    lines = [as_setup(sitting.log.setup(one), setup.plan, bench.ruler) for one in base]
    for closed in _numbers(asked.get("closed", ""))[:1]:
        text = tell("Set-up {closed} with this bit was ready and is now finished.", closed=closed)
        lines.insert(0, text)
    several = _setups(sitting, asked.get("several", ""))
    if len(several) > 1:
        lines.append(differ(several))
    return {
        **common(sitting, setup),
        "lines": lines,
        "notices": spoken(list(answer.advice.notices), bench.ruler),
        "cautions": spoken(list(answer.advice.cautions), bench.ruler),
    }


def _numbers(text: str) -> list[int]:
    parts = text.split("-")[:_MOST]
    return [int(one) for one in parts if one.isascii() and one.isdecimal() and len(one) < 19]


def _setups(sitting: Sitting, text: str) -> Sequence[SetUp]:
    try:
        return [sitting.log.setup(number) for number in _numbers(text)]
    except Refused:
        return ()
