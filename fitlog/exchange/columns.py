"""What the headers of a table of trial cuts mean, in any case and order, with the unit that they
name.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

# Our own word for a column -> other words that people write for it.
_WORDS: dict[str, tuple[str, ...]] = {
    "bit_height": ("height", "bit height", "cutter height", "router height", "lift"),
    "fence_offset": ("fence", "offset", "fence offset", "fence setting"),
    "socket_depth": ("depth", "socket depth"),
    "true_height": ("true bit height", "true height"),
    "true_fence": ("true fence offset", "true fence"),
    "true_depth": ("true socket depth", "true depth"),
    "said": ("said", "words", "verdict", "what was said", "seen", "result", "how it is"),
    "heard": ("heard", "as typed"),
    "fit": ("fit",),
    "centre": ("centre", "center", "centring", "centering"),
    "seat": ("seat",),
    "faults": ("fault", "faults", "gaps"),
    "fit_size": ("gap", "size", "fit gap", "fit size"),
    "centre_size": ("centre gap", "center gap", "centre size", "center size", "extra width"),
    "seat_size": ("step", "seat size", "seat step"),
    "pull_gap": ("pull gap", "pull apart gap", "pull-apart gap"),
    "mouth": ("mouth", "slot width"),
    "tail_width": ("tail width", "tail"),
    "between_rods": ("between rods",),
    "between_rod": ("between rods diameter", "rods between diameter"),
    "over_rods": ("over rods",),
    "over_rod": ("over rods diameter", "rods over diameter"),
    "wall_near": ("wall near", "near wall", "wall at the fence"),
    "wall_far": ("wall far", "far wall"),
    "note": ("note", "notes", "remark", "remarks", "comment", "comments"),
    "scrap": ("scrap", "piece material", "material"),
    "scrap_width": ("scrap width", "piece width"),
    "scrap_thickness": ("scrap thickness", "piece thickness"),
    "date": ("date", "day", "when", "date and time"),
    "time": ("time", "clock"),
    "by": ("who", "by", "person"),
    "piece": ("piece", "test piece", "cut", "no", "no.", "number", "#", "nr", "piece no"),
    "taken_back": ("taken back", "undone", "retracted"),
}
LENGTHS = frozenset(
    (
        "bit_height",
        "fence_offset",
        "socket_depth",
        "true_height",
        "true_fence",
        "true_depth",
        "fit_size",
        "centre_size",
        "seat_size",
        "pull_gap",
        "mouth",
        "tail_width",
        "between_rods",
        "between_rod",
        "over_rods",
        "over_rod",
        "wall_near",
        "wall_far",
        "scrap_width",
        "scrap_thickness",
    )
)
# Without one of these a table says nothing of a cut.
TELLING = (
    "said",
    "fit",
    "centre",
    "seat",
    "faults",
    "pull_gap",
    "mouth",
    "tail_width",
    "between_rods",
    "over_rods",
    "wall_near",
)
# Columns of our own export that an import has no use for.
OTHERS = ("set-up", "bit", "stock", "pin stock", "machine", "entry")
_MEANING = {word: key for key, words in _WORDS.items() for word in words}
_UNITS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "\u2033"), "in"),
    "thou": "thou",
}
_EVERY = "|".join(sorted(map(re.escape, _UNITS), key=len, reverse=True))
_WITH_UNIT = re.compile(rf"(?P<name>.*?)[ ,]*[(\[]? ?(?P<unit>{_EVERY}) ?[)\]]?")


@dataclass(frozen=True, slots=True)
class Column:
    """A column that means something. at: its place from 0; unit: "" where its header names none."""

    key: str
    at: int
    unit: str
    header: str


def meaning(header: str) -> tuple[str, str] | None:
    """Return our word for a column and the unit its header names, None where it means
    nothing here.
    """
    plain = " ".join(header.replace("_", " ").split()).casefold().rstrip(":")
    if plain in _MEANING:
        return _MEANING[plain], ""
    found = _WITH_UNIT.fullmatch(plain)
    if found is None or not found["name"]:
        return None
    key = _MEANING.get(found["name"].strip(" ,").removesuffix(" in").rstrip(":"))
    return (key, _UNITS[found["unit"]]) if key in LENGTHS and key is not None else None


def known(headers: list[str]) -> list[Column]:
    """Return the columns that mean something, in their order."""
    found = ((at, header, meaning(header)) for at, header in enumerate(headers))
    return [Column(told[0], at, told[1], header) for at, header, told in found if told is not None]
