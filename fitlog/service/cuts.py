"""Trial cuts in from a table, all lines in one transaction."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime

from ..domain import Machine, SetUp, TrialCut
from ..errors import NotUnderstood, Refused
from ..exchange.sheet import Problem
from ..families.wanted import Wanted
from ..language.units import Ruler, counted
from ..log import Log, Stamp
from ..log.transfer.lines import There, append, key_of, known_lines, started_for
from ..log.transfer.together import setup_numbers, together
from .asked import Drafted
from .bench import Workbench
from .cut_rows import Asked, Made, Rows, problem
from .reader.line import CutLine


@dataclass(frozen=True)
class CutsIn:
    """What an import of trial cuts did, or would do.

    setups: where they went, or would; 0 for one that would be started.  opened: one was started for
    them. cuts: what was logged, each with the line it came from and the machine of its set-up.
    known: lines that are in the log already, gone: of these, those taken back here; back: lines
    that were taken back there; problems: the lines that are wrong.
    """

    setups: tuple[int, ...]
    opened: bool
    cuts: tuple[tuple[int, TrialCut, Machine | None], ...]
    known: int
    gone: int
    back: int
    problems: tuple[Problem, ...]

    @property
    def setup(self) -> int | None:
        """The one set-up where they went, None for none or several."""
        return self.setups[0] if len(self.setups) == 1 and self.setups[0] else None


def bad_lines(done: CutsIn, file: str) -> Refused:
    """Return the refusal of a table with lines that cannot be logged."""
    return Refused(
        "bad-lines",
        "{lines} of {file!r} cannot be logged; nothing was",
        "correct them in the file, or say --skip-bad to log the others alone",
        lines=counted(len({one.line for one in done.problems}), "line"),
        file=file,
    )


def no_target() -> NotUnderstood:
    """Return the refusal of a table that is to go nowhere."""
    return NotUnderstood(
        "no-target",
        "a table does not say which set-up its cuts belong to",
        "say --setup N, or --bit NAME --stock NAME to start one for them",
    )


class _Then(Workbench):
    """A workbench of another day. key: what the start of a set-up is called in the log."""

    def __init__(self, log: Log, by: str, ruler: Ruler, at: datetime, key: str | None) -> None:
        super().__init__(log, by, ruler)
        self._at, self._key = at, key

    def stamp(self, machine: Machine | None) -> Stamp:
        return Stamp(self.by, self._at, machine.name if machine else None, self._key)


@dataclass
class _Target:
    """A set-up for some of the lines. starting: the workbench and the draft where it is yet to be
    started; made: what is to be logged in it.
    """

    setup: SetUp
    lines: Sequence[CutLine]
    starting: tuple[_Then, Drafted] | None = None
    there: dict[str, There] = field(default_factory=dict)
    made: list[Made] = field(default_factory=list)

    def require_open(self) -> None:
        """Refuse ("no-open-setup") a set-up that has ended, but a finished one takes joints of its
        real boards.
        """
        setup, joints = self.setup, all(one.cut.after is not None for one in self.made)
        ended = setup.outcome is not None and not (joints and setup.outcome == "finished")
        if setup.undone or ended:
            raise Refused(
                "no-open-setup",
                "set-up {number} is {how}",
                "name an open one with --setup, or start one for them with --bit and --stock",
                number=setup.number,
                how=setup.outcome or "undone",
            )

    def store(self, held: Log) -> int:
        """Log what was made, unless the set-up is another now; return its number."""
        number = self.setup.number
        if self.starting is not None:
            bench, drafted = self.starting
            bench.log = held
            number = bench.begin(drafted).setup.number
        append(held, number, [one.stored(number) for one in self.made], self.setup.newest)
        return number


def log_cuts(log: Log, by: str, ruler: Ruler, where: int | Wanted | None, asked: Asked) -> CutsIn:
    """Log the cuts of a table in set-up `where`, in one started for them, or (None) in those that
    its lines name: all or none. What they are is worked out before it is the turn to write.

    Nothing is logged in a dry run, or when a line is wrong and skip_bad was not said: the problems
    say why. Raises Refused: unknown-setup, no-open-setup, still-tuning; known-cuts without dates
    unless `again` was said; log-moved-on when somebody wrote to a set-up meanwhile.
    """
    problems = list(asked.problems)
    with log.at_one_moment():
        targets = _targets(log, by, ruler, where, asked, problems)
        for target in targets:
            if target.starting is None:
                target.there = known_lines(log, target.setup.number)
    known = gone = 0
    for target in targets:
        rows = Rows(target.setup, target.lines, target.there, asked, by, ruler)
        target.made = list(rows.made())
        problems += rows.problems
        known, gone = known + rows.known, gone + rows.gone
        if target.made:
            target.require_open()
    stopped = bool(problems) and not asked.skip_bad
    used = [t for t in targets if t.made] or [t for t in targets if t.starting is None]
    numbers = [t.setup.number for t in used]
    if any(t.made for t in used) and not stopped and not asked.dry_run:
        with together(log) as (held, _):
            numbers = [target.store(held) for target in used]
    return CutsIn(
        tuple(numbers),
        any(t.starting is not None for t in used),
        tuple((one.line, one.cut, t.setup.plan.machine) for t in used for one in t.made),
        known,
        gone,
        asked.back,
        tuple(sorted(problems, key=lambda p: p.line)),
    )


def _targets(
    log: Log,
    by: str,
    ruler: Ruler,
    where: int | Wanted | None,
    asked: Asked,
    problems: list[Problem],
) -> list[_Target]:
    """Return the set-ups to log to, each with its lines; note the lines that are of none."""
    if where is not None:
        setup, starting = _target(log, by, ruler, where, asked)
        return [_Target(setup, _of_one(asked.lines, problems), starting)]
    dealt: dict[int, list[CutLine]] = {}
    if asked.lines and not any(line.setup for line in asked.lines):
        raise no_target()
    for line in asked.lines:
        if line.setup is None:
            problems.append(problem(line, no_target()))
        else:
            dealt.setdefault(line.setup, []).append(line)
    found = []
    for number, lines_of_it in dealt.items():
        try:
            found.append(_Target(log.setup(number), lines_of_it))
        except Refused as error:
            problems += (problem(line, error) for line in lines_of_it)
    return found


def _of_one(those: Sequence[CutLine], problems: list[Problem]) -> list[CutLine]:
    """Return the lines of the set-up that is named first; note those of others: their pieces would
    be taken for those of one set-up.
    """
    first = next((line.setup for line in those if line.setup), None)
    kept = []
    for line in those:
        if line.setup in (None, first):
            kept.append(line)
            continue
        error = Refused(
            "other-setup",
            "it is of set-up {number}, lines before it are of set-up {first}",
            "import the lines of one set-up at a time",
            number=line.setup,
            first=first,
        )
        problems.append(problem(line, error))
    return kept


def _target(
    log: Log, by: str, ruler: Ruler, where: int | Wanted, asked: Asked
) -> tuple[SetUp, tuple[_Then, Drafted] | None]:
    """Return the set-up to log to, with how it is to be started where there is none yet."""
    if isinstance(where, int):
        return log.setup(where), None
    earliest = min((line.at for line in asked.lines if line.at is not None), default=None)
    names = (where.bit, where.stock, where.pin_stock, where.machine)
    key = key_of(
        where.joint, *(one and one.name for one in names), *(line.content() for line in asked.lines)
    )
    number, key = started_for(log, key)
    there = log.setup(number) if number is not None else _like(log, where, earliest)
    if there is not None and not asked.again:
        return there, None
    for open_one in log.open_setups(where.bit.name):
        raise Refused(
            "still-tuning",
            "set-up {number} is still open with the bit {bit!r}",
            "log them to it with --setup {number}, or end it with fitlog finish --setup {number}",
            number=open_one.number,
            bit=where.bit.name,
        )
    # One more of the same table, asked for by `again`, has no key: the first one keeps it.
    bench = _Then(log, by, ruler, earliest or datetime.now(UTC), None if number else key)
    drafted = bench.draft(where)
    return drafted.setup, (bench, drafted)


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
