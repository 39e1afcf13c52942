"""The command line. Each group of commands is a thin file; what they do is in `service`.

Nothing heavy is imported here: `fitlog --help` must not load numpy, scipy, sqlalchemy or sqlmodel.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable, Iterable
from typing import Annotated

import typer

from ... import __version__
from .bench import bench
from .catalogue import bit_app, stock_app
from .cut import cut
from .demo import demo
from .ending import finish
from .faults import fault
from .found import found
from .joined import WithLengths
from .layouts import plan, stops
from .machines import machine_app
from .people import prefer, words
from .progress import progress
from .recovery import recover
from .rehearse import rehearse
from .roles import log_app
from .setups import next_, review, show, start, use
from .sheet import sheet
from .shell import MaybeNumber, Shell
from .undo import redo, undo

Command = Callable[..., None]
_COMMANDS: dict[str, Command | typer.Typer] = {
    "plan": plan,
    "start": start,
    "cut": cut,
    "bench": bench,
    "next": next_,
    "undo": undo,
    "redo": redo,
    "finish": finish,
    "use": use,
    "found": found,
    "stops": stops,
    "sheet": sheet,
    "fault": fault,
    "recover": recover,
    "review": review,
    "show": show,
    "progress": progress,
    "words": words,
    "rehearse": rehearse,
    "bit": bit_app,
    "stock": stock_app,
    "machine": machine_app,
    "prefer": prefer,
    "log": log_app,
    "demo": demo,
}


def _version(wanted: bool) -> None:
    if wanted:
        print(f"fitlog {__version__}")
        raise typer.Exit


def _root(
    ctx: typer.Context,
    db: Annotated[
        str | None,
        typer.Option("--db", metavar="PATH|URL", help="The log to use.", envvar="FITLOG_DB"),
    ] = None,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Log trial cuts of a machine-cut joint, get the next small correction, and remember.

    \b
    A first evening:
      fitlog bit add half --diameter 12.7 --angle 14 --cutting-length 14
      fitlog stock add ash --species ash --thickness 15 --width 140
      fitlog start
      fitlog cut slightly tight, gap far 0.3, proud 0.2
      fitlog cut good, centred, flush
      fitlog finish

    Exit codes: 0 done; 1 refused, with one sentence that says what to do; 2 not understood; 130
    interrupted.
    """
    if db is not None and db != os.environ.get("FITLOG_DB"):
        before = os.environ.get("FITLOG_DB")
        os.environ["FITLOG_DB"] = db  # the commands' own --db comes after and wins
        ctx.call_on_close(lambda: _put_back(before))


def _put_back(db: str | None) -> None:
    """Leave the environment as it was, for whoever calls the app within a process."""
    if db is None:
        os.environ.pop("FITLOG_DB", None)
    else:
        os.environ["FITLOG_DB"] = db


def _app(names: Iterable[str]) -> typer.Typer:
    """Return the command line with these commands."""
    made = typer.Typer(
        cls=Shell, add_completion=True, pretty_exceptions_enable=False, rich_markup_mode=None
    )
    made.callback(no_args_is_help=True)(_root)
    for name in names:
        command = _COMMANDS[name]
        if isinstance(command, typer.Typer):
            made.add_typer(command, name=name)
        else:
            words = {"ignore_unknown_options": True} if name == "cut" else None
            kind = {"cut": WithLengths, "start": MaybeNumber}.get(name)
            made.command(name, cls=kind, context_settings=words)(command)
    return made


app = _app(_COMMANDS)


def main() -> None:
    """Run the command line.

    A command named first is built alone, which saves building the thirty others; and what a short
    command leaves behind needs no garbage collector.
    """
    gc.disable()
    first = sys.argv[1] if len(sys.argv) > 1 else ""
    alone = first in _COMMANDS and "_FITLOG_COMPLETE" not in os.environ
    (_app([first]) if alone else app)(prog_name="fitlog")
