"""Why a layout has its rank, in English: phrases that are put in a row."""

from __future__ import annotations

import math

from ....errors import Mm
from ....language.saying import Sentence, Tongue
from ....language.units import counted


def on_marks(_: Tongue) -> str:
    """All that sets the fit is on the fence's marks."""
    return "every cut that sets the fit on the fence's marks"


def off_marks(t: Tongue, *, step: float, lost: float, largest: float) -> str:
    """What rounding to the fence's step takes, mm of play, and moves a cut by."""
    rounds, much = f"rounding to the fence's {t.length(step)}", t.length(abs(lost))
    if much == t.length(0.0):
        return f"{rounds} moves a cut by up to {t.length(largest)}, the play stays"
    if lost > 0:
        return f"{rounds} takes {much} of the play"
    return f"{rounds} adds {much} to the play"


def lap(t: Tongue, *, share: float, how: str, tails: float) -> str:
    """The lap in front of the sockets. how: "thin", "thick" or "sound"; tails: their length, mm."""
    if how == "thick":
        return f"short tails, {t.length(tails)}, behind a lap of {share:.0%}"
    return f"a {how} lap, {share:.0%} of the pin board"


def half_pins(t: Tongue, *, exact: bool, thin: float, edge: float, passes: int) -> str:
    """The half-pins. edge: how much thicker than half a pin; passes: at each edge."""
    if exact:
        return f"exact half-pins, {t.length(thin)} at the thinnest"
    kind = "thicker" if edge > 0 else "thinner"
    more = " and another pass to clear each edge" if passes > 1 else ""
    return f"half-pins of {t.length(thin)}, {kind} than half a pin{more}"


def slender(t: Tongue, *, root: float) -> str:
    """Pins or tails slender at their root, mm."""
    return f"slender at the root, {t.length(root)}"


def little_room(t: Tongue, *, room: float, why: str, figures: tuple[tuple[str, Mm], ...]) -> str:
    """Little room to raise the bit, mm. why: the limit in words, with what they name."""
    return f"little room to raise the bit: {t.length(room)} to {t.clause(why, figures)}"


def corner_cuts(t: Tongue, *, cuts: int, apart: float | None) -> str:
    """The work of a corner. apart: the passes that set the fit of wide tails, mm."""
    passes = f"{counted(cuts, 'cut')} a corner"
    return passes if apart is None else f"{passes}, the fit set by passes {t.length(apart)} apart"


def bit_known(_: Tongue, *, setups: int) -> str:
    """How well the bit is known."""
    return f"a bit known from {counted(setups, 'set-up')}" if setups else "a bit not met yet"


def groove_short(t: Tongue, *, short: float) -> str:
    """A tail that does not cover the bottom's groove. short: of the cover that is wanted, mm."""
    return f"{t.ruler.doubt(short)} short of hiding the groove"


def groove_hidden(
    t: Tongue, *, width: float, at: float, depth: float, below: float, above: float, tail: int
) -> str:
    """A groove that a tail covers, mm below and above it. tail: which, 1 for the lowest."""
    which = "the lowest tail" if tail == 1 else f"tail {tail} from below"
    return (
        f"The bottom's groove, {_groove(t, width, at)} and {t.size(depth)} deep, ends in {which}, "
        f"with {t.length(below)} of tail below it and {t.length(above)} above. It shows at no "
        "corner, and all four boards can be grooved from end to end."
    )


def groove_shows(
    t: Tongue,
    *,
    width: float,
    at: float,
    depth: float,
    which: int | None,
    cover: float,
    move: tuple[float, float] | None,
    widest: float | None,
    room: float | None,
    deepest: float | None,
) -> str:
    """A groove that no tail covers enough. which: of the layouts comes nearest, None: there is one;
    cover: of its tail, mm, below 0 what comes out; the rest: what helps, see `Groove`.

    A groove that stops short of an end would have to be dropped onto the bit: it is not offered.
    """
    groove = f"{_groove(t, width, at)} and {t.size(depth)} deep"
    much = (
        f"{t.ruler.doubt(-cover)} of it comes out at the pin boards' ends"
        if cover < 0
        else f"a tail covers it by {t.length(cover)} only"
    )
    lead = (
        f"The bottom's groove, {groove}, is not hidden, {much}"
        if which is None
        else f"No layout hides a groove {groove}; of these, number {which} comes nearest, {much}"
    )
    cures = [
        *([] if move is None else [_moved(t, *move)]),
        *([] if widest is None else [_narrower(t, widest, room)]),
        *([] if deepest is None else [f"make it at most {_inwards(t, deepest)} deep"]),
    ]
    return f"{lead}: {', or '.join([*cures, 'plug it at both ends of the pin boards'])}."


def _groove(t: Tongue, width: float, at: float) -> str:
    return f"{t.size(width)} wide, {t.size(at)} from the lower edge"


def _moved(t: Tongue, first: float, last: float) -> str:
    """How a groove is moved: up by, from and to, below 0 down, mm."""
    way, low, high = ("raise", first, last) if first > 0 else ("lower", -last, -first)
    least, most = _steps(t, low, high)
    if least > most:  # less room than the steps that a person sees
        return f"{way} it by {t.length((low + high) / 2)}"
    span = "" if least == most else f"{t.size(least).rpartition(' ')[0]} to "
    return f"{way} it by {span}{t.size(most)}"


def _narrower(t: Tongue, widest: float, room: float | None) -> str:
    if room is None:
        return f"make it at most {_inwards(t, widest)} wide"
    at = _steps(t, room, room)[0]
    return f"make it at most {_inwards(t, widest - at + room)} wide, {t.size(at)} from the edge"


def _inwards(t: Tongue, most: float) -> str:
    return t.size(_steps(t, most, most)[1])


def _steps(t: Tongue, low: float, high: float) -> tuple[float, float]:
    """Round a range inwards to steps that a person measures by, mm."""
    step = {"mm": 0.1, "inch": 0.254}.get(t.ruler.units, 25.4 / t.ruler.marks)
    return math.ceil(low / step - 1e-6) * step, math.floor(high / step + 1e-6) * step


SENTENCES: dict[str, Sentence] = {
    "on-marks": on_marks,
    "off-marks": off_marks,
    "lap": lap,
    "half-pins": half_pins,
    "slender": slender,
    "little-room": little_room,
    "corner-cuts": corner_cuts,
    "bit-known": bit_known,
    "groove-short": groove_short,
    "groove-hidden": groove_hidden,
    "groove-shows": groove_shows,
}
