"""What is said of a recovered height, in English."""

from __future__ import annotations

from ....language.numbers import percent
from ....language.saying import Sentence, Tongue
from ....language.units import MM_PER_INCH, counted

Spread = tuple[float, float]  # a mean and one standard deviation
_NAMES = {
    "mouth": "the mouth",
    "tail_width": "the tail end width",
    "over_rods": "the width over rods",
    "between_rods": "the width between rods",
    "pull_gap": "the pull-apart gap",
}
STATE = {
    "measured": "measured",
    "sharpened": "sharpened, not measured since",
    "sold": "as sold",
}
_PITCH = {"given": "as given", "sample": "which the sample's own widths add up to"}


def pitch_from(t: Tongue, *, pitch: float, source: int | str) -> str:
    """Who says the pitch: a set-up, by its number, or what `_PITCH` names."""
    told = _PITCH[source] if isinstance(source, str) else f"that of set-up {source}"
    return f"Pitch: {t.size(pitch)}, {told}."


def bit_from(
    t: Tongue,
    *,
    name: str,
    diameter: Spread,
    angle: Spread,
    taught: int,
    sample: bool,
    state: str,
    under: float | None,
) -> str:
    """The bit with its figures as they are taken, and from what.

    taught: finished set-ups that spoke of it; sample: the sample does; under: what such bits run
    under, mm, where nothing else is known.
    """
    told = [counted(taught, "finished set-up")] if taught else []
    told += ["the sample"] if sample else []
    source = (
        f"corrected by {' and '.join(told)}"
        if told
        else f"{STATE[state]}, nothing is known of it beyond its figures"
    )
    if under is not None:
        source += f" (such bits run {t.length(under)} under)"
    return (
        f"Bit: {name} is taken to cut like {t.spread(diameter)} and {angle[0]:.2f} +- "
        f"{angle[1]:.2f} deg; {source}."
    )


def sample_height(t: Tongue, *, height: float) -> str:
    """The height that the sample was cut at, on the user's scale, mm."""
    return f"Sample: cut at the bit height of its set-up, {t.length(height)}."


def sample_good(t: Tongue, *, window: tuple[float, float]) -> str:
    """What is taken for granted of the sample."""
    return (
        f"Sample: it was good, so its clearance is taken to lie from {t.length(window[0])} to "
        f"{t.length(window[1])}; its own height is not needed."
    )


def height(
    t: Tongue,
    *,
    figures: Spread,
    learnt: bool,
    heard: tuple[tuple[str, float | None, float], ...],
    alone: bool,
) -> str:
    """The height, on the user's scale. heard: each reading's kind and rod, and the sd with it."""
    parts = [
        f"{t.spread(figures)} by the figures{' and the history' if learnt else ''}"
        f"{' alone' if alone else ''}"
    ]
    parts += [
        f"+- {t.ruler.doubt(sd)} with {_NAMES[kind]}{_rod(t, rod)}" for kind, rod, sd in heard
    ]
    return (
        f"Bit height: {', '.join(parts)}. (+- is one standard deviation: two times in three the "
        "truth lies inside.)"
    )


def _rod(t: Tongue, rod: float | None) -> str:
    return f" of {t.size(rod)}" if rod is not None else ""


def cut_at(t: Tongue, *, height: Spread) -> str:
    """The height that the sample was cut at by its mouth alone."""
    return (
        f"Cross-check: by its mouth alone the sample was cut at a bit height of {t.spread(height)}."
    )


def angle_from_rods(_: Tongue, *, rods: Spread, known: Spread) -> str:
    """The angle by two rods, degrees."""
    return (
        f"Angle: the two rods alone give {rods[0]:.2f} +- {rods[1]:.2f} deg; with all that is "
        f"known it is taken as {known[0]:.2f} +- {known[1]:.2f} deg."
    )


def test_piece(_: Tongue, *, chance: float, worth: bool) -> str:
    """The rule of the confirming cut, before the first one."""
    lead = f"A joint cut at this height is good with a chance of {percent(chance)}"
    if worth:
        return f"{lead}: one test piece first is worth its wood."
    return f"{lead}: for the fit a test piece is not worth its wood."


