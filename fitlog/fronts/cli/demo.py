"""`fitlog demo`: an invented set-up replayed through the same code as real use, in a file of its
own.
"""

from __future__ import annotations

import os
import sys
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ...errors import Refused
from ...texts import tell
from .options import Json

if TYPE_CHECKING:
    from ...language.units import Ruler
    from ...render.screen import Screen
    from ...service.replay import Step
    from .session import Session


_AT_ONCE = 2  # commands that are shown at once: two screens of 24 rows
_MARK = "(an invented demo)"  # nobody's login: a log that knows this preference is the demo's own


def demo(
    to: Annotated[
        str | None, typer.Option(metavar="PATH", help="Where the demo's log goes.")
    ] = None,
    json: Json = False,
) -> None:
    """Replay a whole invented set-up, every advice shown, then open a repeat for you to go on with.

    The demo has a log of its own; yours is not touched.

    \b
    Example:
      fitlog demo
    """
    from ...service.replay import Run, replayed, shop
    from ...service.session import Session as Owner
    from .session import open_session, put_json

    named = str(Path(typer.get_app_dir("fitlog")) / "demo.db") if to is None else to
    _clear(named)
    path = Path(named)
    script = _script()
    with open_session(str(path), create=True) as session:
        Owner(session.log, _MARK).prefer(name=_MARK)
        session.by = script["by"]
        wanted = shop(session, script["bit"], script["stock"], script["machine"])
        runs = [Run(**run) for run in script["setups"]]
        steps = list(replayed(session, wanted, runs))  # all of it, however much is looked at
        if json:
            answers = [step.answer.document for step in steps]
            put_json({"demo": str(path), "answers": answers})
            return
        ruler = session.ruler(wanted.machine)
        for number, step in enumerate(steps):
            if number >= _AT_ONCE and not _go_on():
                break
            _shown(session, step, ruler)
        _your_turn(session.screen, path)


def _go_on() -> bool:
    """Ask whether to go on, where somebody can answer."""
    if not (sys.stdin.isatty() and sys.stdout.isatty()):
        return True
    try:
        return input(tell("\nENTER: the next command; q ENTER: no more. ")).strip() != "q"
    except EOFError:
        return False


def _your_turn(screen: Screen, path: Path) -> None:
    screen.line()
    screen.line("All these figures are invented: set no machine by them.")
    screen.head("Your turn: set-up 2 is open after its first piece, in the demo's own log:")
    screen.line(f"  {_program()} --db {_quoted(path)} cut good, centred, flush")


def _script() -> dict[str, Any]:
    from ...shipped import shipped

    return tomllib.loads(shipped("demo.toml").read_text(encoding="utf-8"))


def _clear(named: str) -> None:
    """Make room for the demo's log: an earlier demo is removed, any other file is left alone and
    refused.
    """
    from ...newfile import COMPANIONS, place_of, written
    from ...service.session import Session, opened

    with written(named, "the demo"):
        try:
            place_of(named)
            return
        except Refused as error:
            if error.code not in ("is-a-log", "file-exists") and not os.path.isdir(named):  # noqa: PTH112 - "" is none
                raise
        path = Path(named).resolve()
        with opened(str(path), create=False) as (log, _):
            ours = Session(log, _MARK).preferences().name == _MARK
        if not ours:
            raise Refused(
                "not-a-demo",
                "{path} is a log of somebody's own",
                "give another file with --to",
                path=path,
            )
        for ending in ("", *COMPANIONS):
            path.with_name(path.name + ending).unlink(missing_ok=True)


def _shown(session: Session, step: Step, ruler: Ruler) -> None:
    from ...render.short import short, understood

    screen, told = session.screen, step.answer
    screen.line()
    screen.rows = 0
    screen.head("$ fitlog {typed}   (invented data)", typed=step.typed)
    if step.logged is not None:
        understood(screen, step.logged, told.setup, ruler)
    short(screen, told.setup, told.advice, ruler)


def _program() -> str:
    """Return how this program was called, so that the commands can be copied."""
    called = Path(sys.argv[0])
    return _quoted(called) if called.name.startswith("fitlog") else "fitlog"


def _quoted(path: Path) -> str:
    import shlex

    return shlex.quote(str(path))
