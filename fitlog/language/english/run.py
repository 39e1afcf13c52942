"""A joint looked at between real boards, in English: go on or stop, what drifts, what a move
means.
"""

from __future__ import annotations

from ...domain.said import UNPLACED
from ..numbers import together
from ..saying import Sentence, Tongue

_WHY = {"": "", "drift": ", since it drifts", "edge": ", since it may be near the edge of good"}


def on(_: Tongue, *, after: int, look: int, why: str, off: int = 0) -> str:
    """The run may go on. after: joints cut by then; look: joints until the next look; why: so
    soon, "drift", "edge", "doubt", or "" for no such reason; off: how many of the last joints
    looked at were called off.
    """
    if why == "doubt" and off > 1:
        return (
            f"The last {off} joints looked at were called off, though all pieces together make the "
            f"next one likely good: measure joint {after + look} and say its number; where it is "
            "off too, stop and cut a scrap."
        )
    if why == "doubt":
        return (
            f"Move nothing yet, one joint may be off: look at the next one, joint {after + look}."
        )
    more = "the next joint" if look == 1 else f"{look} more joints"
    return f"Go on; look again after {more}, at joint {after + look}{_WHY[why]}."


def stop(
    t: Tongue,
    *,
    after: int,
    off: tuple[tuple[str, str | None], ...],
    faults: tuple[str, ...],
    stops: bool,
    to: tuple[tuple[str, float], ...],
) -> str:
    """The run is to stop. off: aspects that are not settled, each with its word; faults: places of
    gaps; stops: those of the fence stay; to: what to set, by part of the machine, on the user's
    scale, mm.
    """
    told = f"Stop the run at joint {after}: {why(off, faults)}."
    if to:
        parts = together([f"the {t.names[f'{part} part']} to {t.length(at)}" for part, at in to])
        stay = "the stops stay" if stops else "make the stops anew"
        told += f" Set {parts}, unplugged; {stay}. Try it on scrap before the next board."
    return told


def why(off: tuple[tuple[str, str | None], ...], faults: tuple[str, ...]) -> str:
    """Return what was seen that stops a run; what is only left open by it is not named with it."""
    off = tuple(pair for pair in off if pair[1]) or off
    gaps = [f"a gap{_at(place)}, which no setting cures" for place in faults]
    words = [f"the {a} is {word}" if word else f"the {a} is not settled" for a, word in off]
    return together([*gaps, *words])


def _at(place: str) -> str:
    return "" if place == UNPLACED else f" at the {place}"


def drift(t: Tongue, *, mean: float, sd: float, word: str) -> str:
    """The misfit of the lead drifts. mean, sd: of its size a joint, mm; word: toward which."""
    return (
        f"The {t.aspect} drifts toward {word}: {t.spread((10 * mean, 10 * sd))} every ten joints. "
        "Look at the collet and the locks."
    )


def joints(_: Tongue, *, first: int, last: int) -> str:
    """Joints that were cut since the last look. first, last: their numbers."""
    if first >= last:
        return "The joints cut by now may be like it: try each dry before the glue."
    return f"Joints {first} to {last} may be like it: try each dry before the glue."


def mixed(_: Tongue, *, settings: tuple[str, ...]) -> str:
    """A setting moves between real boards. settings: what they are called."""
    same = together([f"the same {one}" for one in settings])
    return (
        f"Both boards of one joint need {same}: finish or discard what is half cut before you "
        "move, never pair a board from before the move with one from after it, and never pass a "
        "finished cut again."
    )


SENTENCES: dict[str, Sentence] = {
    "run-on": on,
    "run-stop": stop,
    "run-drift": drift,
    "run-cut": joints,
    "run-mixed": mixed,
}
