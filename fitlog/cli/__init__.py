"""The command line. Each group of commands is a thin file; what they do is in `workbench`.

Nothing heavy is imported here: `fitlog --help` must not load numpy, scipy, sqlalchemy or sqlmodel.
"""

from __future__ import annotations

import os
from typing import Annotated

import typer

from .. import __version__
from .catalogue import bit_app, machine_app, stock_app
from .cut import cut
from .demo import demo
from .people import prefer
from .setups import finish, next_, review, show, start, undo, use
from .shell import Shell

app = typer.Typer(cls=Shell, add_completion=True, pretty_exceptions_enable=False, rich_markup_mode=None)


def _version(wanted: bool) -> None:
    if wanted:
        print(f"fitlog {__version__}")
        raise typer.Exit


@app.callback(no_args_is_help=True)
def _root(
    db: Annotated[str | None, typer.Option("--db", metavar="PATH", help="The log to use.", envvar="FITLOG_DB")] = None,
    version: Annotated[bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")] = False,
) -> None:
    """Log trial cuts of a machine-cut joint, get the next small correction, and remember.

    \b
    A first evening:
      fitlog bit add half --diameter 12.7 --angle 14 --cutting-length 14
      fitlog stock add ash --species ash --thickness 15 --width 140
      fitlog start
      fitlog cut slightly tight, gap far 0.3, proud 0.2
      fitlog finish

    Exit codes: 0 done; 1 refused, with one sentence that says what to do; 2 not understood; 130 interrupted.
    """
    if db is not None:
        os.environ["FITLOG_DB"] = db  # the commands' own --db comes after and wins


for command, name in (
    (start, "start"), (cut, "cut"), (next_, "next"), (undo, "undo"), (finish, "finish"), (use, "use"), (review, "review"),
    (show, "show"), (prefer, "prefer"), (demo, "demo"),
):  # fmt: skip
    settings = {"ignore_unknown_options": True} if name == "cut" else None
    app.command(name, context_settings=settings)(command)
app.add_typer(bit_app, name="bit")
app.add_typer(stock_app, name="stock")
app.add_typer(machine_app, name="machine")


def main() -> None:
    """Run the command line."""
    app(prog_name="fitlog")
