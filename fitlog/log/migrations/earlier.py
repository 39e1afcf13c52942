"""Rows as layouts 1 to 3 and the exports of versions 1 and 2 had them, as layout 4 has them.

Frozen, as the scripts in `versions` are: those layouts had a column for every name of the one joint
that there was, the half-blind dovetail. `as_today` takes a row of an export; the functions that it
calls are those of the script, too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from ...texts import tell

Row = dict[str, Any]

SETTINGS = ("bit_height", "fence_offset", "socket_depth")
STATED = ("height_stated", "fence_stated", "depth_stated")
ADVISED = ("advised_height", "advised_fence", "advised_depth")
SIZES = ("scrap_width", "scrap_thickness")
ZEROS = ("height_zero", "fence_zero")
FIGURES = (
    "pitch",
    "rabbet_depth",
    "rabbet_bit",
    "wanted_step",
    "by_eye",
    "spaced",
    "many_tails",
    "tails",
    "spacing",
)
FLAGS = ("by_eye", "spaced", "many_tails")
PARTS = (
    "height_step",
    "height_turn",
    "height_zero",
    "backlash",
    "fence_step",
    "fence_zero",
    "depth_step",
    "between_marks",
)


def settings(*lengths: Any) -> Row | None:
    """Return settings by name, those that there are; None where there is none."""
    return {n: v for n, v in zip(SETTINGS, lengths, strict=True) if v is not None} or None


def stated(*flags: Any) -> str:
    """Return the names of the settings whose flag is 1; ValueError for a flag that is none."""
    if any(flag not in (0, 1) or isinstance(flag, float) for flag in flags):
        raise ValueError(tell("a flag is 1 or 0"))
    return ",".join(name for name, flag in zip(SETTINGS, flags, strict=True) if flag)


def sizes(width: Any, thickness: Any) -> Row:
    """Return the sizes of a piece that are not the set-up's."""
    given = {"width": width, "thickness": thickness}
    return {name: value for name, value in given.items() if value is not None}


def figures(*values: Any) -> Row:
    """Return the figures of a plan by name; a flag that is none stays as it is, to be refused."""
    found = dict(zip(FIGURES, values, strict=True))
    return found | {
        name: bool(found[name]) for name in FLAGS if found[name] in (0, 1) and _whole(found[name])
    }


def zeros(height: Any, fence: Any) -> Row | None:
    """Return the zeros of a machine's scales by part, one of 0 left out; None without a machine."""
    if height is None and fence is None:
        return None
    return {part: zero for part, zero in (("height", height), ("fence", fence)) if zero != 0}


def parts(*values: Any) -> Row:
    """Return what was known of a machine by its part."""
    known = dict(zip(PARTS, values, strict=True))
    between = str(known.pop("between_marks") or "").split(",")
    found: Row = {}
    for part in ("height", "fence", "depth"):
        of_it = {what: known.get(f"{part}_{what}") for what in ("step", "turn", "zero")}
        if part == "height":
            of_it["backlash"] = known["backlash"]
        kept = {k: v for k, v in of_it.items() if v is not None and (k != "zero" or v != 0)}
        kept |= {"between": True} if part in between else {}
        if kept:
            found[part] = kept
    if strange := set(between) - {"", "height", "fence", "depth"}:
        raise ValueError(tell("{part} is no scale", part=min(strange)))
    return found


CHANGES: dict[str, dict[str, tuple[Callable[..., Any], tuple[str, ...]]]] = {
    "machine": {"parts": (parts, PARTS)},
    "setup": {
        "figures": (figures, FIGURES),
        "settings": (settings, SETTINGS),
        "zeros": (zeros, ZEROS),
    },
    "advice": {"settings": (settings, SETTINGS)},
    "trial_cut": {
        "settings": (settings, SETTINGS),
        "stated": (stated, STATED),
        "advised": (settings, ADVISED),
        "sizes": (sizes, SIZES),
    },
    "found": {"settings": (settings, SETTINGS)},
}
INSIDE = {"start": ("started", "setup"), "cut": ("cut", "trial_cut"), "found": ("found", "found")}


def as_today(kind: str, row: Mapping[str, Any]) -> Row:
    """Return a row of an export as this layout has it, whatever version wrote it; one of today's
    stays as it is.
    """
    if kind != "entry":
        return _changed(kind, row)
    key, table = INSIDE.get(str(row.get("kind")), ("", ""))
    inside = row.get(key)
    return {**row, key: _changed(table, inside)} if isinstance(inside, dict) else dict(row)


def _changed(table: str, row: Mapping[str, Any]) -> Row:
    changes = CHANGES.get(table, {})
    gone = {name for _, names in changes.values() for name in names}
    if not gone & row.keys():
        return dict(row)
    made = {new: change(*map(row.get, names)) for new, (change, names) in changes.items()}
    return {name: value for name, value in row.items() if name not in gone} | made


def _whole(flag: Any) -> bool:
    return not isinstance(flag, float)
