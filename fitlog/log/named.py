"""What a family of joints names itself, as the log keeps it: settings, figures, sizes, words.

The family says which names there are and what each may be; no CHECK and nothing else here does. Of
a joint that this version does not know its rows tell the names, so that it can be listed.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import MISSING, fields
from types import NoneType
from typing import Any, Literal, TypeVar, get_args, get_origin, get_type_hints

from ..domain import AspectKind, Family, Plan, SettingKind, Settings, clean_name, clean_text
from ..domain.family import listed
from ..errors import FitlogError, Refused
from ..families.names import FAMILIES, PLANS
from .columns import FAR

FAULT = "fault"  # stands for an aspect where a verdict's row is the place of a gap
WRONG = (
    FitlogError,
    KeyError,
    ValueError,
    TypeError,
    AttributeError,
    IndexError,
    OverflowError,
    RecursionError,
)
T = TypeVar("T")
_KNOWN: dict[type[Plan], dict[str, tuple[Any, bool]]] = {}


def made(what: str, build: Callable[..., T], *args: Any) -> T:
    """Return the value that `build` makes of a row; refuse ("damaged-log") a row that makes none.
    what: the row, as a sentence names it.
    """
    try:
        return build(*args)
    except WRONG as error:
        if isinstance(error, FitlogError) and error.code == "damaged-log":
            raise
        raise Refused(
            "damaged-log",
            "{what} of the log makes no sense: {reason}",
            "look with fitlog log health, then restore your latest backup",
            what=what,
            reason=reason(error),
        ) from error


def reason(error: Exception) -> str:
    """Say in a few words what is wrong with a row."""
    return error.message if isinstance(error, FitlogError) else f"{type(error).__name__} {error}"


def family_named(
    joint: str,
    settings: Iterable[str],
    in_play: Iterable[str] = (),
    said: Iterable[Any] = (),
    read: Iterable[Any] = (),
) -> Family:
    """Return what the family of a joint declares; of an unknown one what its own rows name.

    settings: the names in a row of it; said, read: rows of its verdicts and its readings. What
    works with an unknown one refuses it: `families.joint_of`.
    """
    if joint in FAMILIES:
        return FAMILIES[joint]
    names = [clean_name("a setting", name) for name in settings]
    kinds = [AspectKind(aspect, ("",), "", names[0]) for aspect in in_play]
    places = []
    for row in said:
        if row.aspect == FAULT:
            places.append(row.word)
        else:  # never the settling word: what is not known is not good
            kinds.append(AspectKind(row.aspect, ("", row.word), "", None, len(kinds)))
    return Family(
        joint,
        tuple(SettingKind(n, n.replace("_", " "), n, ("larger", "smaller")) for n in names),
        tuple(kinds),
        tuple(places),
        {r.kind: "rod" if r.rod is not None else "other" if r.other else "" for r in read},
    )


def number(name: str, value: object) -> float:
    """Return a number of the log; refuse what is none, and one that no length of the trade is."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise Refused("bad-size", "{name} is no number", "give it in mm", name=name)
    if not abs(value) <= FAR:  # which refuses not-a-number, too
        raise Refused(
            "bad-size",
            "{name} cannot be {value:g}" if math.isfinite(value) else "{name} is no number",
            "give it in mm",
            name=name,
            value=value,
        )
    return float(value)


def numbers(given: Mapping[str, Any], names: Collection[str]) -> dict[str, float]:
    """Return numbers by name, in the order of `names`; refuse any other name."""
    if strange := given.keys() - set(names):
        raise Refused(
            "bad-setting",
            "{name!r} is no setting",
            "known: {names}",
            name=min(strange),
            names=listed(tuple(names)),
        )
    return {name: number(name, given[name]) for name in names if name in given}


def settings_of(family: Family, given: Mapping[str, Any]) -> Settings:
    """Return the settings that a row has; refuse other names, and a setting that is missing."""
    found = numbers(given, family.names)
    for name in family.names:
        if name not in found:
            raise Refused(
                "bad-setting",
                "{name} is missing",
                "give {names}",
                name=name,
                names=listed(family.names),
            )
    return Settings.named(family, found)


def some_of(family: Family, given: Mapping[str, Any]) -> dict[str, float]:
    """Return those of the settings that were measured; refuse other names, and none at all."""
    found = numbers(given, family.names)
    if not found:
        raise Refused(
            "bad-setting", "'nothing' is no setting", "known: {names}", names=listed(family.names)
        )
    for setting in family.settings:
        if setting.name in found:
            setting.check(found[setting.name])
    return found


def figures_in(plan: Plan) -> dict[str, Any]:
    """Return the figures that the family's own plan adds, as the log keeps them."""
    return {n: _figure(n, hint, getattr(plan, n)) for n, (hint, _) in _kinds(type(plan)).items()}


def plan_class(joint: str) -> type[Plan]:
    """Return the class of a joint's plans; of an unknown joint the one that all share."""
    return PLANS.get(joint, Plan)


def figures_of(joint: str, given: Mapping[str, Any]) -> dict[str, Any]:
    """Return the figures of a row as the joint's plan takes them; one that has a default may be
    missing, since the row may be older than it. Of an unknown joint nobody asks for them.
    """
    kinds = _kinds(plan_class(joint))
    if joint in PLANS and (strange := given.keys() - kinds.keys()):
        raise Refused(
            "bad-setting",
            "{name!r} is no figure of the {joint}",
            "remove it",
            name=min(strange),
            joint=joint,
        )
    for name, (_, needed) in kinds.items():
        if needed and name not in given:
            raise Refused(
                "bad-setting",
                "{name} is missing",
                "give {names}",
                name=name,
                names=listed(tuple(kinds)),
            )
    return {n: _figure(n, hint, given[n]) for n, (hint, _) in kinds.items() if n in given}


def _kinds(plan: type[Plan]) -> dict[str, tuple[Any, bool]]:
    """Return for each figure of a family's own plan its type, and whether it has no default."""
    if plan not in _KNOWN:
        shared, hints = {one.name for one in fields(Plan)}, get_type_hints(plan)
        own = [one for one in fields(plan) if one.name not in shared]
        _KNOWN[plan] = {one.name: (hints[one.name], one.default is MISSING) for one in own}
    return _KNOWN[plan]


def _figure(name: str, kind: Any, value: Any) -> Any:
    """Return a figure if it is of its type: a number, a yes or no, a word; or nothing."""
    parts = get_args(kind)
    if get_origin(kind) is Literal:
        if isinstance(value, str) and value in parts:
            return value
    elif NoneType in parts:
        (kind,) = (part for part in parts if part is not NoneType)
        return None if value is None else _figure(name, kind, value)
    elif kind is float:
        return number(name, value)
    elif kind is str and isinstance(value, str):
        return clean_text(name, value)
    elif type(value) is kind and abs(value) <= FAR:  # a whole number, a yes or no
        return value
    raise Refused(
        "bad-size",
        "{name} cannot be {value!r}",
        "correct the {name}",
        name=name,
        value=str(value)[:40],
    )
