"""`fitlog prefer` and `fitlog words`: how you like lengths shown, your name, and how you use your
words.
"""

from __future__ import annotations

from typing import Annotated

import typer

from ...texts import AsTyped, tell
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


words_app = typer.Typer(rich_markup_mode=None)


@words_app.callback(invoke_without_command=True)
def words(
    ctx: typer.Context,
    person: Annotated[
        str | None, typer.Option(metavar="NAME", help="Whose words, if not your own.")
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Show what your words stand for, how sure that is, what is assumed, and your own phrases.

    Words alone teach where your good settings lie; where one word ends and the next begins is
    learnt where a word meets a number: a gap said with it, now and then. From eight such meetings
    on your own good is aimed at. A phrase of your own is understood
    wherever you say what a joint is like, once you have said which word it stands for.

    \b
    Examples:
      fitlog words
      fitlog words --person Wren
      fitlog words add "like butter" = good
    """
    from ...render.documents.words import words_document
    from .session import open_session, put_json

    if ctx.invoked_subcommand is not None:
        return
    with open_session(db, create=False) as session:
        told = session.bench().words(person)
        found = words_document(
            told, session.preferences().words if told.person == session.by else {}
        )
        if json:
            put_json(found)
            return
        from ...render.words import words as show_words

        show_words(session.screen, found, session.ruler())


@words_app.command("add")
def words_add(
    phrase: Annotated[
        list[str], typer.Argument(metavar="PHRASE = MEANING", help="What you say, what it means.")
    ],
    db: Db = None,
    json: Json = False,
) -> None:
    """Let a phrase of your own stand for one of the words that fitlog knows.

    It is refused where it means something else already; what is asked about may be settled so.

    \b
    Examples:
      fitlog words add "like butter" = good
      fitlog words add snug = slightly tight
    """
    from .session import open_session, put_json

    with open_session(db, create=True) as session:
        said, meaning = session.add_word(" ".join(phrase))
        if json:
            put_json({"phrase": said, "meaning": meaning})
        else:
            session.screen.line(
                '"{phrase}" now means {meaning}.', phrase=AsTyped(said), meaning=AsTyped(meaning)
            )


@words_app.command("remove")
def words_remove(
    phrase: Annotated[list[str], typer.Argument(metavar="PHRASE", help="One of your own.")],
    db: Db = None,
    json: Json = False,
) -> None:
    """Take back a phrase of your own; what was logged with it stays.

    \b
    Example:
      fitlog words remove "like butter"
    """
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        said = session.remove_word(" ".join(phrase))
        if json:
            put_json({"phrase": said, "meaning": None})
        else:
            session.screen.line('"{phrase}" is taken back.', phrase=AsTyped(said))
