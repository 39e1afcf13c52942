"""`fitlog prefer` and `fitlog words`: how you like lengths shown, your name, and how you use your
words.
"""

from __future__ import annotations

from typing import Annotated

import typer

from ...texts import tell
from .options import Db, Json, complete_machine


def prefer(
    units: Annotated[
        str | None,
        typer.Option(metavar="UNITS", help="mm, inch (decimal) or fraction (of an inch)."),
    ] = None,
    name: Annotated[
        str | None, typer.Option(metavar="TEXT", help="The name that your cuts are logged under.")
    ] = None,
    machine: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help='The machine you are at; "" for none.',
            autocompletion=complete_machine,
        ),
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Show or set how lengths are read and shown, your name, and the machine you are at.

    A number without a unit is in these units; 5/8 is inches and 16mm is millimetres whatever they
    are.

    With a machine of your own, `start` takes it and your commands work on the set-up last started
    or chosen there, whatever others do at theirs. FITLOG_MACHINE says it for one shell.

    \b
    Examples:
      fitlog prefer --units fraction --name Wren
      fitlog prefer --machine "left table"
    """
    from .session import open_session, put_json

    change = units is not None or name is not None or machine is not None
    with open_session(db, create=change) as session:
        if change:
            session.prefer(units, name, machine)
        found = session.preferences()
        if json:
            put_json(
                {
                    "units": found.units,
                    "name": found.name or session.login,
                    "machine": found.machine,
                }
            )
        else:
            at = tell(" Machine: {machine}.", machine=found.machine) if found.machine else ""
            session.screen.line(
                "Units: {units}. Name: {found}.{at}",
                units=found.units,
                found=found.name or session.login,
                at=at,
            )


def words(
    person: Annotated[
        str | None, typer.Option(metavar="NAME", help="Whose words, if not your own.")
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Show what your words stand for, how sure that is, and what is still assumed.

    A gap said with the word, now and then, is what teaches it.

    \b
    Examples:
      fitlog words
      fitlog words --person Wren
    """
    from ...render.documents.words import words_document
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        found = words_document(session.bench().words(person))
        if json:
            put_json(found)
            return
        from ...render.words import words as show_words

        show_words(session.screen, found, session.ruler())
