"""`fitlog errors`: every refusal by its code, with what to do."""

from __future__ import annotations

import json as json_
from typing import Annotated, Any

import typer

from ...errors import NotUnderstood
from ...texts import tell
from .options import Json


def errors(
    code: Annotated[
        str | None, typer.Argument(metavar="[CODE]", help="One of them, as --json names it.")
    ] = None,
    json: Json = False,
) -> None:
    """List every refusal by its code: when it comes, and what to do.

    \b
    Examples:
      fitlog errors no-lap
      fitlog errors --json
    """
    from ...shipped import shipped
    from .session import put_json

    rows = json_.loads(shipped("errors.json").read_text(encoding="utf-8"))
    if code is not None:
        rows = [row for row in rows if row["code"] == code]
        if not rows:
            hint = "see them all with fitlog errors"
            raise NotUnderstood("unknown-error", "there is no error {code!r}", hint, code=code)
    if json:
        put_json({"errors": rows})
    else:
        _show(rows)


def _show(rows: list[dict[str, Any]]) -> None:
    """Print rows of the table under their headings."""
    from ...render.screen import Screen

    screen, group = Screen(), ""
    for row in rows:
        if row["group"] != group:
            group = row["group"]
            screen.head(group)
        screen.line(
            "{code} (exit {exits}): {when}; {remedy}.",
            indent="  ",
            code=row["code"],
            exits=tell(" or ").join(map(str, row["exit"])),
            when=tell(row["when"]),
            remedy=tell(row["remedy"]),
        )
