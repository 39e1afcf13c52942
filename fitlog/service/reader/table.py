"""What an import of a table of trial cuts was told, as typed, and the table's own lines."""

from __future__ import annotations

from dataclasses import astuple, dataclass, field
from datetime import UTC, datetime

from ...errors import NotUnderstood
from ...exchange.columns import Columns
from ...exchange.sheet import Sheet
from ...families.names import first_joint
from ...families.typed import speech_of
from ...families.wanted import Wanted
from ..again import Named
from ..cut_rows import Asked
from ..cuts import no_target
from ..session import Session
from .choices import joint_of
from .figures import read_figures
from .lengths import Reader
from .rows import Table, read_cuts


@dataclass(frozen=True, slots=True)
class TableTyped:
    """All that an import takes beside its file; None: not given. dates: "dmy" or "mdy"."""

    setup: int | None = None
    named: Named = field(default_factory=Named)
    pitch: str | None = None
    encoding: str | None = None
    dates: str | None = None
    again: bool = False
    skip_bad: bool = False
    yes: bool = False

    @property
    def anything(self) -> bool:
        """Whether anything of it was given."""
        rest = (self.setup, self.pitch, self.dates, self.again, self.skip_bad, self.yes)
        return any((*astuple(self.named), self.encoding, *rest))

    def check(self) -> None:
        """Refuse ("bad-choice") an order of dates that is not known."""
        if self.dates not in (None, "dmy", "mdy"):
            raise NotUnderstood(
                "bad-choice", "--dates cannot be {dates!r}", "say dmy or mdy", dates=self.dates
            )

    def target(self, session: Session) -> int | Wanted | None:
        """Return the set-up to log to, or what is to be started; None for the set-ups that the
        lines name.
        """
        if self.setup is not None:
            if any((*astuple(self.named), self.pitch)):
                raise NotUnderstood(
                    "usage",
                    "--setup names a set-up with its bit and boards",
                    "leave --bit and the others out",
                )
            return self.setup
        named = self.named
        if not any((*astuple(named), self.pitch)):
            return None
        if named.bit is None:
            raise no_target()
        bit, boards = session.bits.get(named.bit), session.boards(named.stock, named.pin_stock)
        machine, joint = session.machine(named.machine), joint_of(named.joint)
        texts = {} if self.pitch is None else {"pitch": self.pitch}
        figures, _ = read_figures(session.reader, joint, texts, bit, machine)
        return Wanted(bit, *boards, machine, joint, figures)


def columns_for(session: Session, where: int | Wanted | None) -> Columns:
    """Return what columns a table can have whose cuts go there."""
    if where is None:
        return Columns(speech_of(first_joint()))
    joint = where.joint if isinstance(where, Wanted) else session.log.setup(where).plan.joint
    return Columns(speech_of(joint))


def asked_of(
    reader: Reader, typed: TableTyped, sheet: Sheet, columns: Columns, dry_run: bool
) -> Asked:
    """Return the trial cuts of a table, what is wrong with its lines, and what is to be done with
    them.
    """
    how = Table(
        reader.units, own=reader.own, columns=columns, order=typed.dates, now=datetime.now(UTC)
    )
    lines, problems, back = read_cuts(sheet, how)
    return Asked(lines, problems, back, typed.again, typed.skip_bad, dry_run, typed.yes)
