"""One command of one person: the log it works on, and where its answer goes."""

from __future__ import annotations

import getpass
import json
import logging
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from functools import cached_property
from pathlib import Path

import typer

from ...document import Document
from ...render.screen import Screen
from ...service import Answer
from ...service import session as service
from ...service.reader.lengths import Asks
from ...texts import tell

logging.getLogger("sqlalchemy").setLevel(
    logging.CRITICAL + 1
)  # its alarms are told as sentences, or not at all


class Session(service.Session):
    """One command of one person at one log, and the screen it is answered on."""

    @cached_property
    def screen(self) -> Screen:
        """Where the answer goes."""
        return Screen()


@contextmanager
def open_session(db: str | None, *, create: bool, asks: Asks | None = None) -> Iterator[Session]:
    """Open the log for one command and close it after. asks: how the user is asked what was meant,
    None where that is not to be.
    """
    person = login()
    with service.opened(db or default_log(), create=create, login=person) as (log, told):
        if told:
            say(told)
        session = Session(log, person, os.environ.get("FITLOG_MACHINE"), asks)
        yield session
        for damage in session.unreadable.values():
            say(
                "fitlog: {told}; it counts as not said. {hint}",
                told=damage.message,
                hint=damage.hint,
            )


def default_log() -> str:
    """Return where the log lives when nobody says: FITLOG_DB, or the user's application folder."""
    return os.environ.get("FITLOG_DB") or str(Path(typer.get_app_dir("fitlog")) / "log.db")


def login() -> str:
    """Return the login name, or "unknown" where there is none; bytes that are no text as their
    escapes.
    """
    try:
        return getpass.getuser().encode("utf-8", "backslashreplace").decode()
    except (KeyError, OSError, ImportError):
        return "unknown"


def now() -> datetime:
    """Return the time in UTC."""
    return datetime.now(UTC)


def put_json(document: Document) -> None:
    """Print one JSON document; what no terminal should get raw comes as an escape of JSON's own."""
    text = json.dumps(document, ensure_ascii=False)
    print("".join(c if c.isprintable() else json.dumps(c)[1:-1] for c in text))


def say(text: str, /, **values: object) -> None:
    """Talk beside the answer, on standard error: an English text and its values."""
    Screen(sys.stderr).line(tell(text, **values))


def answered(session: Session, key: str | None, *kinds: str, as_json: bool) -> bool:
    """Answer a deed that was done already under its key; False for one that is to be done."""
    number = session.given_again(key, *kinds)
    if number is None:
        return False
    say("Set-up {number} has that already; nothing more was logged.", number=number)
    give(session, session.bench().answer(number), as_json=as_json)
    return True


def give(
    session: Session, answer: Answer, *, as_json: bool, why: bool = False, begun: bool = False
) -> None:
    """Show an answer, as JSON or for people. why: all that there is to say of it; begun: it opens a
    set-up.
    """
    if answer.unkept is not None:
        say(
            "fitlog: this advice could not be kept in the log ({why}).",
            why=answer.unkept.message,
        )
    if answer.setup.by not in ("", session.by):
        say("Set-up {number} was started by {by}.", number=answer.setup.number, by=answer.setup.by)
    if as_json:
        put_json(answer.document)
        return
    from ...render.answer import advice
    from ...render.short import begin, short

    setup, ruler = answer.setup, session.ruler(answer.setup.plan.machine)
    if begun and not why:
        from ...service.firstly import cautioned

        last = cautioned(session.log, setup, session.by, now().astimezone())
        begin(session.screen, setup, answer.advice, ruler, last)
        return
    (advice if why else short)(session.screen, setup, answer.advice, ruler)
