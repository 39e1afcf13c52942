"""Lines of a table to trial cuts of a set-up, each checked as `cut` would check it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import NamedTuple

from ..domain import Piece, Settings, SetUp, TrialCut, merge
from ..domain.setups import known
from ..domain.standing import on_test_piece
from ..errors import FitlogError, Refused
from ..exchange.sheet import Problem
from ..families.typed import typed_of
from ..language.units import Length, Ruler, counted, quoted
from ..log import Stamp
from ..log.transfer.lines import There, key_of
from . import limits
from .asked import Reported
from .possible import check_settings
from .reader.line import CutLine
from .slips import Place, cut_doubts

_SAME = 6  # decimals of a mm to which settings are the same
Mark = tuple[str, int]  # what a line says, and which of several such lines it is


@dataclass(frozen=True)
class Asked:
    """What an import is asked: lines of a table, what is wrong with the others, how many were taken
    back.

    again: log lines that look like cuts in the log already.  skip_bad: log the good lines all the
    same.  yes: take what no shop would mean as it stands there.
    """

    lines: Sequence[CutLine]
    problems: Sequence[Problem]
    back: int = 0
    again: bool = False
    skip_bad: bool = False
    dry_run: bool = False
    yes: bool = False


class Made(NamedTuple):
    """What is to be logged of a line. mark: by which it is known again, None for one that is logged
    once more.
    """

    line: int
    cut: TrialCut
    stamp: Stamp
    mark: Mark | None

    def stored(self, setup: int) -> tuple[TrialCut, Stamp]:
        """Return the cut and the stamp with its key in a set-up."""
        key = None if self.mark is None else key_of(setup, *self.mark)
        return self.cut, replace(self.stamp, key=key)


def problem(line: CutLine, error: FitlogError) -> Problem:
    """Return what is wrong with a line."""
    return Problem(line.line, error.message, error.hint)


class Rows:
    """Lines to trial cuts of a set-up, one after another: each starts from where the one before it
    ended.
    """

    def __init__(
        self,
        setup: SetUp,
        lines: Sequence[CutLine],
        there: Mapping[str, There],
        asked: Asked,
        by: str,
        ruler: Ruler,
    ) -> None:
        self._setup, self._asked, self._by, self._ruler = setup, asked, by, ruler
        self._lines, self._there = lines, there
        self.problems: list[Problem] = []
        self.known = self.gone = self._alike = 0
        self._dated = any(line.at is not None for line in asked.lines)
        cuts = [cut for cut in setup.cuts if not cut.slot]
        self._here = Counter(_key(cut, self._dated) for cut in cuts)
        self._pieces = {_key(cut, self._dated): cut.piece for cut in cuts}
        self._live = {cut.piece for cut in cuts}
        last = setup.last_piece()
        self._numbers: dict[int, int] = {}  # of the table's pieces, in the log
        self._piece, self._most = 0, last.number if last else 0
        self._settings, self._before = self._left(last) if last else setup.shown, last

    def made(self) -> Iterator[Made]:
        """Yield what is to be logged; note what is wrong with a line."""
        before: int | None = None
        times: Counter[str] = Counter()
        for line in self._lines:
            new = line.piece is None or line.piece != before
            before = line.piece
            try:
                self._require_place(line)
                cut = self._cut(line, new)
            except FitlogError as error:
                self.problems.append(problem(line, error))
                continue
            (self._before,) = merge((cut,))
            self._settings = self._left(self._before)
            content = line.content()
            times[content] += 1
            mark = None if self._asked.again else (content, times[content])
            here = self._is_here(cut, mark)
            if not here and not new and self._piece not in self._live:
                new = True  # the rest of its piece was taken back here
            if new and not here:
                self._most = self._piece = self._most + 1
                self._live.add(self._piece)
            if line.piece is not None:
                self._numbers[line.piece] = self._piece
            if not here:
                yield Made(line.line, replace(cut, piece=self._piece), self._stamp(line), mark)
        self._refuse_alike()

    def _left(self, piece: Piece) -> Settings:
        """What a piece leaves set for the next test piece."""
        return on_test_piece(self._setup.plan, piece).settings if piece.check else piece.settings

    def _require_place(self, line: CutLine) -> None:
        """Refuse a line that names another bit, board or machine than its set-up has."""
        plan = self._setup.plan
        ours = {
            "bit": plan.bit.name,
            "stock": plan.stock.name,
            "pin_stock": plan.pin_stock.name,
            "machine": plan.machine.name if plan.machine else "none",
        }
        for what, named in line.place.items():
            if _same_name(named, ours[what]):
                continue
            number = self._setup.number
            raise Refused(
                "other-setup",
                "its {what} is {named}, that of set-up {number} is {ours}"
                if number
                else "its {what} is {named}, that of the new set-up {ours}",
                "import it to a set-up of its own, or correct the cell",
                what=what.replace("_", " "),
                named=quoted(named),
                ours=quoted(ours[what]),
                number=number,
            )

    def _cut(self, line: CutLine, new: bool) -> TrialCut:
        """Return a line as a trial cut; raises Refused for what cannot have been cut."""
        plan = self._setup.plan
        changed: dict[str, float] = {}
        typed = typed_of(plan.joint)
        for given, machine in ((line.settings, plan.machine), (line.true, None)):
            for name, length in given.items():
                zero = machine.zero(plan.family.part_of[name]) if machine else 0.0
                changed[name] = typed.setting(plan.bit, name).moved(zero).check(length) - zero
        now = self._settings if new or self._before is None else self._before.settings
        settings = now.changed(**changed)
        if not new and not _same(settings, now):
            hint = "give it a piece number of its own"
            raise Refused(
                "settings-on-same-piece", "a piece keeps the settings it was cut at", hint
            )
        width = _optional(line.scrap_width, limits.SCRAP_WIDTH)
        thick = limits.scrap_thickness(typed.least_thickness(plan), limits.SCRAP_WIDTH.why)
        thickness = _optional(line.scrap_thickness, thick)
        sizes = known(width=width, thickness=thickness)
        if not self._asked.yes:
            self._refuse_doubtful(
                Reported(
                    line.verdict,
                    line.heard,
                    line.readings,
                    changed,
                    not new,
                    sizes=sizes,
                )
            )
        check_settings(plan, settings, changed, sizes)
        return TrialCut(
            0,
            1,
            settings,
            line.verdict,
            line.readings,
            tuple(sorted(changed)),
            None,
            line.heard,
            line.note,
            line.scrap or (plan.stock.name if line.after and plan.scrap else ""),
            sizes,
            at=line.at,
            end=None if line.recut_of is None else self._end(line.recut_of),
            after=line.after,
        )

    def _end(self, piece: int) -> int:
        """Return the number here of a piece of the table whose end was cut again."""
        if piece not in self._numbers:
            raise Refused(
                "no-piece",
                "piece {piece}, whose end was cut again, does not stand before it",
                "name an earlier line's piece, or leave the cell empty",
                piece=piece,
            )
        return self._numbers[piece]

    def _refuse_doubtful(self, told: Reported) -> None:
        """Refuse what no shop would mean: a table has nobody to ask."""
        source = "advised" if self._before is None else "of the piece before"
        for doubt in cut_doubts(
            Place(self._setup.plan, self._settings, self._before, self._ruler, source=source), told
        ):
            raise doubt.refusal

    def _is_here(self, cut: TrialCut, mark: Mark | None) -> bool:
        """Tell whether a line is in the log already, by its key or by what it says."""
        key = _key(cut, self._dated)
        said = self._here[key] > 0
        found = self._there.get(key_of(self._setup.number, *mark)) if mark else None
        if found is None and not said:
            return False
        if said and (found is None or found.stands):
            self._here[key] -= 1
        self._piece = found.piece if found else self._pieces[key]
        self.known += 1
        self.gone += found is not None and not found.stands
        self._alike += found is None
        return not self._asked.again

    def _refuse_alike(self) -> None:
        """Refuse lines that may be in the log already where neither a date nor a key can tell."""
        if self._alike and not self._dated and not self._asked.again:
            raise Refused(
                "known-cuts",
                "{lines} of the table look like cuts that set-up {number} has already",
                "say --again to log all lines all the same, or add a date column, by which they "
                "are told apart",
                lines=counted(self._alike, "line"),
                number=self._setup.number,
            )

    def _stamp(self, line: CutLine) -> Stamp:
        machine = self._setup.plan.machine
        return Stamp(
            line.by or self._by, line.at or datetime.now(UTC), machine.name if machine else None
        )


def _optional(length: Length | None, limit: limits.Limit) -> float | None:
    return None if length is None else limit.check(length)


def _same(one: Settings, other: Settings) -> bool:
    return all(round(one[name] - other[name], _SAME) == 0 for name in one)


def _key(cut: TrialCut, dated: bool) -> tuple[object, ...]:
    """Return what makes a cut the same as another: its settings and what was seen, with its moment
    where there is one.
    """
    at = cut.settings
    settings = tuple(round(length, _SAME) for length in at.lengths)
    said = cut.verdict, cut.readings, cut.note, cut.scrap, cut.after
    return cut.at if dated else None, settings, *said


def _same_name(one: str, other: str) -> bool:
    return " ".join(one.split()).casefold() == " ".join(other.split()).casefold()
