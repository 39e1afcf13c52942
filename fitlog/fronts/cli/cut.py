"""`fitlog cut`: log what a piece showed, then say what to set next."""

from __future__ import annotations

import sys
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated

import typer

from ...errors import FitlogError, NotUnderstood
from ...texts import tell
from .options import Db, Json, Key, Pair, SetupNumber, Why, Yes, complete_words, length, pair
from .shell import let_go_of_output, told

if TYPE_CHECKING:
    from ...domain import SetUp, TrialCut
    from ...service import Workbench
    from ...service.reader.cuts import CutTyped
    from .session import Session


Words = Annotated[
    list[str] | None,
    typer.Argument(metavar="[WORDS]...", help="What was seen.", autocompletion=complete_words),
]
Height = Annotated[str | None, length("The bit height it was cut at, if not as advised.")]
Fence = Annotated[str | None, length("The fence offset it was cut at.")]
Depth = Annotated[str | None, length("The depth it was cut at, where the joint has one.")]
Up = Annotated[str | None, length("Or: how far the bit went up since the last piece.")]
Down = Annotated[str | None, length("... down; 1/8turn works too.")]
Out = Annotated[str | None, length("How far the fence offset grew since the last piece.")]
In = Annotated[str | None, length("... shrank.", "--in")]
Deeper = Annotated[str | None, length("How much deeper that is since the last piece.")]
Shallower = Annotated[str | None, length("... shallower.")]
Set = Annotated[
    list[str] | None,
    typer.Option("--set", metavar="NAME=L", help="Any setting it was cut at, by its name."),
]
Move = Annotated[
    list[str] | None,
    typer.Option("--move", metavar="NAME=L", help="Or: its move since the last piece, + or -."),
]
Read = Annotated[
    list[str] | None,
    typer.Option(
        "--read", metavar="KIND=VALUE[:SECOND]", help="Any reading of the joint by its name."
    ),
]
SamePiece = Annotated[
    bool, typer.Option("--same-piece", help="Seen later on the last piece; no new one.")
]
Slot = Annotated[
    bool,
    typer.Option("--slot", help="Only a slot in waste, measured with --mouth: no joint, no piece."),
]
SameEnd = Annotated[
    bool, typer.Option("--same-end", help="Cut again on the last piece's end, where a joint can.")
]
PullGap = Annotated[
    str | None, length("How far the joint comes apart before it binds.", "--pull-gap")
]
Mouth = Annotated[str | None, length("Width of the slot at the surface.", "--mouth")]
TailWidth = Annotated[str | None, length("Width of a tail at its end.", "--tail-width")]
Between = Annotated[
    Pair,
    pair("--between-rods", "D Y", "Rods of diameter D in the slot's corners, Y between them."),
]
Over = Annotated[
    Pair, pair("--over-rods", "D X", "Rods of diameter D at the tail's root, X over them.")
]
Walls = Annotated[
    Pair, pair("--walls", "NEAR FAR", "The walls beside a cut in the middle, before the turn.")
]
Note = Annotated[str, typer.Option(metavar="TEXT", help="Anything worth keeping.")]
Scrap = Annotated[
    str, typer.Option(metavar="TEXT", help="What the piece was made of, if not the stock.")
]
ScrapWidth = Annotated[str | None, length("Its width.")]
ScrapThickness = Annotated[str | None, length("Its thickness.")]


