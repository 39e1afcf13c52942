"""`fitlog log where|health|backup|restore`: looking after the log itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from .options import Db, Force, Json

if TYPE_CHECKING:
    from ...log.care.copies import Content

log_app = typer.Typer(
    help="Look after the log: where it is, whether it is sound, backups.",
    no_args_is_help=True,
    rich_markup_mode=None,
)


@log_app.command()
def where(db: Db = None, json: Json = False) -> None:
    """Tell where the log is, what it holds, and who wrote to it last.

    \b
    Example:
      fitlog log where
    """
    from ...log.care import upkeep as care
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        found = care.where(session.log)
        last = {"by": found.by, "at": found.at.isoformat()} if found.at else None
        if json:
            put_json(
                {
                    "log": found.where,
                    "kind": found.kind,
                    "bytes": found.size,
                    "layout": found.layout,
                    "read_only": found.read_only,
                    "rows": found.rows,
                    "last": last,
                }
            )
            return
        line = session.screen.line
        line(f"Log: {found.where}")
        line(
            f"Size: {_size(found.size)}, layout "
            f"{found.layout}{', which you may only read' if found.read_only else ''}."
        )
        line(f"It holds {_counts(found.rows)}.")
        line(
            f"Last written by {found.by or 'somebody'} at {_moment(found.at)}."
            if found.at
            else "No set-up was started yet."
        )


@log_app.command()
def health(db: Db = None, json: Json = False) -> None:
    """Check the whole log: pages, rules and references by the database, and every row by reading it
    back.

    Nothing is changed. Exit code 1 when something is wrong.

    \b
    Example:
      fitlog log health
    """
    from ...errors import Refused
    from ...log.care import upkeep as care
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        found = care.health(session.log)
        if json:
            put_json(
                {
                    "log": session.log.where,
                    "sound": not found.faults,
                    "faults": found.faults,
                    "rows": found.rows,
                }
            )
            raise typer.Exit(1 if found.faults else 0)
        for fault in found.faults:
            session.screen.line(f"Wrong: {fault}", indent="  ")
        if found.faults:
            many = (
                "more than a hundred"
                if len(found.faults) >= care.MOST_FAULTS
                else str(len(found.faults))
            )
            said = (
                f"the log {session.log.where} is not sound: {many} "
                f"{'thing is' if many == '1' else 'things are'} wrong"
            )
            raise Refused(
                "unsound-log",
                said,
                "copy it as it is, then put a backup back: fitlog log restore FILE --replace",
            )
        session.screen.line(f"The log is sound: {_counts(found.rows)}, each read back.")


@log_app.command()
def backup(
    to: Annotated[
        str | None,
        typer.Argument(metavar="[FILE|FOLDER]", help="Where it goes, if not beside the log."),
    ] = None,
    force: Force = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Copy the log to a file of its own, while others may be logging, and read the copy back.

    It goes beside the log, with the day in its name, unless a file or a folder is named. A copy on
    another disk is the one that counts.

    \b
    Examples:
      fitlog log backup
      fitlog log backup stick/
    """
    from ...log.care import upkeep as care
    from .session import default_log, now, put_json

    file, held = care.backup(db or default_log(), to, now().astimezone().date(), replace=force)
    if json:
        put_json({"backup": str(file), **_held(held)})
        return
    _line(f"Backup: {file}")
    _line(f"It holds {_counts(dict(held.rows))}, each read back.")
    _line(f"To put it back: fitlog log restore {_quoted(file)}")


@log_app.command()
def restore(
    file: Annotated[str, typer.Argument(metavar="FILE", help="A backup.")],
    replace: Annotated[
        bool, typer.Option("--replace", help="Even where there is a log; it is kept beside.")
    ] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Put a backup in the place of the log, after reading it back; a log that was there is kept
    beside it.

    \b
    Example:
      fitlog log restore log.db.2031-03-04.backup --replace
    """
    from ...log.care import upkeep as care
    from .session import default_log, now, put_json

    log, done = care.restore(file, db or default_log(), now().astimezone().date(), replace=replace)
    if json:
        put_json(
            {"log": str(log), "kept": str(done.kept) if done.kept else None, **_held(done.content)}
        )
        return
    _line(f"Log: {log}")
    _line(f"It holds {_counts(dict(done.content.rows))} again.")
    if done.kept is not None:
        _line(f"The log that was there is kept in {done.kept}")


@log_app.command()
def migrate(
    yes: Annotated[
        bool, typer.Option("--yes", help="The server's log was backed up, and everybody knows.")
    ] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Bring a log of an older fitlog up to date.

    A file needs no asking: it is done by the first command that opens it, after a backup. A log
    that a server keeps is changed only by this command, because everybody who works on it then
    needs the same fitlog.

    \b
    Example:
      fitlog log migrate --yes --db postgresql+psycopg://box/shop
    """
    from ...log.care import upkeep as care
    from .session import default_log, now, put_json

    done = care.migrate(db or default_log(), now().astimezone().date(), agreed=yes)
    if json:
        backup = str(done.backup) if done and done.backup else None
        put_json(
            {"from": done.found, "to": done.now, "backup": backup}
            if done
            else {"from": None, "to": None, "backup": None}
        )
    elif done is None:
        _line("The log is up to date; nothing was changed.")
    else:
        kept = f"; as it was before it is in {done.backup}" if done.backup else ""
        _line(f"The log was brought from layout {done.found} to {done.now}{kept}.")


def _line(text: str) -> None:
    from ...render.screen import Screen

    Screen().line(text)


def _held(content: Content) -> dict[str, Any]:
    rows = {name: count for name, count in content.rows if not name.startswith("sqlite_")}
    return {"layout": content.layout, "newest_entry": content.newest, "rows": rows}


def _counts(rows: dict[str, int]) -> str:
    named = (
        ("setup", "set-up"),
        ("trial_cut", "trial cut"),
        ("bit", "bit"),
        ("stock", "stock"),
        ("machine", "machine"),
    )
    told = [f"{rows[table]:,} {what}{'' if rows[table] == 1 else 's'}" for table, what in named]
    return f"{', '.join(told[:-1])} and {told[-1]}"


def _size(found: int) -> str:
    return f"{found / 1e6:,.1f} MB" if found >= 1e6 else f"{found / 1e3:,.0f} kB"


def _moment(at: Any) -> str:
    return str(at.astimezone().strftime("%Y-%m-%d %H:%M"))


def _quoted(path: Path) -> str:
    import shlex

    return shlex.quote(str(path))