def sample_not_good(_: Tongue) -> str:
    """The sample was no good joint."""
    return (
        "Its pull-apart gap says that the sample was not a good joint: it is taken by that gap, "
        "not as good."
    )


def sharpened(_: Tongue, *, name: str, times: int) -> str:
    """The sample may be older than a sharpening."""
    return (
        f"Bit {name} was sharpened {times} x. If the sample is older than that, name a set-up "
        "from before it with --from, so that its readings are not taken for today's diameter."
    )


def height_only(t: Tongue) -> str:
    """Only the height comes back."""
    return (
        "Only the height comes back this way: fence and socket depth are proposed by "
        f"{t.act('start')}."
    )


def heights_disagree(
    t: Tongue, *, mouth: Spread, own: float | None, figures: Spread, off: float, left_out: bool
) -> str:
    """Two heights that don't go together. own: of the sample's set-up, mm."""
    known = f"figures and history, {t.spread(figures)}"
    if own is not None:
        known = f"its set-up, {t.length(own)}"
    return _disagree(
        f"The height by the mouth, {t.spread(mouth)}, and that by {known}, disagree", off, left_out
    )


def reading_disagrees(
    t: Tongue, *, kind: str, rod: float | None, value: float, off: float, left_out: bool
) -> str:
    """A reading that doesn't go with what was known."""
    name = f"{_NAMES[kind].capitalize()}{_rod(t, rod)}"
    return _disagree(f"{name} ({t.length(value)}) disagrees with the rest", off, left_out)


def _disagree(what: str, off: float, left_out: bool) -> str:
    left = "It is left out. " if left_out else ""
    return (
        f"{what} by {abs(off):.1f} standard deviations. {left}The sample may be from another bit "
        "or another pitch, or have moved with its moisture; measure again."
    )


def other_bit(_: Tongue, *, made: str, name: str, measured: bool) -> str:
    """The sample was cut with another bit."""
    what = "pitch, boards and wood" if measured else "pitch and boards"
    return (
        f"The joint was cut with bit {made}: only its {what} carry over, bit {name} is known by "
        "its own figures and set-ups. Another angle changes the look of the tails."
    )


def sharpened_since(_: Tongue, *, name: str) -> str:
    """The bit was sharpened since."""
    return f"Bit {name} was sharpened since: its angle carries over, its diameter does not."


def other_machine(_: Tongue, *, made: str) -> str:
    """The sample was cut at another table; "": at one without a name."""
    return (
        f"The joint was cut at {made or 'a table without a name'}: the zero of the height scale "
        "and the pitch belong to the table, and here they are known only as far as set-ups at it "
        "taught them."
    )


def moisture(t: Tongue, *, kind: str, width: float, per_cent: float) -> str:
    """A kept sample moves with its moisture. per_cent: by how much, mm."""
    return (
        f"A kept sample moves with its moisture: {_NAMES[kind]} of {t.length(width)} by about "
        f"{_thin(t, per_cent)} a per cent. Let it lie where the boards lie before it is measured."
    )


def _thin(t: Tongue, mm: float) -> str:
    """A length too small for two decimals of a mm."""
    return f"{mm:.3f} mm" if t.ruler.units == "mm" else f"{mm / MM_PER_INCH * 1000:.1f} thou"


def remembered(t: Tongue, *, height: float, clearance: Spread, chance: float) -> str:
    """What would come of a height that is remembered, on the user's scale, mm."""
    return (
        f"At the height you remember, {t.length(height)}, the clearance would be "
        f"{t.spread(clearance)}: good with a chance of {percent(chance)}."
    )


SENTENCES: dict[str, Sentence] = {
    "pitch-from": pitch_from,
    "bit-from": bit_from,
    "sample-height": sample_height,
    "sample-good": sample_good,
    "cut-at": cut_at,
    "angle-from-rods": angle_from_rods,
    "test-piece": test_piece,
    "no-test-piece": test_piece,
    "sample-not-good": sample_not_good,
    "sharpened": sharpened,
    "height-only": height_only,
    "heights-disagree": heights_disagree,
    "reading-disagrees": reading_disagrees,
    "other-bit": other_bit,
    "sharpened-since": sharpened_since,
    "other-machine": other_machine,
    "moisture": moisture,
    "remembered": remembered,
}
