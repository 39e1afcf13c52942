"""Trial cuts in from a table, all lines in one transaction."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from ..domain import Machine, Settings, SetUp, TrialCut, merge
from ..domain.setups import known
from ..errors import FitlogError, Refused
from ..exchange.sheet import Problem
from ..families.typed import typed_of
from ..families.wanted import Wanted
from ..language.units import Length, Ruler, counted
from ..log import Log, Stamp
from ..log.transfer.together import Undo, setup_numbers, together
from . import limits
from .asked import Reported
from .bench import Workbench
from .possible import check_settings
from .reader.rows import CutLine
from .slips import Place, cut_doubts

_SAME = 6  # decimals of a mm to which settings are the same


@dataclass(frozen=True)
class CutsIn:
    """What an import of trial cuts did, or would do.

    setup: where they went, None when they went nowhere; at its machine.  opened: it was started for
    them. cuts: what was logged, each with the line it came from.  known: lines that are in the log
    already; back: lines that were taken back; problems: the lines that are wrong.
    """

    setup: int | None
    machine: Machine | None
    opened: bool
    cuts: tuple[tuple[int, TrialCut], ...]
    known: int
    back: int
    problems: tuple[Problem, ...]


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


def bad_lines(done: CutsIn, file: str) -> Refused:
    """Return the refusal of a table with lines that cannot be logged."""
    count = len({problem.line for problem in done.problems})
    hint = "correct them in the file, or say --skip-bad to log the others alone"
    said = f"{counted(count, 'line')} of {file!r} cannot be logged; nothing was"
    return Refused("bad-lines", said, hint)


class _Then(Workbench):
    """A workbench of another day."""

    def __init__(self, log: Log, by: str, ruler: Ruler, at: datetime) -> None:
        super().__init__(log, by, ruler)
        self._at = at

    def stamp(self, machine: Machine | None) -> Stamp:
        return Stamp(self.by, self._at, machine.name if machine else None)


def log_cuts(log: Log, by: str, ruler: Ruler, where: int | Wanted, asked: Asked) -> CutsIn:
    """Log the cuts of a table in set-up `where`, or in one started for them, all or none.

    Nothing is logged in a dry run, or when a line is wrong and skip_bad was not said: the problems
    say why. Raises Refused: unknown-setup, no-open-setup, still-tuning; known-cuts without dates
    unless `again` was said.
    """
    result: CutsIn | None = None
    with together(log) as (held, _):
        setup, opened = _target(held, by, ruler, where, asked)
        rows = _Rows(setup, asked, by, ruler)
        made = list(rows.made())
        problems = tuple(sorted((*asked.problems, *rows.problems), key=lambda p: p.line))
        stopped = bool(problems) and not asked.skip_bad
        for _, cut, stamp, new in () if stopped else made:
            held.record(setup.number, cut, stamp, new_piece=new)
        nothing = not made and opened
        kept = None if (opened and asked.dry_run) or nothing else setup.number
        cuts = tuple((line, cut) for line, cut, _, _ in made)
        result = CutsIn(
            kept, setup.plan.machine, opened and not nothing, cuts, rows.known, asked.back, problems
        )
        if stopped or asked.dry_run or nothing:
            raise Undo
    assert result is not None
    return result


def _target(
    log: Log, by: str, ruler: Ruler, where: int | Wanted, asked: Asked
) -> tuple[SetUp, bool]:
    """Return the set-up to log to, and whether it was started for that."""
    if isinstance(where, int):
        setup = log.setup(where)
        if setup.undone or setup.outcome is not None:
            hint = "name an open one with --setup, or start one for them with --bit and --stock"
            raise Refused("no-open-setup", f"set-up {where} is {setup.outcome or 'undone'}", hint)
        return setup, False
    earliest = min((line.at for line in asked.lines if line.at is not None), default=None)
    known = _like(log, where, earliest)
    if known is not None and not asked.again:
        return known, False
    for open_one in log.open_setups(where.bit.name):
        hint = (
            f"log them to it with --setup {open_one.number}, or end it with fitlog finish "
            f"--setup {open_one.number}"
        )
        raise Refused(
            "still-tuning",
            f"set-up {open_one.number} is still open with the bit {where.bit.name!r}",
            hint,
        )
    answer = _Then(log, by, ruler, earliest or datetime.now(UTC)).start(where)
    return answer.setup, True


def _like(log: Log, wanted: Wanted, earliest: datetime | None) -> SetUp | None:
    """Return the set-up that an earlier import of the same table started, known by its date; None
    without one.
    """
    if earliest is None:
        return None
    then = (
        log.setup(n)
        for n in setup_numbers(
            log, bit=wanted.bit.name, stock=wanted.stock.name, joint=wanted.joint, at=earliest
        )
    )
    return next(
        (s for s in then if s.plan.pin_stock.name == wanted.pin_stock.name and s.cuts), None
    )


class _Rows:
    """Lines to trial cuts of a set-up, one after another: each starts from where the one before it
    ended.
    """

    def __init__(self, setup: SetUp, asked: Asked, by: str, ruler: Ruler) -> None:
        self._setup, self._asked, self._by, self._ruler = setup, asked, by, ruler
        self.problems: list[Problem] = []
        self.known = 0
        self._dated = any(line.at is not None for line in asked.lines)
        cuts = [cut for cut in setup.cuts if not cut.slot]
        self._here = Counter(_key(cut, self._dated) for cut in cuts)
        self._pieces = {_key(cut, self._dated): cut.piece for cut in cuts}
        last = setup.last_piece()
        self._numbers: dict[int, int] = {}  # of the table's pieces, in the log
        self._piece, self._most = 0, last.number if last else 0
        self._settings, self._before = last.settings if last else setup.shown, last

    def made(self) -> Iterator[tuple[int, TrialCut, Stamp, bool]]:
        """Yield line, cut and stamp of what is to be logged, and whether it is a new piece; note
        what is wrong with a line.
        """
        before: int | None = None
        for line in self._asked.lines:
            new = line.piece is None or line.piece != before
            before = line.piece
            try:
                cut = self._cut(line, new)
            except FitlogError as error:
                self.problems.append(Problem(line.line, error.message, error.hint))
                continue
            self._settings, self._before = cut.settings, merge((cut,))[0]
            here = self._is_here(cut)
            if new and not here:
                self._most = self._piece = self._most + 1
            if line.piece is not None:
                self._numbers[line.piece] = self._piece
            if not here:
                yield line.line, replace(cut, piece=self._piece), self._stamp(line), new
        self._refuse_known()

    def _cut(self, line: CutLine, new: bool) -> TrialCut:
        """Return a line as a trial cut; raises Refused for what cannot have been cut."""
        plan = self._setup.plan
        changed: dict[str, float] = {}
        typed = typed_of(plan.joint)
        for given, machine in ((line.settings, plan.machine), (line.true, None)):
            for name, length in given.items():
                zero = machine.zero(plan.family.part_of[name]) if machine else 0.0
                changed[name] = typed.setting(plan.bit, name).moved(zero).check(length) - zero
        settings = self._settings.changed(**changed)
        if not new and not _same(settings, self._settings):
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
            line.scrap,
            sizes,
            at=line.at,
            end=None if line.recut_of is None else self._end(line.recut_of),
        )

    def _end(self, piece: int) -> int:
        """Return the number here of a piece of the table whose end was cut again."""
        if piece not in self._numbers:
            said = f"piece {piece}, whose end was cut again, does not stand before it"
            raise Refused("no-piece", said, "name an earlier line's piece, or leave the cell empty")
        return self._numbers[piece]

    def _refuse_doubtful(self, told: Reported) -> None:
        """Refuse what no shop would mean: a table has nobody to ask."""
        source = "advised" if self._before is None else "of the piece before"
        for doubt in cut_doubts(
            Place(self._setup.plan, self._settings, self._before, self._ruler, source=source), told
        ):
            raise doubt.refusal

    def _is_here(self, cut: TrialCut) -> bool:
        key = _key(cut, self._dated)
        if self._here[key] < 1:
            return False
        self._here[key] -= 1
        self.known += 1
        self._piece = self._pieces[key]
        return not self._asked.again

    def _refuse_known(self) -> None:
        """Refuse lines that may be in the log already where no date can tell."""
        if self.known and not self._dated and not self._asked.again:
            said = (
                f"{counted(self.known, 'line')} of the table look like cuts that set-up "
                f"{self._setup.number} has already"
            )
            hint = "say --again to log all lines all the same, or add a date column"
            raise Refused("known-cuts", said, f"{hint}, by which they are told apart")

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
    return cut.at if dated else None, settings, cut.verdict, cut.readings, cut.note, cut.scrap
