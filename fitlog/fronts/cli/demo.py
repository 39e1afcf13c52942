"""`fitlog demo`: an invented set-up replayed through the same code as real use, in a file of its
own.
"""

from __future__ import annotations

import os
import tomllib
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ...errors import Refused
from .options import Json

if TYPE_CHECKING:
    from .session import Session


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
    from ...service.session import Session as Owner
    from .session import open_session, put_json

    named = str(Path(typer.get_app_dir("fitlog")) / "demo.db") if to is None else to
    _clear(named)
    path = Path(named)
    script = _script()
    with open_session(str(path), create=True) as session:
        Owner(session.log, _MARK).prefer(name=_MARK)
        session.by = script["by"]
        answers = _replay(session, script, quiet=json)
        if json:
            put_json({"demo": str(path), "answers": answers})
            return
        session.screen.line()
        session.screen.head(
            "Your turn: set-up 2 is open after its first piece, in the demo's own log"
        )
        for command in ("next", "review", "show 1", "cut good, centred, flush"):
            session.screen.line(f"  {_program()} --db {_quoted(path)} {command}")


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
                "not-a-demo", f"{path} is a log of somebody's own", "give another file with --to"
            )
        for ending in ("", *COMPANIONS):
            path.with_name(path.name + ending).unlink(missing_ok=True)


def _replay(session: Session, script: dict[str, Any], *, quiet: bool) -> list[dict[str, Any]]:
    from ...domain import Bit, Machine, Stock
    from ...render import answer as show
    from ...service import Wanted
    from ...service.reader.cuts import CutTyped, reported

    def size(text: str) -> float:
        return session.reader.length(text, "a size").mm

    def made(values: dict[str, Any]) -> dict[str, Any]:
        return {
            k: size(v) if isinstance(v, str) and k not in ("name", "species") else v
            for k, v in values.items()
        }

    bit, stock, machine = (
        Bit(**made(script["bit"])),
        Stock(**made(script["stock"])),
        Machine(**made(script["machine"])),
    )
    session.bits.put(bit)
    session.stocks.put(stock)
    session.machines.put(machine)
    session.own_machine = None  # the demo's shop has one machine
    bench, ruler, screen = session.bench(machine), session.ruler(machine), session.screen
    answers: list[dict[str, Any]] = []

    def shown(found: Any) -> None:
        answers.append(found.document)
        if not quiet:
            show.advice(screen, found.setup, found.advice, ruler, found.steps)

    for run in script["setups"]:
        if not quiet:
            _typed(screen, "start")
        opened = bench.start(Wanted(bit, stock, stock, machine))
        shown(opened)
        for words in run["cuts"]:
            setup = bench.current()
            told, _ = reported(session.reader, setup, CutTyped((words,)))
            logged = bench.record(setup, told)
            if not quiet:
                _typed(screen, f"cut {words}")
                show.logged(screen, logged, setup, ruler)
            shown(bench.answer(setup.number))
        if run["finish"]:
            if not quiet:
                _typed(screen, "finish")
            shown(bench.finish(bench.current()))
    return answers


def _typed(screen: Any, command: str) -> None:
    screen.line()
    screen.head(f"$ fitlog {command}   (invented data)")


def _program() -> str:
    """Return how this program was called, so that the commands can be copied."""
    import sys

    called = Path(sys.argv[0])
    return _quoted(called) if called.name.startswith("fitlog") else "fitlog"


def _quoted(path: Path) -> str:
    import shlex

    return shlex.quote(str(path))
