"""`review` and `show`: past set-ups, and every entry about one."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import BitName, Db, Json, StockName, length

if TYPE_CHECKING:
    from ...service.reviewing import Reviewed
    from .session import Session


def review(
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="WORDS", help="In the title, a note, or a name of what was used."),
    ] = None,
    bit: BitName = None,
    stock: StockName = None,
    width: Annotated[str | None, length("Of the boards.")] = None,
    pitch: Annotated[str | None, length("Spacing of the cuts.")] = None,
    year: Annotated[
        int | None, typer.Option(metavar="YEAR", min=1, max=9999, help="That it was started in.")
    ] = None,
    last: Annotated[
        int, typer.Option("--last", metavar="N", min=1, help="How many of the newest.")
    ] = 50,
    every: Annotated[bool, typer.Option("--all", help="All of them, however many.")] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """List past set-ups, newest first, or find some: where they ended, in how many pieces, how far
    off the first guess was.

    \b
    Examples:
      fitlog review
      fitlog review upper drawers --year 2026
      fitlog review --bit half --width 140
      fitlog review --all --json
    """
    from ...service.reader.reviewed import sought
    from ...service.reviewing import review as look
    from .session import open_session

    with open_session(db, create=False) as session:
        wanted = sought(session, bit, stock, words or (), width, pitch, year)
        found = look(session.bench(), wanted, None if every else last)
        _listed(session, found, json=json)


def _listed(session: Session, found: Reviewed, *, json: bool) -> None:
    """Print set-ups that were found, or by what others could be."""
    from ...render.documents.setups import review_row
    from .session import put_json, say

    rows = [
        {**review_row(setup, status), "current": setup.number == found.current}
        for setup, status in found.rows
    ]
    if found.more:
        say(
            "Only the newest {count} are listed. All of them: fitlog review --all",
            count=len(rows),
        )
    if json:
        put_json({"setups": rows})
        return
    from ...render import review as screens
    from ...service.reviewing import what_there_is

    if rows:
        screens.review(session.screen, rows, session.ruler())
        return
    there = what_there_is(session.log)
    if there.setups:
        screens.nothing_found(session.screen, there, session.ruler())
    else:
        session.screen.line("No set-up yet. Begin with: fitlog start")


def show(
    number: Annotated[
        int | None,
        typer.Argument(metavar="[N]", help="Number of the set-up, if not the current one."),
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Show every trial cut of a set-up, with the advice that was given beside what was cut, and
    what is written down about it.

    \b
    Example:
      fitlog show 3
    """
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        told = session.bench().shown(number)
        if json:
            from ...render.documents.setups import shown_document

            put_json(shown_document(told))
            return
        from ...render.lists import history

        history(session.screen, told, session.ruler(told.setup.plan.machine))
