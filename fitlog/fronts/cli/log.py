"""`fitlog log where|health|backup|restore`: looking after the log itself."""

from __future__ import annotations

from typing import Annotated

import typer

from ...errors import Refused
from .options import Db, Force, Json

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
    from ...render import care as view
    from ...render.documents import care as documents
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        found = care.where(session.log)
        if json:
            put_json(documents.where(found))
            return
        view.where(session.screen, found)


@log_app.command()
def health(
    against: Annotated[
        str | None,
        typer.Option(
            metavar="FILE|HEAD",
            help="A backup, an export, or the head that this told before: is it that one gone on?",
        ),
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Check the whole log: pages, rules and references by the database, every row by reading it
    back and by its digest.

    Nothing is changed. Exit code 1 when something is wrong. The head that it tells is short enough
    to be noted down: with --against it shows later what was changed or cut off since.

    \b
    Examples:
      fitlog log health
      fitlog log health --against stick/log.db.2031-03-04.backup
    """
    from ...log.care import upkeep as care
    from ...render import care as view
    from ...render.documents import care as documents
    from ...render.screen import Screen
    from ...service.against import earlier
    from ...service.session import opened
    from .session import default_log, put_json, say
    from .shell import put_refused

    where = db or default_log()
    # Nobody's units are asked for: a preference may be what is damaged.
    with opened(where, create=False) as (log, told), earlier(against) as compare:
        if told:
            say(told)
        found = care.health(log, compare)
        unsound = _unsound(log.where, len(found.faults)) if found.faults else None
        if json and unsound:
            put_refused(documents.health(log.where, found), unsound)
        if json:
            put_json(documents.health(log.where, found))
            return
        view.health(Screen(), found)
        if unsound:
            raise unsound


def _unsound(log: str, count: int) -> Refused:
    from ...log.care.upkeep import MOST_FAULTS

    return Refused(
        "unsound-log",
        "the log {log} is not sound: more than a hundred things are wrong"
        if count >= MOST_FAULTS
        else "the log {log} is not sound: {count} thing is wrong"
        if count == 1
        else "the log {log} is not sound: {count} things are wrong",
        "copy it as it is, then put a backup back: fitlog log restore FILE --replace",
        log=log,
        count=count,
    )


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
    from ...render import care as view
    from ...render.documents import care as documents
    from ...render.screen import Screen
    from .session import default_log, now, put_json

    file, held = care.backup(db or default_log(), to, now().astimezone().date(), replace=force)
    if json:
        put_json(documents.backup(file, held))
    else:
        view.backup(Screen(), file, held)


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

    Over a log only with --replace. What a killed command left beside a log (.fitlog-*.part) is
    cleared by the next one that writes there.

    \b
    Example:
      fitlog log restore log.db.2031-03-04.backup --replace
    """
    from ...log.care import upkeep as care
    from ...render import care as view
    from ...render.documents import care as documents
    from ...render.screen import Screen
    from .session import default_log, now, put_json

    log, done = care.restore(file, db or default_log(), now().astimezone().date(), replace=replace)
    if json:
        put_json(documents.restored(log, done))
    else:
        view.restored(Screen(), log, done)


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
    from ...render import care as view
    from ...render.documents import care as documents
    from ...render.screen import Screen
    from .session import default_log, now, put_json

    done = care.migrate(db or default_log(), now().astimezone().date(), agreed=yes)
    if json:
        put_json(documents.migrated(done))
    else:
        view.migrated(Screen(), done)
