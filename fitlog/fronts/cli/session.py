"""From the user's words to the workbench's values: the log, the person, their units, lengths as
they write them.
"""

from __future__ import annotations

import getpass
import json
import logging
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import typer

from ...domain import Machine
from ...errors import Refused
from ...language.units import Length, Ruler, check_range, parse_length
from ...log import Log, open_log
from ...render.screen import Screen
from ...service import Answer, Workbench

logging.getLogger("sqlalchemy").setLevel(
    logging.CRITICAL + 1
)  # its alarms are told as sentences, or not at all


class Session:
    """One command of one person at one log."""

    def __init__(self, log: Log, login: str) -> None:
        self.log, self.login = log, login
        preferences = log.preferences(login)
        self.units = preferences.units
        self.by = preferences.name or login
        self.own_machine = os.environ.get("FITLOG_MACHINE") or preferences.machine
        self.screen = Screen()

    def ruler(self, machine: Machine | None = None) -> Ruler:
        """How lengths are shown to this person; a machine with a known lift adds its turns."""
        return Ruler(self.units, machine.height_turn if machine else None)

    def bench(self, machine: Machine | None = None) -> Workbench:
        """Return the workbench, speaking this person's units."""
        return Workbench(self.log, self.by, self.ruler(machine), self.home())

    def home(self) -> Machine | None:
        """Return the machine that this person said to be at, by FITLOG_MACHINE or `prefer
        --machine`; None without.
        """
        if not self.own_machine:
            return None
        try:
            return self.log.machine(self.own_machine)
        except Refused as error:
            given = "FITLOG_MACHINE" if os.environ.get("FITLOG_MACHINE") else "your preference"
            hint = (
                f"{error.hint}; {given} names it: say another with fitlog prefer --machine "
                'NAME, or "" for none'
            )
            raise Refused(error.code, error.message, hint) from None

    def length(self, text: str, what: str, machine: Machine | None = None) -> Length:
        """Read a length as the user wrote it."""
        turn = machine.height_turn if machine else None
        return parse_length(text, units=self.units, turn=turn, what=what)

    def size(
        self,
        text: str | None,
        what: str,
        low: float,
        high: float,
        why: str,
        machine: Machine | None = None,
    ) -> float | None:
        """Read an optional size, mm, and refuse it outside [low, high]; `why` names the limit."""
        return (
            None
            if text is None
            else check_range(self.length(text, what, machine), low, high, what, why)
        )

    def only(self, kind: str, name: str | None) -> Any:
        """Return what is named in the catalogue, or the only one there is."""
        if name is not None:
            return getattr(self.log, kind)(name)
        found = getattr(self.log, kind + "s")()
        if len(found) == 1:
            return found[0]
        if not found:
            raise Refused(
                f"no-{kind}",
                f"there is no {kind} in the catalogue",
                f"add one: fitlog {kind} add --help",
            )
        known = ", ".join(item.name for item in found)
        raise Refused(
            "which-one", f"there are {len(found)} {kind}s", f"name one with --{kind}: {known}"
        )

    def machine(self, name: str | None) -> Machine | None:
        """Return the machine that is named, else the person's own, else the only one there is; None
        among several.
        """
        if name is not None:
            return self.log.machine(name)
        if (own := self.home()) is not None:
            return own
        found = self.log.machines()
        return found[0] if len(found) == 1 else None


@contextmanager
def open_session(db: str | None, *, create: bool) -> Iterator[Session]:
    """Open the log for one command and close it after."""
    with open_log(db or default_log(), create=create) as log:
        if log.upgraded is not None:
            done = log.upgraded
            say(
                f"The log was brought from layout {done.found} to {done.now}; as it was before it "
                f"is in {done.backup}."
            )
        yield Session(log, login())


def default_log() -> str:
    """Return where the log lives when nobody says: FITLOG_DB, or the user's application folder."""
    return os.environ.get("FITLOG_DB") or str(Path(typer.get_app_dir("fitlog")) / "log.db")


def login() -> str:
    """Return the login name, or "unknown" where there is none."""
    try:
        return getpass.getuser()
    except (KeyError, OSError, ImportError):
        return "unknown"


def now() -> datetime:
    """Return the time in UTC."""
    return datetime.now(UTC)


def put_json(document: Any) -> None:
    """Print one JSON document; what no terminal should get raw comes as an escape of JSON's own."""
    text = json.dumps(document, ensure_ascii=False)
    print("".join(c if c.isprintable() else json.dumps(c)[1:-1] for c in text))


def say(text: str) -> None:
    """Talk beside the answer, on standard error."""
    Screen(sys.stderr).line(text)


def give(session: Session, answer: Answer, *, as_json: bool) -> None:
    """Show an answer, as JSON or for people."""
    if answer.unkept is not None:
        say(f"fitlog: this advice could not be kept in the log ({answer.unkept.message}).")
    if answer.setup.by not in ("", session.by):
        say(f"Set-up {answer.setup.number} was started by {answer.setup.by}.")
    if as_json:
        put_json(answer.document)
        return
    from ...render.answer import advice

    advice(
        session.screen,
        answer.setup,
        answer.advice,
        session.ruler(answer.setup.plan.machine),
        answer.steps,
    )