def cut(
    phrase: Words = None,
    height: Height = None,
    fence: Fence = None,
    depth: Depth = None,
    up: Up = None,
    down: Down = None,
    out: Out = None,
    in_: In = None,
    deeper: Deeper = None,
    shallower: Shallower = None,
    set_: Set = None,
    move: Move = None,
    read: Read = None,
    same_piece: SamePiece = False,
    slot: Slot = False,
    same_end: SameEnd = False,
    gap: PullGap = None,
    wide: Mouth = None,
    tail: TailWidth = None,
    between: Between = None,
    over: Over = None,
    beside: Walls = None,
    note: Note = "",
    scrap: Scrap = "",
    scrap_width: ScrapWidth = None,
    scrap_thickness: ScrapThickness = None,
    why: Why = False,
    yes: Yes = False,
    setup: SetupNumber = None,
    key: Key = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Log a trial cut, then get the next settings. Each cut is a new piece.

    \b
    What you can say of a half-blind dovetail, in any order, commas optional:
      fit     good | [slightly|very] tight | [slightly|very] loose
              with a pull-apart gap where it opens
      centre  centred | gap far|near [EXTRA WIDTH]
              shaved far|near [EXTRA WIDTH]
      seat    flush | [slightly|very] proud [STEP] | [slightly|very] shy [STEP]
      faults  gap baseline|inside|flank [SIZE]
    What another joint is asked: fitlog joints.
    near is at the fence, far is away from it, as the board stood at the second pass.
    What joiners usually say is understood, too, or asked about: sloppy; 0.3 proud; snug.
    Your own: fitlog words add "like butter" = good.
    Settings you don't name are those last advised. What you don't mention was not judged.
    Without a comma "good 0.3 proud" is asked: the number could be either word's.

    A dovetail's fence offset is from the fence to the bit's centre, its socket depth from the
    board's end to the bit's centre: a caliper to the far edge of the tip reads half the bit's
    diameter more, to the deepest point of the mouth half the mouth more. Half the difference of
    the two walls is the centre's error; they are measured before any turn. What no shop would
    mean is asked about, or refused where nobody can answer; what is only unlikely is logged and
    asked about afterwards.

    \b
    Examples:
      fitlog cut slightly tight, gap far 0.3, proud 0.2
      fitlog cut loose 1/32in --down 1/8turn
      fitlog cut --same-piece gap near
      fitlog cut --slot --mouth 9.5
    """
    from ...service.reader.cuts import CutTyped, Dialled
    from ...service.reader.lengths import PieceTyped
    from .consent import asks
    from .session import answered, open_session

    settings = {
        "--height": Dialled(height, up, down),
        "--fence": Dialled(fence, out, in_),
        "--depth": Dialled(depth, deeper, shallower),
    }
    one = {"--pull-gap": gap, "--mouth": wide, "--tail-width": tail}
    two = {"--between-rods": between, "--over-rods": over, "--walls": beside}
    piece = PieceTyped(scrap, scrap_width, scrap_thickness)
    more = (set_ or (), move or (), read or ())
    said = tuple(phrase or ())
    typed = CutTyped(said, settings, {**one, **two}, same_piece, slot, same_end, note, piece, *more)
    with open_session(db, create=False, asks=asks(json)) as session:
        if not answered(session, key, "cut", as_json=json):
            _log_and_answer(session, typed, setup, yes, json, why)


def _log_and_answer(
    session: Session, typed: CutTyped, number: int | None, yes: bool, json: bool, why: bool
) -> None:
    from ...service.reader.cuts import reported
    from ...service.reader.own_options import with_options
    from .consent import settled_cut

    setup, bench = session.at(number)
    typed = with_options(typed, setup.plan.joint)
    typed = replace(typed, words=typed.words or asked_words(typed, setup.plan.joint))
    told, moved = reported(session.reader, setup, typed)
    told = settled_cut(bench, setup, told, moved, yes=yes, json=json)
    _answer(session, bench, setup, bench.record(setup, told), json, why)


def _answer(
    session: Session, bench: Workbench, setup: SetUp, logged: TrialCut, json: bool, why: bool
) -> None:
    """Answer a cut whose row is on disk: whatever fails now, it was logged and the command
    succeeded.
    """
    from ...render.short import understood
    from .session import give, put_json, say

    what = tell("the slot") if logged.slot else tell("piece {piece}", piece=logged.piece)
    try:
        if not json:
            understood(session.screen, logged, setup, bench.ruler)
        give(session, bench.answer(setup.number), as_json=json, why=why)
        sys.stdout.flush()
    except FitlogError as error:
        if json:
            piece = None if logged.slot else logged.piece
            row = {"setup": setup.number, "piece": piece}
            put_json({"logged": row, **told(error)})
        say(
            "fitlog: {what} is logged; its advice failed ({why}): try fitlog next",
            what=what,
            why=error.message,
        )
    except OSError as error:
        let_go_of_output()
        if not isinstance(error, BrokenPipeError):
            say(
                "fitlog: {what} is logged; its answer could not be written out ({strerror})",
                what=what,
                strerror=error.strerror,
            )


def asked_words(typed: CutTyped, joint: str) -> tuple[str, ...]:
    """Return the words asked for on a terminal; readings alone need none."""
    from ...families.typed import speech_of

    if typed.wordless:
        return ()
    speech = speech_of(joint)
    if not sys.stdin.isatty():
        raise NotUnderstood(
            "nothing-said",
            "nothing was said of the piece",
            "say how it fits: fitlog cut {word_of}",
            word_of=speech.word_of(),
        )
    words: str = typer.prompt(
        tell("How is it? ({example_of})", example_of=speech.example_of()), err=True
    )
    return (words,)
