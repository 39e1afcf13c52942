"""The sentences and names of a box joint by steps of the fence, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...fingers import english as shared
from ...fingers.english import learnt, shortest
from ...half_blind import english as centring

_CENTRE = ("no-second-pass", "fence-side", "walls-first", "centre-known", "fence-from")
_CARE = ("far-shaving", "fresh-piece")


def second_from(t: Tongue, *, bit: float, pitch: float, play: float, taught: int, sd: float) -> str:
    """The first second pass."""
    return (
        f"Second pass: half of the pitch ({t.size(pitch)}) and of the play that is wanted "
        f"({t.length(play)}), less the bit ({t.size(bit)}){learnt(taught)}; the play is known to "
        f"+-{t.ruler.doubt(sd)}. Set it with a dial, or a feeler between fence and stop."
    )


def scraps(t: Tongue, *, wide: float, thick: float) -> str:
    """The two boards of a trial."""
    return (
        f"Two scraps {t.size(thick)} thick, {t.size(wide)} wide, {shortest(t)} or longer: mark "
        "one reference edge on each, and which end is down."
    )


def walls(t: Tongue, *, fence: float) -> str:
    """The centre by the walls of a slot of one pass."""
    return (
        f"First board, reference edge to the fence: one pass at {t.length(fence)}, and before any "
        f"other measure the walls on both sides of it ({t.act('walls', them='')}): half their "
        "difference is the error of the centre."
    )


def walls_short(t: Tongue, *, fence: float) -> str:
    """The centre by the walls of a slot of one pass."""
    return f"First: a pass at {t.length(fence)}; measure both walls ({t.act('walls', them='')})."


def first(t: Tongue, *, fence: float, pitch: float, second: float) -> str:
    """The slots of the first board; second: 0 where the bit makes them in one pass."""
    if not second:
        return (
            f"First board: at {t.length(fence)}, one pass, and so on a pitch of {t.length(pitch)} "
            "further out each time, to the far edge."
        )
    return (
        f"First board: at {t.length(fence)}, then with the fence {t.length(second)} further out "
        f"again; so on a pitch of {t.length(pitch)} further out each time, to the far edge. The "
        "second pass takes the wall away from the fence and pushes the board off it: hold it in."
    )


def first_short(t: Tongue, *, fence: float, pitch: float, second: float) -> str:
    """The slots of the first board."""
    if not second:
        return f"First: {t.length(fence)}, then each a pitch of {t.length(pitch)} on."
    return (
        f"First: {t.length(fence)} and {t.length(second)} further out, then each a pitch of "
        f"{t.length(pitch)} on."
    )


def second_board(t: Tongue, *, fence: float, second: float) -> str:
    """The slots of the second board, half a pitch on."""
    again = f", each with its pass {t.length(second)} further out" if second else ""
    return f"Second board, reference edge to the fence: the same from {t.length(fence)} on{again}."


def second_short(t: Tongue, *, fence: float, **_: object) -> str:
    """The slots of the second board."""
    return f"Second: the same from {t.length(fence)} on."


def turn(t: Tongue, *, fence: float) -> str:
    """The centre by a turn, on a scrap of its own."""
    return (
        f"In another scrap as wide: one pass at {t.length(fence)}, turn it about its upright axis "
        "(the other edge to the fence, the same end down), and pass again, holding it in: the "
        "shaving, far or near, shows the centre."
    )


def board_stops(t: Tongue, *, board: str, second: float, height: float) -> str:
    """The stops of one kind of boards."""
    who = "Sides" if board == "first" else "Front and back"
    again = f"then all of them again with the fence {t.length(second)} further out, "
    return (
        f"{who}: bit {t.length(height)} high; at each stop all boards, {again if second else ''}"
        "before it goes on to the next."
    )


SENTENCES: dict[str, Sentence] = {
    "recovered-check": same(
        "A kept finger and its slot check it: cut one slot with its second pass in waste and try "
        "the finger in it. Cut a test pair first."
    ),
    "boards-stops": board_stops,
    "boards-open-edge": same(
        "Their first slot is open at the reference edge: there the bit stands in the fence, whose "
        "faces close up to it, and the board bears on the fence above the slot."
    ),
    "boards-same-edge": same(
        "The reference edge to the fence at both ends of a board; the fence moves out only."
    ),
    **shared.SENTENCES,
    **{code: centring.SENTENCES[code] for code in (*_CENTRE, *_CARE)},
    "centre-settled": centring.SENTENCES["centre-settled"],
    "second-from": second_from,
    "steps-scraps": scraps,
    "steps-walls": walls,
    "steps-first": first,
    "steps-second": second_board,
    "steps-turn": turn,
    "second-out": same(
        "Widen a slot only by a pass further out, so that it takes the wall away from the fence; "
        "never pass it again with the fence further in."
    ),
    "tall-fence": same(
        "Boards on end go against a tall fence with a square block or a carrier behind them, and a "
        "backing board for the exit."
    ),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    **{code: centring.SHORT[code] for code in _CENTRE if code in centring.SHORT},
    "steps-scraps": None,
    "steps-walls": walls_short,
    "steps-first": first_short,
    "steps-second": second_short,
}
NAMES = {
    **{name: told for name, told in centring.NAMES.items() if name.startswith("centre ")},
    **shared.NAMES,
    "fit setting": "second pass",
    "fit figures": "sure enough at this second pass",
    "fit goes": "the second pass goes {way}",
    "fit stays": "the second pass stays",
    "fit zero of": "second pass",
    "fit to measure": "how far the fence is really moved on for the second pass",
    "ends goes": "the bit goes {way}",
    "ends stays": "the bit stays",
}
