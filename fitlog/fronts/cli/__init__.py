"""The command line. Each group of commands is a thin file; what they do is in `service`.

Nothing heavy is imported here: `fitlog --help` must not load numpy, scipy, sqlalchemy or sqlmodel.
"""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Iterable
from importlib import import_module
from typing import Annotated

import typer

from ... import __version__
from .shell import MaybeNumber, Shell

# Each command and what makes it, by module, as the help groups them: a command is imported when it
# is the one asked for.
GROUPS = {
    "Set up": {
        "joints": "joints.joints",
        "plan": "layouts.plan",
        "start": "setups.start",
        "recover": "recovery.recover",
        "rehearse": "rehearse.rehearse",
    },
    "At the machine": {
        "cut": "cut.cut",
        "check": "check.check",
        "next": "setups.next_",
        "why": "setups.why",
        "bench": "bench.bench",
        "page": "page.page_app",
        "undo": "undo.undo",
        "redo": "undo.redo",
        "found": "found.found",
        "note": "noting.note",
        "fault": "faults.fault",
    },
    "Afterwards": {
        "stops": "layouts.stops",
        "sheet": "sheet.sheet",
        "finish": "ending.finish",
        "outcome": "noting.outcome",
        "review": "lookback.review",
        "show": "lookback.show",
        "use": "setups.use",
        "progress": "progress.progress",
        "words": "people.words_app",
    },
    "What you own": {
        "bit": "catalogue.bit_app",
        "stock": "catalogue.stock_app",
        "machine": "catalogue.machine_app",
        "prefer": "people.prefer",
    },
    "Look after": {
        "log": "roles.log_app",
        "errors": "errors.errors",
        "demo": "demo.demo",
    },
}
COMMANDS = {name: made for group in GROUPS.values() for name, made in group.items()}
_UNKNOWN = {
    "ignore_unknown_options": True
}  # of `cut` and `check`: what looks like one may be a length


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
    if db and db != os.environ.get("FITLOG_DB"):
        before = os.environ.get("FITLOG_DB")
        os.environ["FITLOG_DB"] = db  # the commands' own --db comes after and wins
        ctx.call_on_close(lambda: _put_back(before))


def _put_back(db: str | None) -> None:
    """Leave the environment as it was, for whoever calls the app within a process."""
    if db is None:
        os.environ.pop("FITLOG_DB", None)
    else:
        os.environ["FITLOG_DB"] = db


def app_of(names: Iterable[str]) -> typer.Typer:
    """Return the command line with these commands."""
    Shell.groups = GROUPS
    made = typer.Typer(
        cls=Shell,
        add_completion=True,
        pretty_exceptions_enable=False,
        rich_markup_mode=None,
        context_settings={"help_option_names": ["-h", "--help"]},
    )
    made.callback(no_args_is_help=True)(_root)
    for name in names:
        module, what = COMMANDS[name].split(".")
        command = getattr(import_module(f".{module}", __name__), what)
        if isinstance(command, typer.Typer):
            made.add_typer(command, name=name)
        else:
            kind = MaybeNumber if name == "start" else None
            settings = _UNKNOWN if name in ("cut", "check") else None
            made.command(name, cls=kind, context_settings=settings)(command)
    return made


def main() -> None:
    """Run the command line.

    A command named first is built alone, which saves building the thirty others; and what a short
    command leaves behind needs no garbage collector, at its end neither: Python would look through
    all that was imported for cycles, which takes a fifth of the whole process.
    """
    gc.disable()
    first = sys.argv[1] if len(sys.argv) > 1 else ""
    alone = first in COMMANDS and "_FITLOG_COMPLETE" not in os.environ
    try:
        app_of([first] if alone else COMMANDS)(prog_name="fitlog")
    finally:
        gc.freeze()
