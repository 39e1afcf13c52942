"""`start`, `next`, `undo`, `finish`, `use`, `review`, `show`: the life of a set-up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from ..errors import NotUnderstood, nearest
from .moisture import PinToday, ScrapToday, Today, today
from .options import BitName, Db, Json, MachineName, Only, PinStock, SetupNumber, StockName, Tails, WordsOnly

if TYPE_CHECKING:
    from ..domain import SetUp
    from ..workbench import Wanted
    from .session import Session


def start(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    pitch: Annotated[str | None, typer.Option(metavar="L", help="Spacing of the cuts; or give the height, or neither.")] = None,
    height: Annotated[str | None, typer.Option(metavar="L", help="Bit height of the first piece.")] = None,
    width: Annotated[str | None, typer.Option(metavar="L", help="Today's board width.")] = None,
    thickness: Annotated[str | None, typer.Option(metavar="L", help="Today's tail board thickness.")] = None,
    pin_thickness: Annotated[str | None, typer.Option(metavar="L", help="Today's pin board thickness.")] = None,
    rabbet: Annotated[str | None, typer.Option(metavar="L", help="Depth of the rabbet, if not half the diameter.")] = None,
    rabbet_bit: Annotated[str, typer.Option(metavar="same|straight", help="Which bit cuts the rabbet.")] = "same",
    proud: Annotated[str | None, typer.Option(metavar="L", help="How proud you want the tails (to plane off).")] = None,
    only: Only = None,
    words_only: WordsOnly = False,
    by_eye: Annotated[bool, typer.Option("--by-eye", help="The fence was set by eye, not with a caliper.")] = False,
    spacer: Annotated[bool, typer.Option("--spacer", help="The pitch is stepped by a spacer or block.")] = False,
    many_tails: Annotated[bool, typer.Option("--many-tails", help="Aim looser: many tails, a long glue-up, plywood.")] = False,
    tails: Tails = None,
    spacing: Annotated[
        str | None, typer.Option(metavar="L", help="Of the slots, for tails wider than the pins; see fitlog plan.")
    ] = None,
    scrap: Annotated[str, typer.Option(metavar="TEXT", help="What the test pieces are made of, if not the stock.")] = "",
    scrap_width: Annotated[str | None, typer.Option(metavar="L", help="Their width.")] = None,
    scrap_thickness: Annotated[str | None, typer.Option(metavar="L", help="The tail pieces' thickness.")] = None,
    moisture: Today = None,
    pin_moisture: PinToday = None,
    scrap_moisture: ScrapToday = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Open a set-up and get the settings for the first test piece, with where each number comes from.

    What is alone in the catalogue need not be named.

    \b
    Examples:
      fitlog start --bit half --stock ash
      fitlog start --pitch 19.4 --spacer --width 120
    """
    from .session import give, open_session, say

    given = locals()
    with open_session(db, create=False) as session:
        wanted = _wanted(session, given)
        answer = session.bench(wanted.machine).start(wanted)
        if answer.closed is not None:
            say(f"Set-up {answer.closed} with this bit was ready and is now finished.")
        _warn_elsewhere(session, answer.setup)
        give(session, answer, as_json=json)


def _warn_elsewhere(session: Session, setup: SetUp) -> None:
    from .session import say

    own, at = session.home(), setup.plan.machine
    if own is not None and at is not None and at.name != own.name:
        say(f"It is at {at.name}, not at your own {own.name}: name it on each command, --setup {setup.number}.")


def _wanted(session: Session, given: dict[str, Any]) -> Wanted:
    from ..workbench import Wanted

    bit, stock = session.only("bit", given["bit"]), session.only("stock", given["stock"])
    pin_stock = session.log.stock(given["pin_stock"]) if given["pin_stock"] else stock
    machine = session.machine(given["machine"])
    zero = machine.height_zero if machine else 0.0
    reach = f"this bit's cutting length of {bit.cutting_length:g} mm"
    height = session.size(given["height"], "the bit height", 0.5 + zero, bit.cutting_length + zero, reach, machine)
    fit = f"what a {bit.diameter:g} mm bit can space"
    board, thick = "any board", "any board's thickness"
    return Wanted(
        bit, stock, pin_stock, machine,
        pitch=session.size(given["pitch"], "the pitch", bit.diameter, 2 * bit.diameter, fit),
        height=None if height is None else height - zero,
        width=session.size(given["width"], "the board width", 10, 2000, board),
        thickness=session.size(given["thickness"], "the tail board's thickness", 1, 100, thick),
        pin_thickness=session.size(given["pin_thickness"], "the pin board's thickness", 1, 100, thick),
        rabbet=session.size(given["rabbet"], "the rabbet", 0.5, 100, "any rabbet"),
        options={
            "rabbet_bit": one_of(given["rabbet_bit"], ("same", "straight"), "--rabbet-bit"),
            "wanted_step": session.size(given["proud"], "the wanted step", -3, 3, "any wanted step") or 0.0,
            "in_play": aspects_of(given["only"]), "words_only": given["words_only"], "by_eye": given["by_eye"],
            "spaced": given["spacer"], "many_tails": given["many_tails"] or _many(given["tails"]),
            "tails": given["tails"], "scrap": given["scrap"],
            "spacing": session.size(given["spacing"], "the spacing of the slots", bit.diameter, 2000, "any board"),
            "piece_width": session.size(given["scrap_width"], "the scrap's width", 10, 2000, "any test piece"),
            "piece_thickness": session.size(given["scrap_thickness"], "the scrap's thickness", 1, 100, "any test piece"),
            **today(session, given, stock, pin_stock),
        },
    )  # fmt: skip


