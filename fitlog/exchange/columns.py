"""What the headers of a table of trial cuts mean, in any case and order, with the unit that they
name.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from ..domain import Aspect
from ..language.speech import Speech

# Our own name for a column -> the words that people write for it, the one that we write first.
_COMMON: dict[str, tuple[str, ...]] = {
    "said": ("said", "words", "verdict", "what was said", "seen", "result", "how it is"),
    "heard": ("as typed", "heard"),
    "faults": ("faults", "fault", "gaps"),
    "note": ("note", "notes", "remark", "remarks", "comment", "comments"),
    "scrap": ("scrap", "piece material", "material"),
    "scrap_width": ("scrap width", "piece width"),
    "scrap_thickness": ("scrap thickness", "piece thickness"),
    "date": ("date", "day", "when", "date and time"),
    "time": ("time", "clock"),
    "by": ("who", "by", "person"),
    "piece": ("piece", "test piece", "cut", "no", "no.", "number", "#", "nr", "piece no"),
    "after": ("joints cut", "after", "after joints"),
    "taken_back": ("taken back", "undone", "retracted"),
    "setup": ("set-up", "setup", "set-up no", "set-up number"),
    "bit": ("bit",),
    "stock": ("stock",),
    "pin_stock": ("pin stock",),
    "machine": ("machine",),
}
# Where a row belongs, by the names of the set-up's things; a row that names others is refused.
PLACE = ("bit", "stock", "pin_stock", "machine")
OTHERS = ("entry",)  # of our own export, what an import has no use for
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


@dataclass(frozen=True)
class Columns:
    """The columns that a table of one family's trial cuts can have."""

    speech: Speech

    def true(self, setting: str) -> str:
        """Return the column of a setting as a true length."""
        return f"true_{setting}"

    def word(self, aspect: Aspect) -> str:
        """Return the column of an aspect's word; where a setting has its name, that has the
        other.
        """
        return f"{aspect}_word" if aspect in self.speech.family.place else aspect

    def size(self, aspect: Aspect) -> str:
        """Return the column of the number said with an aspect's word."""
        return f"{aspect}_size"

    def numbers(self, kind: str) -> tuple[str, ...]:
        """Return the columns of a reading, that of the number that counts first."""
        second = self.speech.family.readings[kind]
        return self.speech.pairs.get(kind, (kind, f"{kind}_{second}")) if second else (kind,)

    @property
    def kinds(self) -> tuple[str, ...]:
        """The kinds of readings, those of one number first."""
        kinds = self.speech.family.readings.items()
        return (*(k for k, second in kinds if not second), *(k for k, second in kinds if second))

    @cached_property
    def lengths(self) -> frozenset[str]:
        """The columns of lengths."""
        family = self.speech.family
        return frozenset(
            (
                *family.names,
                *map(self.true, family.names),
                *map(self.size, family.aspects),
                *(key for kind in family.readings for key in self.numbers(kind)),
                "scrap_width",
                "scrap_thickness",
            )
        )

    @cached_property
    def telling(self) -> tuple[str, ...]:
        """The columns without one of which a table says nothing of a cut."""
        family = self.speech.family
        readings = (self.numbers(kind)[0] for kind in self.kinds)
        return ("said", *map(self.word, family.aspects), "faults", *readings)

    @cached_property
    def words(self) -> dict[str, tuple[str, ...]]:
        """The words for each column, by our own name for it. An aspect with "word" or "size" behind
        it is never the setting of its name.
        """
        family = self.speech.family
        keys = (*self.lengths, *map(self.word, family.aspects))
        plain = {key: (key.replace("_", " "),) for key in keys}
        recut = {"recut_of": ("recut of", "same end as")} if self.speech.family.recuts else {}
        found = {**plain, **_COMMON, **recut, **self.speech.columns}
        for aspect in family.aspects:
            for key, one in ((self.word(aspect), "word"), (self.size(aspect), "size")):
                found[key] = tuple(dict.fromkeys((*found[key], f"{aspect} {one}")))
        return found

    def head(self, key: str) -> str:
        """Return the header that we write, with the unit of a length."""
        return f"{self.words[key][0]} (mm)" if key in self.lengths else self.words[key][0]

    @cached_property
    def _meaning(self) -> dict[str, str]:
        return {word: key for key, words in self.words.items() for word in words}

    def meaning(self, header: str) -> tuple[str, str] | None:
        """Return our word for a column and the unit its header names, None where it means nothing
        here.
        """
        plain = " ".join(header.replace("_", " ").split()).casefold().rstrip(":")
        if plain in self._meaning:
            return self._meaning[plain], ""
        found = _WITH_UNIT.fullmatch(plain)
        if found is None or not found["name"]:
            return None
        key = self._meaning.get(found["name"].strip(" ,").removesuffix(" in").rstrip(":"))
        return (key, _UNITS[found["unit"]]) if key is not None and key in self.lengths else None

    def strange_unit(self, header: str) -> bool:
        """Tell whether a header names a length of ours in a unit that is none."""
        found = re.fullmatch(r"(.+?)[ ,]*[(\[].+[)\]]", " ".join(header.replace("_", " ").split()))
        return found is not None and (
            self.meaning(header) is None
            and self._meaning.get(found[1].casefold().rstrip(" :,")) in self.lengths
        )

    def known(self, headers: Sequence[str]) -> list[Column]:
        """Return the columns that mean something, in their order."""
        found = ((at, header, self.meaning(header)) for at, header in enumerate(headers))
        return [
            Column(told[0], at, told[1], header) for at, header, told in found if told is not None
        ]
