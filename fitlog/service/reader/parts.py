"""What is known of a machine's parts, as typed."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from ...domain import LIFT, Part, PartChanges, clean_name, pack_of
from ...errors import NotUnderstood
from ...families.names import machine_parts
from ...language.units import quoted
from ..limits import SHIM, of_part
from .choices import scales_of
from .lengths import Reader

_SIZES = ("step", "turn", "backlash", "zero")
_BETWEEN, _DIAL, _NONE = "between", "dial", "none"
_HOW = (
    'write it like --part "key=step 0.05, zero 0.2", or what is stacked to set it: --part '
    '"key=at most 3 of paper 0.1 x4, tape 0.13"'
)


@dataclass(frozen=True, slots=True)
class PartsTyped:
    """What is typed of the parts. sizes: by part and by what of it; None: not given.  between: the
    scales set between their marks.  more: any part, each as NAME=SPEC.
    """

    sizes: Mapping[tuple[str, str], str | None]
    between: str | None = None
    more: Sequence[str] = ()
    dial: int | None = None


def parts_of(reader: Reader, typed: PartsTyped) -> PartChanges:
    """Return what changes of the parts; raises NotUnderstood, or Refused."""
    changes: dict[str, Part | dict[str, Any]] = {}
    for (part, what), text in typed.sizes.items():
        if text is not None:
            _add(changes, part, {what: reader.size(text, of_part(part, what))})
    if typed.dial is not None:
        _add(changes, LIFT, {"dial": typed.dial})
    if (scales := scales_of(typed.between)) is not None:
        for part in machine_parts():
            _add(changes, part, {"between": part in scales})
    for text in typed.more:
        name, _, spec = text.partition("=")
        if not name.strip() or not spec.strip():
            raise NotUnderstood(
                "bad-choice",
                "--part {typed} names no part as set",
                _HOW,
                typed=quoted(text),
            )
        part = clean_name("the part", name.casefold())
        if spec.strip().casefold() == _NONE:
            changes[part] = Part()
        else:
            _add(changes, part, _spec(reader, part, spec))
    return changes


def _add(changes: dict[str, Part | dict[str, Any]], part: str, told: Mapping[str, Any]) -> None:
    before = changes.get(part)
    if isinstance(before, Part):
        changes[part] = before.changed(told)
    else:
        changes[part] = {**(before or {}), **told}


def _spec(reader: Reader, part: str, spec: str) -> dict[str, Any]:
    """Read what is known of a part: its figures, or what is stacked to set it."""
    items = [item.split(None, 1) for item in spec.split(",")]
    if not items[0] or items[0][0].casefold() not in (*_SIZES, _BETWEEN, _DIAL):
        return {"pack": pack_of(spec, lambda text: reader.size(text, SHIM))}
    found: dict[str, Any] = {}
    for item in items:
        what, text = (item[0].casefold() if item else ""), "".join(item[1:])
        if what in _SIZES and text:
            found[what] = reader.size(text, of_part(part, what))
        elif what == _BETWEEN and not text:
            found[what] = True
        elif what == _DIAL and re.fullmatch("[0-9]{1,9}", text):
            found[what] = int(text)
        else:
            shown = quoted(" ".join(item))
            raise NotUnderstood(
                "bad-choice",
                "--part: {shown} is no figure of the {part}",
                _HOW,
                shown=shown,
                part=part,
            )
    return found
