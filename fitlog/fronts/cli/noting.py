"""`note` and `outcome`: what is written down about a set-up, and what became of the work."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from .options import Db, Json, Kept, Key, SetupNumber, Title, complete_outcome

if TYPE_CHECKING:
    from .session import Session


def note(
    text: Annotated[
        list[str] | None, typer.Argument(metavar="TEXT", help="What is to be remembered.")
    ] = None,
    title: Title = None,
    kept: Kept = None,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Write something down about the set-up, or show what is; undo takes it back.

    \b
    Examples:
      fitlog note the left board is a little cupped
      fitlog note --title "chest, upper drawers" --kept "top shelf"
      fitlog note --setup 3
    """
    from ...render import written
    from ...render.documents.setups import written_document
    from ...service.noting import NotesTyped
    from ...service.noting import note as log_note
    from .session import open_session, put_json

    notes = NotesTyped(title, " ".join(text) if text else None, kept).notes()
    with open_session(db, create=False) as session:
        again = session.given_again(key, "note")
        found, bench = session.at(setup if again is None else again)
        new = notes if again is None else ()
        told = log_note(bench, found, new) if new else found
        if json:
            put_json(written_document(told))
        elif new:
            written.logged(session.screen, told, new)
        else:
            written.page(session.screen, told)


def outcome(
    words: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="N WORDS",
            help="Number of the set-up, if not the current one, and what became of it.",
            autocompletion=complete_outcome,
        ),
    ] = None,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Say what became of a finished set-up's joints, or list what is known; the next start in that
    wood tells it.

    Which way it was off, and whether with glue or after a season, is understood; anything else is
    kept as you said it. Nothing is moved for it unasked.

    \b
    Examples:
      fitlog outcome 3 tight with glue
      fitlog outcome 3 loose after a winter
      fitlog outcome
    """
    from .session import open_session

    said = list(words or ())
    number = setup if setup is not None or not said or not said[0].isdecimal() else int(said.pop(0))
    with open_session(db, create=False) as session:
        again = session.given_again(key, "note")
        if again is not None:
            number, said = again, []
        if said:
            _keep(session, number, " ".join(said), json=json)
        else:
            _list(session, number, json=json)


def _keep(session: Session, number: int | None, text: str, *, json: bool) -> None:
    """Log what became of a set-up, and say what is understood of it."""
    from ...render.documents.setups import written_document
    from ...render.written import became
    from ...service.noting import outcome as log_outcome
    from .session import put_json

    found, bench = session.at(number)
    told = log_outcome(bench, found, text)
    if json:
        put_json(written_document(told))
    else:
        became(session.screen, told)


def _list(session: Session, number: int | None, *, json: bool) -> None:
    """Print what became of a set-up, or of all of which that is known."""
    from ...render.documents.setups import written_document
    from ...render.written import outcomes
    from ...service.noting import with_outcomes
    from .session import put_json

    setups = with_outcomes(session.bench())
    if number is not None:
        wanted = session.log.setup(number).number
        setups = [found for found in setups if found.number == wanted]
    if json:
        put_json({"setups": [written_document(setup) for setup in setups]})
    else:
        outcomes(session.screen, setups)
