"""The sentences and names of a box joint on a sled, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...fingers import english as shared
from ...fingers.english import learnt, shortest

_SIDE = {"key": "toward the key", "cutter": "toward the cutter"}
_PRESSING = {
    "key": "pressing toward the key",
    "cutter": "the first step toward the key, since that slot is open at the edge, the others "
    "toward the cutter",
}


def gap_from(t: Tongue, *, cutter: float, play: float, taught: int, sd: float) -> str:
    """The first key gap."""
    return (
        f"Key gap: the cutter's {t.size(cutter)} less {t.length(play)} of play{learnt(taught)}; "
        f"the play is known to +-{t.ruler.doubt(sd)}. From the key's near face "
        "to the near side of the widest tooth."
    )


def starter_from(t: Tongue, *, taught: int, sd: float) -> str:
    """The first starter."""
    return (
        f"Starter: half-way between the key gap and the slot{learnt(taught)}, known to "
        f"+-{t.ruler.doubt(sd)}, so that the play leaves the edges level."
    )


def scraps(t: Tongue, *, wide: float, thick: float) -> str:
    """The two boards of a trial."""
    return (
        f"Two scraps {t.size(thick)} thick, {shortest(t)} or longer, about {t.size(wide)} wide: "
        "mark one reference edge on each, and which end is down."
    )


def first(_: Tongue, *, fingers: int, side: str) -> str:
    """The board that begins with a finger."""
    return (
        f"First board on end, its reference edge to the key: press {_SIDE[side]}, cut; the slot "
        f"over the key, press the same way, cut, until there are {fingers} fingers. Never change "
        "the push."
    )


def first_short(_: Tongue, *, side: str, **__: object) -> str:
    """The board that begins with a finger."""
    return f"First: edge to the key, press {_SIDE[side]} each time."


def second(t: Tongue, *, starter: float, side: str) -> str:
    """The board that begins with a slot."""
    return (
        f"Second board: the starter of {t.length(starter)} against the key, the reference edge to "
        f"the starter: cut. Take the starter out and step as before, {_PRESSING[side]}."
    )


def second_short(t: Tongue, *, starter: float, **_: object) -> str:
    """The board that begins with a slot."""
    return f"Second: the {t.length(starter)} starter, then the same."


def first_boards(t: Tongue, *, gap: float, height: float, side: str) -> str:
    """The boards that begin with a finger, such as the sides."""
    return (
        f"Sides: cutter {t.length(height)} high, key gap {t.length(gap)}; the reference edge down "
        f"to the key, press {_SIDE[side]}, cut, and step with the slot over the key."
    )


def second_boards(t: Tongue, *, starter: float) -> str:
    """The boards that begin with a slot, such as front and back."""
    return (
        f"Front and back: the starter of {t.length(starter)} against the key for the first slot, "
        "then as the sides."
    )


def held(t: Tongue) -> str:
    """How the cutter is held, at a router table or a saw; round numbers of each system."""
    back = "1.5 to 3 mm" if t.ruler.units == "mm" else "1/16 to 1/8 in"
    return (
        f"A bit: shank fully in, then backed out {back}; collet clean and tight. On an arbor: "
        "flanges clean, the nut fully on its thread and tight."
    )


SENTENCES: dict[str, Sentence] = {
    # A sled goes over a router table or a saw: the usual cautions, in words for both (common
    # practice, no source).
    "unplug": same(
        "Unplug the router or the saw before touching the cutter; change a setting only with the "
        "power off and the cutter at rest."
    ),
    "collet": held,
    "feed": same(
        "Feed with the sled alone, its runners in their slots, against the cutter's rotation, the "
        "board held to its fence until it is clear of the cutter; never a climb cut, and never a "
        "loose piece beside the cutter."
    ),
    "recovered-check": same(
        "A kept finger and its slot check it: the key gap is right when the finger just fills the "
        "room between key and tooth, the key when the slot just takes it. Cut a test pair first."
    ),
    "boards-first": first_boards,
    "boards-second": second_boards,
    "boards-other-end": same(
        "The other end: the same edge to the key, the other face to the fence. Fresh backing "
        "before the first cut."
    ),
    **shared.SENTENCES,
    "gap-from": gap_from,
    "starter-from": starter_from,
    "box-scraps": scraps,
    "box-first": first,
    "box-second": second,
    "exit-block": same(
        "The cutter comes out at the back of the sled, where the thumbs are: an exit block over "
        "it, no cutter higher than the block covers, hands on marked places."
    ),
    "stacked-cutter": same(
        "A stacked cutter is not allowed, or does not mount, on many saws: the machine's manual "
        "and the local rules decide."
    ),
    "key-last-move": same("The last move of a key's screw is always the same way."),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "box-scraps": None,
    "box-first": first_short,
    "box-second": second_short,
    "key-last-move": None,
    "fresh-end": None,  # the next pair is one in any case, but where only the height goes up
}
NAMES = {
    **shared.NAMES,
    "fit setting": "key gap",
    "fit figures": "sure enough at this key gap",
    "fit goes": "the key goes {way}",
    "fit stays": "the key stays",
    "fit zero of": "key",
    "fit to measure": "from the key's near face to the near side of the widest tooth",
    "edges head": "Edges",
    "edges setting": "starter",
    "edges misfit": "step of the edges",
    "edges figures": "sure enough with this starter",
    "edges follows": "the starter follows the key by half",
    "edges goes": "the starter gets {way}",
    "edges before": "Edges",
    "edges stays": "the starter stays",
    "edges more": "the key's move takes the second board {by} in by itself",
    "edges less": "the key's move takes the second board {by} out by itself",
    "edges zero of": "starter",
    "edges to measure": "the starter",
}
