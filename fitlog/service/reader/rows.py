"""Lines of a table to trial cuts, each cell read by the same rules as what is typed; what is wrong
is collected, not raised.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import partial
from typing import TypeVar

from ...domain import Aspect, Reading, Verdict, clean_text
from ...errors import FitlogError, NotUnderstood, Refused
from ...exchange import cells
from ...exchange.columns import LENGTHS
from ...exchange.sheet import Line, Problem, Sheet
from ...families.half_blind.names import ASPECTS
from ...language.phrases import parse_phrases, sized
from ...language.units import Length, quoted
from .. import limits
from .cuts import pair
from .lengths import Reader

T = TypeVar("T")

SETTINGS = ("bit_height", "fence_offset", "socket_depth")
_TRUE = {"true_height": "bit_height", "true_fence": "fence_offset", "true_depth": "socket_depth"}
_SIZES = {"fit": "fit_size", "centre": "centre_size", "seat": "seat_size"}
_ANSWERS = {
    "fit": "good, tight or loose",
    "centre": "centred, gap far or gap near",
    "seat": "flush, proud or shy",
}
_PAIRS = {
    "between_rods": ("between_rods", "between_rod"),
    "over_rods": ("over_rods", "over_rod"),
    "walls": ("wall_near", "wall_far"),
}


@dataclass(frozen=True, slots=True)
class CutLine:
    """A line of the table as a trial cut.  line: where it stands.

    settings: as the person's own scales read.  true: as true lengths.  at: UTC, None without a
    date. piece: the number it has in the table, None without one.
    """

    line: int
    settings: dict[str, Length]
    true: dict[str, Length]
    verdict: Verdict
    heard: str
    readings: tuple[Reading, ...] = ()
    note: str = ""
    scrap: str = ""
    scrap_width: Length | None = None
    scrap_thickness: Length | None = None
    at: datetime | None = None
    by: str = ""
    piece: int | None = None


@dataclass(frozen=True, slots=True)
class Table(Reader):
    """How a person's table is read. order: of day and month, "dmy", "mdy" or None; now: the
    time, aware.
    """

    order: str | None = None
    now: datetime = datetime.max


def read_cuts(sheet: Sheet, reader: Table) -> tuple[list[CutLine], list[Problem], int]:
    """Return the trial cuts of a table, what is wrong with its other lines, and how many lines were
    taken back.
    """
    points = any(
        re.search(r"[0-9]\.[0-9]", text)
        for one in sheet.lines
        for key, text in one.cells.items()
        if key in LENGTHS
    )
    cuts, problems, back = [], list(sheet.problems), 0
    for line in sheet.lines:
        row = _Row(sheet, line, reader, points)
        cut, undone = row.cut()
        problems += row.problems
        back += undone
        if cut is not None:
            cuts.append(cut)
    return cuts, sorted(problems, key=lambda p: p.line), back


class _Row:
    """One line; whatever is wrong with a cell is noted, and the others are read on."""

    def __init__(self, sheet: Sheet, line: Line, reader: Table, points: bool) -> None:
        self._sheet, self._line, self._reader, self._points = sheet, line, reader, points
        self.problems: list[Problem] = []

    def cut(self) -> tuple[CutLine | None, bool]:
        """Return the trial cut, None where a cell is wrong or it was taken back, and whether that
        is so.
        """
        if self._try(lambda: cells.yes(self._text("taken_back"))):
            return None, True
        lengths = {key: self._length(key) for key in LENGTHS if self._text(key)}
        given = {key: found for key, found in lengths.items() if found is not None}
        verdict, heard = self._said(given)
        cut = CutLine(
            self._line.number,
            {name: given[name] for name in SETTINGS if name in given},
            {name: given[key] for key, name in _TRUE.items() if key in given},
            verdict,
            self._plain("heard", "what was said") or heard,
            self._readings(given),
            self._plain("note", "the note"),
            self._plain("scrap", "the scrap"),
            given.get("scrap_width"),
            given.get("scrap_thickness"),
            self._moment(),
            self._plain("by", "the name"),
            self._try(lambda: cells.whole(self._text("piece"))) if self._text("piece") else None,
        )
        for name in set(cut.settings) & set(cut.true):
            self._note(
                "bad-setting",
                f"the {name.replace('_', ' ')} stands there twice",
                "leave one of the two columns out",
            )
        if not self.problems and cut.verdict.empty and not cut.readings and not cut.note:
            hint = "say how it fits, such as slightly tight, or take the line out"
            self._note("nothing-said", "it says nothing of the piece", hint)
        return (None if self.problems else cut), False

    def _text(self, key: str) -> str:
        return self._line.cells.get(key, "")

    def _try(self, read: Callable[[], T]) -> T | None:
        """Return what `read` gives; note what it refuses, and return None."""
        try:
            return read()
        except FitlogError as error:
            self._note(error.code, error.message, error.hint)
            return None

    def _note(self, _code: str, message: str, hint: str) -> None:
        self.problems.append(Problem(self._line.number, message, hint))

    def _plain(self, key: str, what: str) -> str:
        return self._try(lambda: clean_text(what, self._text(key))) or ""

    def _length(self, key: str) -> Length | None:
        text, column = self._text(key), self._sheet.columns[key]
        what = (
            "the " + column.header.strip()[:40].casefold()
            if column.header.isprintable()
            else "the length"
        )

        def read() -> Length:
            if self._points and cells.looks_like_thousands(text):
                said = (
                    f"{what} {quoted(text)} may have its thousands set apart: other lines have "
                    "a decimal point"
                )
                raise NotUnderstood(
                    "bad-length", said, "write it with a point, and thousands without a mark"
                )
            return cells.length(text, column.unit, self._reader.units, what)

        return self._try(read)

    def _said(self, given: dict[str, Length]) -> tuple[Verdict, str]:
        """Return what all columns say together, and the words for it."""
        parts = [self._text("said"), self._text("faults")]
        heard, own = [part for part in parts if part], set()
        for aspect in ASPECTS:
            word, size = self._text(aspect), given.get(_SIZES[aspect])
            fits = partial(self._aspect, aspect, word)
            if word and self._try(fits) is not None:
                word = (
                    f"gap {word}"
                    if aspect == "centre" and re.match(r"(far|near)\b", word.casefold())
                    else word
                )
                parts.append(word)
                own.add(aspect)
                heard.append(word if size is None else f"{word} {size.text}")
        spoken = ", ".join(part for part in parts if part)
        verdict = Verdict()
        if spoken:
            verdict = self._try(lambda: parse_phrases(spoken, units=self._reader.units)) or verdict
        beside = {aspect: bool(spoken and self._text(aspect)) for aspect in ASPECTS}
        for aspect in sorted(ASPECTS, key=lambda one: not beside[one]):  # its own word's size first
            known = aspect in own and verdict.of(aspect) if beside[aspect] else aspect != "fit"
            if _SIZES[aspect] in given and known:
                read = partial(_sized, verdict, aspect, given[_SIZES[aspect]], beside[aspect])
                verdict = self._try(read) or Verdict()
        if not spoken:
            return verdict, ""
        return verdict, self._try(lambda: clean_text("what was said", ", ".join(heard))) or ""

    def _aspect(self, aspect: Aspect, word: str) -> bool:
        """Refuse a cell that does not speak of the aspect of its column, or of another one, too."""
        text = (
            f"gap {word}"
            if aspect == "centre" and re.match(r"(far|near)\b", word.casefold())
            else word
        )
        verdict = parse_phrases(text, units=self._reader.units)
        others = [a for a in ASPECTS if a != aspect and verdict.of(a) is not None]
        if verdict.of(aspect) is None or others or verdict.faults:
            hint = f"of the {aspect} say {_ANSWERS[aspect]}"
            raise NotUnderstood("bad-word", f"{quoted(word)} is no word for the {aspect}", hint)
        return True

    def _readings(self, given: dict[str, Length]) -> tuple[Reading, ...]:
        if "fit_size" in given and not self._text("fit"):
            # a gap without a word beside it is a reading
            given = {"pull_gap": given["fit_size"], **given}
        found = [
            self._try(partial(_single, given, key))
            for key in ("pull_gap", "mouth", "tail_width")
            if key in given
        ]
        found += [
            self._try(partial(_pair, given, kind, keys))
            for kind, keys in _PAIRS.items()
            if any(key in given for key in keys)
        ]
        return tuple(reading for reading in found if reading is not None)

    def _moment(self) -> datetime | None:
        if not self._text("date"):
            if self._text("time"):
                self._note("bad-date", "it has a time and no date", "add a column with the date")
            return None

        def read() -> datetime:
            found = cells.moment(self._text("date"), self._text("time"), self._reader.order)
            if found > self._reader.now + timedelta(days=1):
                said = f"the date {quoted(self._text('date'))} is yet to come"
                raise Refused("bad-date", said, "check day, month and year")
            return found

        return self._try(read)


def _size(given: dict[str, Length], key: str, kind: str) -> float:
    limit = limits.reading(kind, f"the {key.replace('_', ' ')}")
    if kind == "rod":
        limit = limit._replace(high=limits.ROD.high)
    return limit._replace(why=f"{limit.why} ({limit.high:g} mm)").check(given[key])


def _single(given: dict[str, Length], kind: str) -> Reading:
    return Reading(kind, _size(given, kind, kind))


def _pair(given: dict[str, Length], kind: str, keys: tuple[str, str]) -> Reading:
    missing = [key for key in keys if key not in given]
    if missing:
        there = next(key for key in keys if key not in missing)
        said = f"{there.replace('_', ' ')} comes without {missing[0].replace('_', ' ')}"
        raise Refused("bad-reading", said, "give both columns, or neither")
    other = kind if kind == "walls" else "rod"
    return pair(kind, _size(given, keys[0], kind), _size(given, keys[1], other))


def _sized(verdict: Verdict, aspect: Aspect, size: Length, beside: bool) -> Verdict:
    """Return a verdict with the size that another column has for an aspect; refuse a size without a
    word. beside: the word has a column too, so that a size in it is the one too many.
    """
    said, digits = verdict.of(aspect), cells.digits(size.mm)
    if said is not None and said.size is not None and beside:
        hint = "say the word, then its size"
        raise NotUnderstood("stray-number", f"{quoted(digits)} has no word before it", hint)
    if said is None or said.size is not None:
        what = "has no word with it" if said is None else "is said twice"
        said_ = f"the size {quoted(size.text)} of the {aspect} {what}"
        raise NotUnderstood("no-word", said_, f"say {_ANSWERS[aspect]} beside it")
    return verdict.with_(sized(said, Length(size.mm, f"{digits} mm", "mm")))
