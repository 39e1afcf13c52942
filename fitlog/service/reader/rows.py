"""Lines of a table to trial cuts, each cell read by the same rules as what is typed; what is wrong
is collected, not raised.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import partial
from typing import TypeVar

from ...domain import Aspect, Reading, Verdict, clean_text
from ...errors import Clause, FitlogError, Mm, NotUnderstood, Refused
from ...exchange import cells
from ...exchange.columns import PLACE, Columns
from ...exchange.sheet import Line, Problem, Sheet
from ...families.typed import typed_of
from ...language.limits import Limit
from ...language.misheard import none_of
from ...language.sizes import sized
from ...language.speech import GAP, Speech
from ...language.units import Length, quoted
from ...language.usual import tokens
from ...texts import tell
from .. import limits
from .lengths import Reader
from .line import CutLine
from .readings import reading_of

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Table(Reader):
    """How a person's table is read. columns: that it can have; order: of day and month, "dmy",
    "mdy" or None; now: the time, aware.
    """

    columns: Columns = field(kw_only=True)
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
        if key in reader.columns.lengths
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
        self._columns, self._speech = reader.columns, reader.columns.speech.with_own(reader.own)
        self._family = self._speech.family
        self.problems: list[Problem] = []

    def cut(self) -> tuple[CutLine | None, bool]:
        """Return the trial cut, None where a cell is wrong or it was taken back, and whether that
        is so.
        """
        if self._try(lambda: cells.yes(self._text("taken_back"))):
            return None, True
        lengths = {key: self._length(key) for key in self._columns.lengths if self._text(key)}
        given = {key: found for key, found in lengths.items() if found is not None}
        verdict, heard = self._said(given)
        cut = CutLine(
            self._line.number,
            {name: given[name] for name in self._family.names if name in given},
            {
                n: given[self._columns.true(n)]
                for n in self._family.names
                if self._columns.true(n) in given
            },
            verdict,
            self._plain("heard", "what was said") or heard,
            self._readings(given),
            self._plain("note", "the note"),
            self._plain("scrap", "the scrap"),
            given.get("scrap_width"),
            given.get("scrap_thickness"),
            self._moment(),
            self._plain("by", "the name"),
            self._whole("piece"),
            self._whole("recut_of"),
            self._whole("setup", "a set-up"),
            {one: text for one in PLACE if (text := self._plain(one, "the name"))},
            self._whole("after", "joints"),
        )
        for name in set(cut.settings) & set(cut.true):
            self._note(
                "the {setting} stands there twice",
                "leave one of the two columns out",
                setting=name.replace("_", " "),
            )
        if not self.problems and cut.verdict.empty and not cut.readings and not cut.note:
            self._note(
                "it says nothing of the piece",
                "say how it fits, such as {word}, or take the line out",
                word=self._speech.word_of(),
            )
        return (None if self.problems else cut), False

    def _text(self, key: str) -> str:
        return self._line.cells.get(key, "")

    def _try(self, read: Callable[[], T]) -> T | None:
        """Return what `read` gives; note what it refuses, and return None."""
        try:
            return read()
        except FitlogError as error:
            self.problems.append(Problem(self._line.number, error.message, error.hint))
            return None

    def _note(self, message: str, hint: str, /, **values: object) -> None:
        told = tell(message, **values), tell(hint, **values)
        self.problems.append(Problem(self._line.number, *told))

    def _whole(self, key: str, what: str = "a piece") -> int | None:
        text = self._text(key)
        return self._try(lambda: cells.whole(text, what)) if text else None

    def _plain(self, key: str, what: str) -> str:
        return self._try(lambda: clean_text(what, self._text(key))) or ""

    def _length(self, key: str) -> Length | None:
        text, column = self._text(key), self._sheet.columns[key]
        header = column.header.strip()[:40].casefold()
        what = tell("the {column}", column=header) if column.header.isprintable() else "the length"

        def read() -> Length:
            if self._points and cells.looks_like_thousands(text):
                raise NotUnderstood(
                    "bad-length",
                    "{what} {typed} may have its thousands set apart: other lines have a decimal "
                    "point",
                    "write it with a point, and thousands without a mark",
                    what=what,
                    typed=quoted(text),
                )
            return cells.length(text, column.unit, self._reader.units, what)

        return self._try(read)

    def _said(self, given: dict[str, Length]) -> tuple[Verdict, str]:
        """Return what all columns say together, and the words for it."""
        parts = [self._text("said"), self._text("faults")]
        heard, own = [part for part in parts if part], set()
        aspects, column = self._family.aspects, self._columns.size
        told = self._columns.word
        for aspect in aspects:
            word, size = self._text(told(aspect)), given.get(column(aspect))
            fits = partial(self._aspect, aspect, word)
            if word and self._try(fits) is not None:
                word = self._spoken(aspect, word)
                parts.append(word)
                own.add(aspect)
                heard.append(word if size is None else f"{word} {size.text}")
        spoken = ", ".join(part for part in parts if part)
        verdict = Verdict()
        if spoken:
            verdict = self._try(lambda: self._parsed(spoken)) or verdict
        beside = {aspect: bool(spoken and self._text(told(aspect))) for aspect in aspects}
        for aspect in sorted(aspects, key=lambda one: not beside[one]):  # its own word's size first
            known = (
                aspect in own and verdict.of(aspect)
                if beside[aspect]
                else aspect not in self._speech.read_beside
            )
            if column(aspect) in given and known:
                size = given[column(aspect)]
                read = partial(_sized, verdict, aspect, size, beside[aspect], self._speech)
                verdict = self._try(read) or Verdict()
        if not spoken:
            return verdict, ""
        return verdict, self._try(lambda: clean_text("what was said", ", ".join(heard))) or ""

    def _parsed(self, text: str) -> Verdict:
        return self._reader.verdict(text, self._speech)

    def _spoken(self, aspect: Aspect, word: str) -> str:
        """Return a cell as it is said: of a side alone, the gap there; of a word that is another
        aspect's, too, behind its aspect's name.
        """
        whose = self._speech.aspects_of, self._speech.said_of
        if any(whose[0](w)[:1] != (aspect,) and whose[1](aspect, w) for w in tokens(word)):
            return f"{aspect} {word}"
        side = re.match(r"\w+\b", word.casefold())
        at_side = side is not None and self._speech.sides.get(side[0]) == aspect
        return f"{GAP} {word}" if at_side else word

    def _aspect(self, aspect: Aspect, word: str) -> bool:
        """Refuse a cell that does not speak of the aspect of its column, or of another one, too."""
        verdict = self._parsed(self._spoken(aspect, word))
        others = [a for a in self._family.aspects if a != aspect and verdict.of(a) is not None]
        if verdict.of(aspect) is None or others or verdict.faults:
            raise none_of(word, aspect, self._speech)
        return True

    def _readings(self, given: dict[str, Length]) -> tuple[Reading, ...]:
        for aspect, kind in self._speech.read_beside.items():
            if self._columns.size(aspect) in given and not self._text(self._columns.word(aspect)):
                # a number without a word beside it is a reading
                given = {kind: given[self._columns.size(aspect)], **given}
        found = [
            self._try(partial(self._reading, given, kind))
            for kind in self._columns.kinds
            if any(key in given for key in self._columns.numbers(kind))
        ]
        return tuple(reading for reading in found if reading is not None)

    def _reading(self, given: dict[str, Length], kind: str) -> Reading:
        keys = self._columns.numbers(kind)
        missing = [key for key in keys if key not in given]
        if missing:
            there = next(key for key in keys if key not in missing)
            raise Refused(
                "bad-reading",
                "{there} comes without {missing}",
                "give both columns, or neither",
                there=there.replace("_", " "),
                missing=missing[0].replace("_", " "),
            )
        most = typed_of(self._family.name).READINGS[kind].most
        numbers = [_size(given[key], key, high) for key, high in zip(keys, most, strict=True)]
        return reading_of(kind, self._family.readings[kind], *numbers)

    def _moment(self) -> datetime | None:
        if not self._text("date"):
            if self._text("time"):
                self._note("it has a time and no date", "add a column with the date")
            return None

        def read() -> datetime:
            found = cells.moment(self._text("date"), self._text("time"), self._reader.order)
            if found > self._reader.now + timedelta(days=1):
                raise Refused(
                    "bad-date",
                    "the date {typed} is yet to come",
                    "check day, month and year",
                    typed=quoted(self._text("date")),
                )
            return found

        return self._try(read)


def _size(length: Length, key: str, most: float) -> float:
    why = Clause("{limit} ({most:g})", limit=limits.TEST_PIECE, most=Mm(most))
    what = tell("the {column}", column=key.replace("_", " "))
    return Limit(what, 0.0, most, why).check(length)


def _sized(verdict: Verdict, aspect: Aspect, size: Length, beside: bool, speech: Speech) -> Verdict:
    """Return a verdict with the size that another column has for an aspect; refuse a size without a
    word. beside: the word has a column too, so that a size in it is the one too many.
    """
    said, digits = verdict.of(aspect), cells.digits(size.mm)
    if said is not None and said.size is not None and beside:
        raise NotUnderstood(
            "stray-number",
            "{digits} has no word before it",
            "say the word, then its size",
            digits=quoted(digits),
        )
    if said is None or said.size is not None:
        raise NotUnderstood(
            "no-word",
            "the size {typed} of the {aspect} has no word with it"
            if said is None
            else "the size {typed} of the {aspect} is said twice",
            "say {answers} beside it",
            typed=quoted(size.text),
            aspect=aspect,
            answers=speech.answers(aspect),
        )
    return verdict.with_(sized(said, Length(size.mm, f"{digits} mm", "mm"), speech))
