"""`fitlog bench`: the dialogue at the machine, one key a verdict."""

from __future__ import annotations

import gc
from dataclasses import replace
from typing import TYPE_CHECKING

import typer

from ...errors import Refused
from ...texts import tell
from .options import Db, Json, SetupNumber

if TYPE_CHECKING:
    from ..bench import View
    from ..bench.keys import Terminal
    from ..bench.table import Table


def bench(setup: SetupNumber = None, db: Db = None, json: Json = False) -> None:
    """Judge pieces at the machine: the next setting in large figures, one key a verdict.

    SPACE when the piece is cut, then a digit for each of fit, seat and centre; the keys are always
    on the screen. Every answer is in the log before the next question is asked, so after any
    interruption it goes on exactly where it was. It needs a terminal of any kind, over ssh too;
    --json is refused, since a dialogue prints no document.

    \b
    Example:
      fitlog bench
    """
    from ..bench.hung_up import HungUp
    from ..bench.keys import require_terminal, terminal
    from .session import open_session
    from .shell import let_go_of_output

    if json:
        raise Refused(
            "no-json",
            "bench is a dialogue and prints no document",
            "ask for one with fitlog next --json",
        )
    require_terminal()
    gc.enable()  # off in short processes: this one may run all day
    try:
        with open_session(db, create=False) as session:
            from ..bench.table import Table

            table = Table(session, setup)
            view = table.opened()
            with terminal() as keys:
                _converse(table, view, keys)
            session.screen.line(table.farewell())
    except HungUp as error:
        let_go_of_output()
        raise typer.Exit(128 + error.number) from None


def _converse(table: Table, view: View, keys: Terminal) -> None:
    """Draw, read a key, do what it means, until it means to leave. Keys typed before a fresh screen
    came are dropped.
    """
    from ..bench import press

    gc.freeze()
    fresh = True
    while True:
        view = _drawn(table, view, keys if fresh else None)
        key, fresh = keys.read(), False
        if key == "resize":
            continue
        view, deed = press(view, key)
        if deed is None:
            continue
        if deed.kind == "leave":
            return
        if deed.kind != "setting":
            _writing(table, view)
        view, fresh = table.do(view, deed), True


def _drawn(table: Table, view: View, keys: Terminal | None) -> View:
    """Draw a frame; help that has been read to its end is closed. keys: where to drop what was
    typed before it.

    They are dropped with the frame at hand and not yet drawn, so that a quick answer to what is
    seen is never lost.
    """
    from ...render.bench import frame, pages
    from ..bench.keys import put, size

    width, height = size()
    scene = table.scene(view)
    if view.mode == "help" and view.page >= len(pages(scene, width, height)):
        view = replace(view, mode="", page=0)
        scene = table.scene(view)
    lines = frame(scene, width, height)
    if keys is not None:
        keys.drop()
    put(lines)
    return view


def _writing(table: Table, view: View) -> None:
    from ...render.bench import frame
    from ..bench.keys import put, size

    put(frame(replace(table.scene(view), top=tell("writing...")), *size()))
