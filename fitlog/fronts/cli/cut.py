"""`fitlog cut`: log what a piece showed, then say what to set next."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ...errors import FitlogError, NotUnderstood, Refused
from .options import Db, Json, SetupNumber, Yes, complete_words
from .shell import let_go_of_output

if TYPE_CHECKING:
    from ...domain import Reading, SetUp
    from ...service import Reported, Workbench
    from .session import Session


def _length(text: str, name: str = "") -> Any:
    names = [f"--{name}"] if name else []
    return typer.Option(*names, metavar="L", help=text)


Words = Annotated[
    list[str] | None,
    typer.Argument(metavar="[WORDS]...", help="What was seen.", autocompletion=complete_words),
]
Height = Annotated[str | None, _length("The bit height it was cut at, if not as advised.")]
Fence = Annotated[str | None, _length("The fence offset it was cut at.")]
Depth = Annotated[str | None, _length("The socket depth it was cut at.")]
Up = Annotated[str | None, _length("Or: how far the bit went up since the last piece.")]
Down = Annotated[str | None, _length("... down; 1/8turn works too.")]
Out = Annotated[str | None, _length("How far the fence offset grew since the last piece.")]
In = Annotated[str | None, _length("... shrank.", "in")]
Deeper = Annotated[str | None, _length("How much deeper the socket is since the last piece.")]
Shallower = Annotated[str | None, _length("... shallower.")]
SamePiece = Annotated[
    bool, typer.Option("--same-piece", help="Seen later on the last piece; no new one.")
]
Slot = Annotated[
    bool,
    typer.Option("--slot", help="Only a slot in waste, measured with --mouth: no joint, no piece."),
]
PullGap = Annotated[str | None, _length("How far the joint comes apart before it binds.")]
Mouth = Annotated[str | None, _length("Width of the slot at the surface.")]
TailWidth = Annotated[str | None, _length("Width of a tail at its end.")]
Pair = tuple[str, str] | None
Between = Annotated[
    Pair,
    typer.Option(metavar="D Y", help="Rods of diameter D in the slot's corners, Y between them."),
]
Over = Annotated[
    Pair, typer.Option(metavar="D X", help="Rods of diameter D at the tail's root, X over them.")
]
Walls = Annotated[
    Pair,
    typer.Option(metavar="NEAR FAR", help="The walls beside a cut in the middle, before the turn."),
]
Note = Annotated[str, typer.Option(metavar="TEXT", help="Anything worth keeping.")]
Scrap = Annotated[
    str, typer.Option(metavar="TEXT", help="What the piece was made of, if not the stock.")
]
ScrapWidth = Annotated[str | None, _length("Its width.")]
ScrapThickness = Annotated[str | None, _length("Its thickness.")]


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
    same_piece: SamePiece = False,
    slot: Slot = False,
    pull_gap: PullGap = None,
    mouth: Mouth = None,
    tail_width: TailWidth = None,
    between_rods: Between = None,
    over_rods: Over = None,
    walls: Walls = None,
    note: Note = "",
    scrap: Scrap = "",
    scrap_width: ScrapWidth = None,
    scrap_thickness: ScrapThickness = None,
    yes: Yes = False,
    setup: SetupNumber = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Log a trial cut, then get the next settings. Each cut is a new piece.

    \b
    What you can say, in any order, commas optional:
      fit     good | [slightly|very] tight | [slightly|very] loose   with a pull-apart gap where it
      opens centre  centred | gap far|near [EXTRA WIDTH] | shaved far|near [EXTRA WIDTH] seat
      flush | [slightly|very] proud [STEP] | [slightly|very] shy [STEP] faults  gap
      baseline|inside|flank [SIZE]
    near is at the fence, far is away from it, as the board stood at the second pass.
    Settings you don't name are those last advised. What you don't mention was not judged.

    \b
    Examples:
      fitlog cut slightly tight, gap far 0.3, proud 0.2
      fitlog cut loose 1/32in --down 1/8turn
      fitlog cut --same-piece gap near
      fitlog cut --slot --mouth 9.5
    """
    told: dict[str, Any] = {
        "settings": {"bit_height": height, "fence_offset": fence, "socket_depth": depth},
        "moves": {
            "bit_height": (up, down),
            "fence_offset": (out, in_),
            "socket_depth": (deeper, shallower),
        },
        "readings": {"pull_gap": pull_gap, "mouth": mouth, "tail_width": tail_width},
        "pairs": {"between_rods": between_rods, "over_rods": over_rods, "walls": walls},
        "scrap_width": scrap_width,
        "scrap_thickness": scrap_thickness,
        "texts": {"note": note, "scrap": scrap},
        "later": same_piece,
        "slot": slot,
        "yes": yes,
    }
    _log_and_answer(phrase, told, setup, db, json)