def _many(tails: int | None) -> bool:
    from ..defaults import MANY_TAILS
    from ..domain import tail_count

    return (tail_count(tails) or 0) >= MANY_TAILS


def one_of(word: str, known: tuple[str, ...], option: str) -> str:
    """Return an option's word in lower case; raise NotUnderstood for one it does not know."""
    if word.lower() in known:
        return word.lower()
    raise NotUnderstood("bad-choice", f"{option} cannot be {word!r}", nearest(word, known))


def aspects_of(text: str | None) -> tuple[str, ...]:
    """Return the aspects that --only names, all of them without it; raises NotUnderstood."""
    from ..domain import ASPECTS

    if text is None:
        return ASPECTS
    words = [w for w in text.replace(",", " ").lower().replace("center", "centre").split() if w]
    for word in words:
        one_of(word, ASPECTS, "--only")
    if not words:
        raise NotUnderstood("bad-choice", "--only names no aspect", "name some of fit,centre,seat")
    return tuple(a for a in ASPECTS if a in words)


def next_(setup: SetupNumber = None, db: Db = None, json: Json = False) -> None:
    """Show the advice again: what to set for the next piece.

    \b
    Example:
      fitlog next
    """
    from .session import give, open_session

    with open_session(db, create=False) as session:
        found = session.bench().current(setup)
        give(session, session.bench(found.plan.machine).answer(found.number), as_json=json)


def undo(
    piece: Annotated[int | None, typer.Option(metavar="N", help="Take back all about an earlier piece.")] = None,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Take back the newest entry of the set-up: a cut, a finish, or its start. The log keeps both.

    \b
    Examples:
      fitlog undo
      fitlog undo --piece 2
    """
    from .session import give, open_session, say

    with open_session(db, create=False) as session:
        found = session.bench().current(setup)
        what, answer = session.bench(found.plan.machine).undo(found, piece)
        say(f"Taken back: {what}.")
        give(session, answer, as_json=json)


def use(
    number: Annotated[int, typer.Argument(metavar="N", help="Number of the set-up, as review lists it.")],
    db: Db = None,
    json: Json = False,
) -> None:
    """Make another set-up the current one.

    \b
    Example:
      fitlog use 3
    """
    from .session import give, open_session

    with open_session(db, create=False) as session:
        found = session.log.setup(number)
        give(session, session.bench(found.plan.machine).choose(number), as_json=json)


def review(
    bit: BitName = None,
    stock: StockName = None,
    last: Annotated[int, typer.Option("--last", metavar="N", min=1, help="How many of the newest.")] = 50,
    every: Annotated[bool, typer.Option("--all", help="All of them, however many.")] = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """List past set-ups, newest first: where they ended, in how many pieces, how far off the first guess was.

    \b
    Examples:
      fitlog review --bit half
      fitlog review --all --json
    """
    from .session import open_session, put_json, say

    with open_session(db, create=False) as session:
        rows, more = session.bench().review(bit, stock, None if every else last)
        if more:
            say(f"Only the newest {len(rows)} are listed. All of them: fitlog review --all")
        if json:
            put_json({"setups": rows})
        elif rows:
            from ..show.lists import review as show_review

            show_review(session.screen, rows, session.ruler())
        else:
            session.screen.line("No set-up yet. Begin with: fitlog start")


def show(
    number: Annotated[int | None, typer.Argument(metavar="[N]", help="Number of the set-up, if not the current one.")] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Show every trial cut of a set-up, with the advice that was given beside what was cut.

    \b
    Example:
      fitlog show 3
    """
    from ..document import cut_row, found_row, review_row
    from .session import open_session, put_json

    with open_session(db, create=False) as session:
        bench = session.bench()
        found = bench.current(number)
        found, cuts = bench.history(found.number)
        status, was_found = bench.status(found), session.log.found_entries(found.number)
        if json:
            as_found = [found_row(f, found.plan.machine) for f in was_found]
            put_json({"setup": review_row(found, status), "cuts": [cut_row(c, found) for c in cuts], "found": as_found})
            return
        from ..domain.standing import ended
        from ..show.lists import history, how_ended

        ruler = session.ruler(found.plan.machine)
        state = how_ended(status, ended(found))
        session.screen.head(f"Set-up {found.number}: {found.plan.bit.name}, {found.plan.stock.name}, {state}")
        history(session.screen, found, cuts, ruler, was_found)
