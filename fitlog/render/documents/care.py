"""The JSON of `log where`, `health`, `backup`, `restore` and `migrate`."""

from __future__ import annotations

from pathlib import Path

from ...document import Document
from ...log.care.copies import Content
from ...log.care.restoring import Restored
from ...log.care.upkeep import Health, Whereabouts
from ...log.engine import Upgraded


def where(found: Whereabouts) -> Document:
    """Return where a log is, what it holds, and who wrote to it last."""
    return {
        "log": found.where,
        "kind": found.kind,
        "bytes": found.size,
        "layout": found.layout,
        "read_only": found.read_only,
        "rows": found.rows,
        "last": {"by": found.by, "at": found.at.isoformat()} if found.at else None,
    }


def health(log: str, found: Health) -> Document:
    """Return whether a log is sound, and what is wrong with it."""
    older, against = found.older, found.against
    return {
        "log": log,
        "sound": not found.faults,
        "faults": found.faults,
        "rows": found.rows,
        "rules_compared": found.compared,
        "granted_beyond": found.granted,
        "head": found.head,
        "older": older and {"entry": older[0], "at": older[1] and older[1].isoformat()},
        "against": against
        and {
            "gone_on": not against.faults,
            "entries_since": against.since,
            "catalogue_changed": against.changed,
        },
    }


def backup(file: Path, held: Content) -> Document:
    """Return where a backup is, and what it holds."""
    return {"backup": str(file), **_held(held)}


def restored(log: Path, done: Restored) -> Document:
    """Return where the log is that was put back, and where the one before it is kept."""
    kept = str(done.kept) if done.kept else None
    return {"log": str(log), "kept": kept, **_held(done.content)}


def migrated(done: Upgraded | None) -> Document:
    """Return from which layout to which a log was brought; null where nothing was to do."""
    if done is None:
        return {"from": None, "to": None, "backup": None}
    backup = str(done.backup) if done.backup else None
    return {"from": done.found, "to": done.now, "backup": backup}


def _held(content: Content) -> Document:
    rows = {name: count for name, count in content.rows if not name.startswith("sqlite_")}
    return {"layout": content.layout, "newest_entry": content.newest, "rows": rows}
