"""`start`, `next`, `why`, `use`: the life of a set-up."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Annotated

import typer

from .moisture import PinToday, ScrapToday, Today
from .options import (
    BitName,
    Db,
    Json,
    Key,
    MachineName,
    NoteText,
    Only,
    Pieces,
    PinStock,
    SetupNumber,
    StockName,
    Tails,
    Title,
    Why,
    Yes,
    length,
)

if TYPE_CHECKING:
    from ...domain import Note
    from ...service.reader.start import StartTyped
    from .session import Session

Pitch = Annotated[
    str | None,
    length("Spacing of the cuts; or give the height, or neither."),
]
Height = Annotated[str | None, length("Bit height of the first piece.")]
Width = Annotated[str | None, length("Today's board width.")]
Thickness = Annotated[str | None, length("Today's tail board thickness.")]
PinThickness = Annotated[str | None, length("Today's pin board thickness.")]
Rabbet = Annotated[str | None, length("Depth of the rabbet, if not half the diameter.")]
RabbetBit = Annotated[
    str | None, typer.Option(metavar="same|straight", help="Which bit cuts the rabbet.")
]
Proud = Annotated[str | None, length("How proud you want the tails (to plane off).")]
# Each with a word that takes it back, for a repeat of a set-up that was told it.
WordsOnly = Annotated[
    bool | None, typer.Option("--words-only/--feeler", help="No feeler at hand; or one again.")
]
ByEye = Annotated[
    bool | None,
    typer.Option("--by-eye/--by-caliper", help="The fence was set by eye; or with a caliper."),
]
Spacer = Annotated[
    bool | None,
    typer.Option("--spacer/--no-spacer", help="The pitch is stepped by a spacer or block."),
]
ManyTails = Annotated[
    bool | None,
    typer.Option(
        "--many-tails/--few-tails", help="Aim looser: many tails, a long glue-up, plywood."
    ),
]
Spacing = Annotated[
    str | None,
    length("Of the slots, for tails wider than the pins; see fitlog plan."),
]
Scrap = Annotated[
    str | None,
    typer.Option(metavar="TEXT", help="What the test pieces are made of, if not the stock."),
]
ScrapWidth = Annotated[str | None, length("Their width.")]
ScrapThickness = Annotated[str | None, length("The tail pieces' thickness.")]
Joint = Annotated[
    str | None, typer.Option(metavar="NAME", help="Which joint, if not the half-blind dovetail.")
]
Given = Annotated[
    list[str] | None,
    typer.Option(metavar="NAME=VALUE", help="Any figure of the joint by its name; repeatable."),
]
Again = Annotated[
    str | None,
    typer.Option(metavar="[N]", help="Repeat all of set-up N, or of the last; say what differs."),
]


def start(
    bit: BitName = None,
    stock: StockName = None,
    pin_stock: PinStock = None,
    machine: MachineName = None,
    again: Again = None,
    joint: Joint = None,
    given: Given = None,
    pitch: Pitch = None,
    height: Height = None,
    width: Width = None,
    thickness: Thickness = None,
    pin_thickness: PinThickness = None,
    rabbet: Rabbet = None,
    rabbet_bit: RabbetBit = None,
    proud: Proud = None,
    only: Only = None,
    words_only: WordsOnly = None,
    by_eye: ByEye = None,
    spacer: Spacer = None,
    many_tails: ManyTails = None,
    tails: Tails = None,
    spacing: Spacing = None,
    scrap: Scrap = None,
    scrap_width: ScrapWidth = None,
    scrap_thickness: ScrapThickness = None,
    moisture: Today = None,
    pin_moisture: PinToday = None,
    scrap_moisture: ScrapToday = None,
    title: Title = None,
    note: NoteText = None,
    pieces: Pieces = None,
    why: Why = False,
    yes: Yes = False,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Open a set-up and get the settings for the first test piece, with where each number comes
    from.

    What is alone in the catalogue need not be named. Where nothing but names is said and the log
    has one such set-up that ended good, all of it is repeated: layout, pitch, boards, wanted step,
    rabbet, scrap.

    Without --pitch or --height a sensible height for the board is taken and the pitch follows. The
    standing cautions are printed in full once a day for each person at each machine; fitlog why
    has them always.

    \b
    Examples:
      fitlog start --bit half --stock ash
      fitlog start --pitch 19.4 --spacer --width 120 --pieces 3
      fitlog start --again 3 --thickness 15.2 --title "chest, upper drawers"
    """
    from ...service.again import Named
    from ...service.noting import NotesTyped
    from ...service.reader import start as read
    from ...service.reader.lengths import BoardsTyped, PieceTyped
    from .session import answered, open_session

    layout = {"height": height, "pitch": pitch, "tails": tails, "spacing": spacing}
    rest = {"rabbet": rabbet, "rabbet-bit": rabbet_bit, "proud": proud}
    way = {"by-eye": by_eye, "spacer": spacer, "many-tails": many_tails}
    typed = read.StartTyped(
        Named(bit, stock, pin_stock, machine),
        again,
        joint,
        read.as_text({**layout, **rest, **way}),
        given or (),
        BoardsTyped(width, thickness, pin_thickness),
        read.WayTyped(only, words_only),
        PieceTyped(scrap, scrap_width, scrap_thickness),
        read.MoistureTyped(moisture, pin_moisture, scrap_moisture),
    )
    notes = NotesTyped(title, note).notes()
    with open_session(db, create=False) as session:
        if not answered(session, key, "start", as_json=json):
            _start(session, typed, notes, pieces, yes=yes, json=json, why=why)


def _start(
    session: Session,
    typed: StartTyped,
    notes: Sequence[Note],
    pieces: int | None,
    *,
    yes: bool,
    json: bool,
    why: bool,
) -> None:
    from ...service.firstly import wanted_pieces
    from ...service.reader.start import wanted_of
    from .consent import settled_start
    from .session import give, say
    from .starting import beside, chooser, with_stock

    pieces = wanted_pieces(pieces)
    wanted, several = wanted_of(session, typed, chooser(session))
    wanted = settled_start(session.ruler(), wanted, yes=yes, json=json)
    answer = session.bench(wanted.machine).start(wanted, notes)
    for line in beside(session, wanted, answer, several):
        say(line)
    if pieces is not None:
        answer = with_stock(session, answer, pieces, as_json=json)
    give(session, answer, as_json=json, why=why, begun=True)


def next_(setup: SetupNumber = None, why: Why = False, db: Db = None, json: Json = False) -> None:
    """Show the advice again: what to set for the next piece.

    \b
    Example:
      fitlog next
    """
    from .session import give, open_session

    with open_session(db, create=False) as session:
        found, bench = session.at(setup)
        give(session, bench.look_at(found), as_json=json, why=why)


def why(setup: SetupNumber = None, db: Db = None, json: Json = False) -> None:
    """Show all that is behind the advice: reasons, chances, every note and caution.

    An aspect is settled by your good, centred or flush, by a reading inside its window, and centre
    and seat by figures too: once the real boards come out inside with 95 %, or another piece would
    cost more wood than it saves. The centre need only be known, since every stop is computed from
    it. "known, 97%" is the chance that the real boards come out inside; "about 1.8 pieces" counts
    the next one.

    \b
    Example:
      fitlog why
    """
    next_(setup, True, db, json)


def use(
    number: Annotated[
        int, typer.Argument(metavar="N", help="Number of the set-up, as review lists it.")
    ],
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
        _, bench = session.at(number)
        give(session, bench.choose(number), as_json=json)
