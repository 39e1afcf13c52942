"""What the care commands of the log tell."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from ..log.care.comparing import Against
from ..log.care.copies import Content
from ..log.care.restoring import Restored
from ..log.care.upkeep import Health, Whereabouts
from ..log.engine import Upgraded
from .screen import Screen

_NAMED = (
    ("setup", "set-up"),
    ("trial_cut", "trial cut"),
    ("bit", "bit"),
    ("stock", "stock"),
    ("machine", "machine"),
)


def where(screen: Screen, found: Whereabouts) -> None:
    """Print where a log is, what it holds, and who wrote to it last."""
    screen.line(f"Log: {found.where}")
    read_only = ", which you may only read" if found.read_only else ""
    screen.line(f"Size: {_size(found.size)}, layout {found.layout}{read_only}.")
    screen.line(f"It holds {_counts(found.rows)}.")
    screen.line(
        f"Last written by {found.by or 'somebody'} at {_moment(found.at)}."
        if found.at
        else "No set-up was started yet."
    )


def health(screen: Screen, found: Health) -> None:
    """Print what is wrong with a log, or that it is sound."""
    for fault in found.faults:
        screen.line(f"Wrong: {fault}", indent="  ")
    if not found.faults:
        screen.line(f"The log is sound: {_counts(found.rows)}, each read back.")
    if not found.compared:
        screen.line(
            "Its rules were not compared with those of a new log: only who may make a schema in the"
            " database can."
        )
    if found.older is not None:
        number, at = found.older
        screen.line(
            f"Up to entry {number} of {_moment(at)} its digests were made when it was brought up:"
            " before that nobody vouches."
        )
    if found.against is not None:
        _against(screen, found.against)
    screen.line(f"Head: {found.head}")
    screen.line("Noted down, it shows later what was changed: fitlog log health --against HEAD")


def _against(screen: Screen, found: Against) -> None:
    if not found.faults:
        more = "1 entry" if found.since == 1 else f"{found.since:,} entries"
        screen.line(f"It is that one gone on: {more} came after.")
    if found.changed:
        screen.line(f"Other in its catalogue than there: {', '.join(found.changed)}.")


def backup(screen: Screen, file: Path, held: Content) -> None:
    """Print where a backup is, what it holds, and how it is put back."""
    screen.line(f"Backup: {file}")
    screen.line(f"It holds {_counts(dict(held.rows))}, each read back.")
    screen.line(f"To put it back: fitlog log restore {shlex.quote(str(file))}")


def restored(screen: Screen, log: Path, done: Restored) -> None:
    """Print where the log is that was put back, and where the one before it is kept."""
    screen.line(f"Log: {log}")
    screen.line(f"It holds {_counts(dict(done.content.rows))} again.")
    if done.kept is not None:
        screen.line(f"The log that was there is kept in {done.kept}")


def migrated(screen: Screen, done: Upgraded | None) -> None:
    """Print from which layout to which a log was brought."""
    if done is None:
        screen.line("The log is up to date; nothing was changed.")
        return
    kept = f"; as it was before it is in {done.backup}" if done.backup else ""
    screen.line(f"The log was brought from layout {done.found} to {done.now}{kept}.")


def _counts(rows: Mapping[str, int]) -> str:
    told = [f"{rows[table]:,} {what}{'' if rows[table] == 1 else 's'}" for table, what in _NAMED]
    return f"{', '.join(told[:-1])} and {told[-1]}"


def _size(found: int) -> str:
    return f"{found / 1e6:,.1f} MB" if found >= 1e6 else f"{found / 1e3:,.0f} kB"


def _moment(at: datetime) -> str:
    return str(at.astimezone().strftime("%Y-%m-%d %H:%M"))
