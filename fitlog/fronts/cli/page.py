"""`fitlog page`: the page at the bench, and the phones that it lets in."""

from __future__ import annotations

import gc
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import NotUnderstood, Refused
from ...texts import tell
from .options import Db, Json

if TYPE_CHECKING:
    from ..page.phones import Paired, PhoneBook

page_app = typer.Typer(rich_markup_mode=None)


@page_app.callback(invoke_without_command=True)
def page(
    ctx: typer.Context,
    port: Annotated[
        int,
        typer.Option(metavar="N", min=0, max=65_535, help="The port; 0 for any that is free."),
    ] = 8517,
    at: Annotated[
        str | None,
        typer.Option(
            metavar="ADDRESS",
            help="This computer's address in the shop's network, for phones; without it only this "
            "computer opens the page.",
        ),
    ] = None,
    read_only: Annotated[
        bool, typer.Option("--read-only", help="To be looked at: nobody logs anything on it.")
    ] = False,
    certificate: Annotated[
        str | None, typer.Option(metavar="FILE", help="Your certificate (PEM), for https.")
    ] = None,
    key: Annotated[
        str | None, typer.Option(metavar="FILE", help="Its key, without a password (PEM).")
    ] = None,
    db: Db = None,
) -> None:
    """Serve fitlog as a page for a phone at the bench, until Ctrl-C.

    With --at a phone opens it by the QR code, and is let in by the number of six digits beside it;
    from then on it is known at whichever log this computer serves.

    \b
    Examples:
      fitlog page
      fitlog page --at 192.168.1.20
      fitlog page phones --revoke 2
    """
    if ctx.invoked_subcommand is not None:
        return
    if bool(certificate) != bool(key):
        raise NotUnderstood(
            "half-a-certificate",
            "https takes --certificate and --key, and only one of them is given",
            "give both files, or neither",
        )
    try:
        from ..page.serving import Wanted, serve
    except ModuleNotFoundError as error:
        if error.name is None or error.name.partition(".")[0] == "fitlog":
            raise
        raise Refused(
            "no-page",
            "the page needs {name}, which is not installed",
            "in fitlog's checkout run pip install '.[page]'",
            name=error.name,
        ) from error
    from .session import default_log, login

    gc.enable()  # off in short processes: this one may run all day
    wanted = Wanted(at, port, read_only, certificate, key)
    raise typer.Exit(128 + serve(db or default_log(), login(), _phones(), wanted))


@page_app.command("phones")
def phones(
    revoke: Annotated[
        int | None, typer.Option(metavar="N", help="Let this one in no more, from now on.")
    ] = None,
    json: Json = False,
) -> None:
    """List the phones that the page lets in, or let one in no more.

    \b
    Examples:
      fitlog page phones
      fitlog page phones --revoke 2
    """
    from .session import put_json

    book = _phones()
    if revoke is not None:
        gone = book.revoke(revoke)
        if json:
            put_json({"revoked": gone.number})
        else:
            print(tell("Phone {number} is let in no more.", number=gone.number))
    elif json:
        put_json({"phones": [_document(phone) for phone in book.all()]})
    else:
        _show(book.all())


def _document(phone: Paired) -> dict[str, object]:
    return {
        "number": phone.number,
        "name": phone.name or None,
        "label": phone.label,
        "paired": phone.paired.isoformat(),
        "seen": phone.seen.isoformat(),
    }


def _show(found: Sequence[Paired]) -> None:
    """Print the phones as a table."""
    from ...render.screen import Screen

    screen = Screen()
    if not found:
        screen.line("No phone is paired: fitlog page --at ADDRESS shows how.")
        return
    rows = [
        [
            *(str(phone.number), phone.name, phone.label),
            *(f"{at.astimezone():%Y-%m-%d %H:%M}" for at in (phone.paired, phone.seen)),
        ]
        for phone in found
    ]
    screen.table(["Phone", "Held by", "Paired at", "Paired", "Last seen"], rows, right=[0])


def _phones() -> PhoneBook:
    from ..page.phones import PhoneBook

    return PhoneBook(Path(typer.get_app_dir("fitlog")) / "phones.json")
