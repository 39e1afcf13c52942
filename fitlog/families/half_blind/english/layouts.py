"""Why a layout has its rank, in English: phrases that are put in a row."""

from __future__ import annotations

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


SENTENCES: dict[str, Sentence] = {
    "on-marks": on_marks,
    "off-marks": off_marks,
    "lap": lap,
    "half-pins": half_pins,
    "slender": slender,
    "little-room": little_room,
    "corner-cuts": corner_cuts,
    "bit-known": bit_known,
}
