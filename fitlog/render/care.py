"""What the care commands of the log tell."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from pathlib import Path

from ..language.numbers import together
from ..language.units import counted
from ..log.care.comparing import Against
from ..log.care.copies import Content
from ..log.care.restoring import Restored
from ..log.care.upkeep import Health, Whereabouts
from ..log.engine import Upgraded
from ..texts import tell
from .local import minute
from .screen import Screen

_NAMED = (
    ("setup", "set-up", ""),
    ("trial_cut", "entry about a piece", "entries about pieces"),
    ("bit", "bit", ""),
    ("stock", "stock", ""),
    ("machine", "machine", ""),
)


def where(screen: Screen, found: Whereabouts) -> None:
    """Print where a log is, what it holds, and who wrote to it last."""
    screen.line("Log: {where}", where=found.where)
    read_only = tell(", which you may only read") if found.read_only else ""
    screen.line(
        "Size: {size}, layout {layout}{read_only}.",
        size=_size(found.size),
        layout=found.layout,
        read_only=read_only,
    )
    screen.line("It holds {counts}.", counts=_counts(found.rows))
    if found.at:
        by, at = found.by or tell("somebody"), minute(found.at)
        screen.line("Last written by {by} at {at}.", by=by, at=at)
    else:
        screen.line("No set-up was started yet.")


def health(screen: Screen, found: Health) -> None:
    """Print what is wrong with a log, or that it is sound."""
    for fault in found.faults:
        screen.line("Wrong: {fault}", indent="  ", fault=fault)
    if not found.faults:
        screen.line("The log is sound: {counts}, each read back.", counts=_counts(found.rows))
    for beyond in found.granted:
        screen.line("Beware: {beyond}.", beyond=beyond)
    if not found.compared:
        screen.line(
            "Its rules were not compared with those of a new log: only who may make a schema in the"
            " database can."
        )
    if found.older is not None:
        number, at = found.older
        screen.line(
            "Up to entry {number} of {at} its digests were made when it was brought up: before that"
            " nobody vouches.",
            number=number,
            at=minute(at) if at else "-",
        )
    if found.against is not None:
        _against(screen, found.against)
    screen.line("Head: {head}", head=found.head)
    screen.line("Noted down, it shows later what was changed: fitlog log health --against HEAD")


def _against(screen: Screen, found: Against) -> None:
    if not found.faults:
        more = counted(found.since, "entry", "entries")
        screen.line("It is that one gone on: {more} came after.", more=more)
    if found.changed:
        screen.line("Other in its catalogue than there: {names}.", names=", ".join(found.changed))


def backup(screen: Screen, file: Path, held: Content) -> None:
    """Print where a backup is, what it holds, and how it is put back."""
    screen.line("Backup: {file}", file=file)
    screen.line("It holds {counts}, each read back.", counts=_counts(dict(held.rows)))
    screen.line("To put it back: fitlog log restore {file}", file=shlex.quote(str(file)))


def restored(screen: Screen, log: Path, done: Restored) -> None:
    """Print where the log is that was put back, and where the one before it is kept."""
    screen.line("Log: {log}", log=log)
    screen.line("It holds {counts} again.", counts=_counts(dict(done.content.rows)))
    if done.kept is not None:
        screen.line("The log that was there is kept in {kept}", kept=done.kept)


def migrated(screen: Screen, done: Upgraded | None) -> None:
    """Print from which layout to which a log was brought."""
    if done is None:
        screen.line("The log is up to date; nothing was changed.")
        return
    kept = tell("; as it was before it is in {backup}", backup=done.backup) if done.backup else ""
    screen.line(
        "The log was brought from layout {found} to {now}{kept}.",
        found=done.found,
        now=done.now,
        kept=kept,
    )


def _counts(rows: Mapping[str, int]) -> str:
    return together([counted(f"{rows[table]:,}", *what) for table, *what in _NAMED])


def _size(found: int) -> str:
    return (
        tell("{found:,.1f} MB", found=found / 1e6)
        if found >= 1e6
        else tell("{found:,.0f} kB", found=found / 1e3)
    )