def _log_and_answer(
    phrase: list[str] | None, told: dict[str, Any], setup: int | None, db: str | None, json: bool
) -> None:
    from .session import give, open_session, put_json, say

    with open_session(db, create=False) as session:
        with session.log.at_one_moment():
            found = session.bench().current(setup)
            bench = session.bench(found.plan.machine)
            bench.past(found)  # learnt once, for the doubts about what is said and for the advice
        words = phrase or _asked(told)
        logged = bench.record(found, _reported(session, bench, found, words, told, json))
        what = "the slot" if logged.slot else f"piece {logged.piece}"
        # From here on the row is on disk: whatever fails now, the cut was logged and this command
        # succeeded.
        try:
            if not json:
                from ...render.answer import logged as show_logged

                show_logged(session.screen, logged, found, session.ruler(found.plan.machine))
            give(session, bench.answer(found.number), as_json=json)
            sys.stdout.flush()
        except FitlogError as error:
            if json:
                piece = None if logged.slot else logged.piece
                put_json(
                    {
                        "logged": {"setup": found.number, "piece": piece},
                        "error": {"code": error.code},
                    }
                )
            say(f"fitlog: {what} is logged; its advice failed ({error.message}): try fitlog next")
        except OSError as error:
            let_go_of_output()
            if not isinstance(error, BrokenPipeError):
                say(
                    f"fitlog: {what} is logged; its answer could not be written out "
                    f"({error.strerror})"
                )


def _asked(told: dict[str, Any]) -> list[str]:
    """Ask for the words on a terminal; readings alone need none."""
    if told["slot"] or any(told["readings"].values()) or any(told["pairs"].values()):
        return []
    if not sys.stdin.isatty():
        raise NotUnderstood(
            "nothing-said",
            "nothing was said of the piece",
            "say how it fits: fitlog cut slightly tight",
        )
    words: str = typer.prompt("How is it? (such as: slightly tight, gap far 0.3, flush)", err=True)
    return [words]


def _reported(
    session: Session,
    bench: Workbench,
    setup: SetUp,
    words: list[str],
    told: dict[str, Any],
    json: bool,
) -> Reported:
    from ...language.phrases import parse_phrases
    from ...service import Reported
    from .consent import settled_cut
    from .moves import changed

    plan = setup.plan
    if told["later"] and (
        any(v is not None for v in told["settings"].values())
        or any(v is not None for pair in told["moves"].values() for v in pair)
    ):
        raise Refused(
            "settings-on-same-piece",
            "a piece keeps the settings it was cut at",
            "leave the settings out, or --same-piece",
        )
    named, moved = changed(session, setup, told, json=json)
    reported = Reported(
        verdict=parse_phrases(words, units=session.units),
        heard=" ".join(words),
        readings=tuple(_readings(session, told)),
        changed=named,
        later=told["later"],
        slot=told["slot"],
        scrap_width=session.size(
            told["scrap_width"], "the scrap's width", 10, 2000, "any test piece"
        ),
        scrap_thickness=session.size(
            told["scrap_thickness"], "the scrap's thickness", plan.rabbet_depth, 100, "any piece"
        ),
        **told["texts"],
    )
    return settled_cut(bench, setup, reported, moved, yes=told["yes"], json=json)


def _readings(session: Session, told: dict[str, Any]) -> list[Reading]:
    from ...domain import Reading

    def read(text: str, what: str, high: float = 200.0) -> float:
        return session.size(text, what, 0.0, high, "anything on a test piece") or 0.0

    found = [
        Reading(
            kind, read(text, f"the {kind.replace('_', ' ')}", 6.0 if kind == "pull_gap" else 200.0)
        )
        for kind, text in told["readings"].items()
        if text is not None
    ]
    for kind, pair in told["pairs"].items():
        if pair is not None and kind == "walls":
            found.append(
                Reading(
                    kind,
                    read(pair[0], "the wall at the fence"),
                    other=read(pair[1], "the far wall"),
                )
            )
        elif pair is not None:
            width = read(pair[1], f"the width {kind.replace('_', ' ')}")
            found.append(Reading(kind, width, rod=read(pair[0], "the rods", 50.0)))
    return found
