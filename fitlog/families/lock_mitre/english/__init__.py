"""The sentences and names of the lock mitre, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.numbers import content
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from . import boards, faults

_BY = {
    "gauge": "",
    "eye": ", brought to a centre line on the end by eye",
    "blocks": ", set up by kept ends",
}


def _learnt(taught: int) -> str:
    return f", corrected by {counted(taught, 'earlier set-up')}" if taught else ""


def height_from(t: Tongue, *, thick: float, middle: float, taught: int, sd: float, by: str) -> str:
    """The first height. sd: of the step of two flats, mm."""
    return (
        f"Height: from the table to the bit's top, half of {t.size(thick)} and the "
        f"{t.size(middle)} from the profile's middle to its top{_BY[by]}{_learnt(taught)}, kept a "
        "little low so that the ends stay blunt; two flats are then known to "
        f"+-{t.ruler.doubt(sd)}."
    )


def fence_from(t: Tongue, *, thick: float, middle: float, taught: int, sd: float, by: str) -> str:
    """The first fence. sd: of the step of two uprights, mm."""
    return (
        f"Fence: from its face to the bit's rim, half of {t.size(thick)} and {t.size(middle)}"
        f"{_BY[by]}{_learnt(taught)}, kept a little forward; two uprights are then known to "
        f"+-{t.ruler.doubt(sd)}."
    )


def ends(t: Tongue, *, thick: float, upright: float | None, long: float) -> str:
    """What a piece is: three ends, or the two flats alone. long: mm."""
    what, names = ("Two ends", "F1 and F2") if upright is None else ("Three ends", "F1, F2 and V")
    alike = (
        f"all {t.size(thick)} thick, planed together"
        if upright is None or abs(thick - upright) < 1e-6
        else f"F1 and F2 {t.size(thick)}, V {t.size(upright)} thick"
    )
    return (
        f"{what}, {alike}, of scrap {t.size(long)} or longer: mark them {names}, and the outside "
        "of each."
    )


def ends_short(_: Tongue, *, upright: float | None, **__: object) -> str:
    """What a piece is."""
    if upright is None:
        return "Two ends of one thickness: F1 and F2."
    return "Three ends: F1, F2 and V."


def cut(t: Tongue, *, height: float, fence: float, upright: bool) -> str:
    """The passes."""
    stands = "; V upright, inside to the fence, a backer behind it" if upright else ""
    return (
        f"Bit {t.length(height)} to its top. Fence well forward, then back in two or three passes "
        f"to {t.length(fence)} at the rim, the last one thin: F1 and F2 flat, outside up{stands}."
    )


def cut_short(_: Tongue, *, upright: bool, **__: object) -> str:
    """The passes."""
    stands = "; V upright, inside to it" if upright else ""
    return f"Fence back in passes, the last thin: F1, F2 flat, outside up{stands}."


def corner(t: Tongue, *, equal: bool) -> str:
    """The flat with the upright; the fourth end."""
    told = (
        "With the flats' step that tells the fence; a fourth end, a second upright turned and put "
        "to V, tells it whatever the edge is: out or in."
        if equal
        else "A fourth end, a second upright turned and put to V, tells the fence: out or in; with "
        "two thicknesses the corner doesn't."
    )
    return (
        "Push F1 and V together to a corner: does the flat's end stand over the upright's outside, "
        f"or under it, by how much? {told}"
    )


def corner_short(_: Tongue, *, equal: bool) -> str:
    """The flat with the upright."""
    if equal:
        return "F1 with V: flat's end over or under? How much?"
    return "A second upright, turned, to V: out or in? How much?"


def saw(t: Tongue, *, off: float) -> str:
    """The same scrap again. off: mm."""
    return (
        f"For another trial saw {t.length(off)} off each end: no end is cut twice. Outsides as "
        "before."
    )


def corner_alone(_: Tongue) -> str:
    """A corner without its flats."""
    return (
        "A corner alone can't tell height from fence: it shows their difference where the edge is "
        "sharp, the fence alone where it is blunt. Turn F2 over, put it to F1 and say that step, "
        "too."
    )


def corner_told(t: Tongue, *, over: float, fence: float, height: float, edge: float) -> str:
    """What a corner and two flats of one piece say. edge: how much an end is shortened, mm."""
    side = _way(t, height, "high", "low", "bit"), _way(t, fence, "back", "forward", "fence")
    return f"Corner and flats together: {side[0]}, {side[1]}; {_edge(t, edge)}."


def edge_short(t: Tongue, *, edge: float, **_: object) -> str:
    """The edge alone: what bit and fence are off by is in their moves."""
    told = _edge(t, edge)
    return f"{told[:1].upper()}{told[1:]}."


def _edge(t: Tongue, edge: float) -> str:
    if abs(edge) < 0.005:
        return "the edge comes just sharp"
    if edge > 0:
        return f"the edge is sharp and each end comes out {t.length(edge)} short"
    return f"the edge is blunt by {t.length(-edge)}"


def _way(t: Tongue, off: float, more: str, less: str, what: str) -> str:
    if abs(off) < 0.005:
        return f"the {what} is right"
    return f"the {what} is {t.length(abs(off))} too {'far ' if what == 'fence' else ''}" + (
        more if off > 0 else less
    )


def fit_not_set(_: Tongue, *, loose: bool) -> str:
    """The tongue's fit is the cutter's."""
    why = (
        "a worn or unmatched profile, or boards that are not home"
        if loose
        else "burrs, chips or a tongue that is not home"
    )
    return (
        f"{'Loose' if loose else 'Tight'}: the fit of the tongue is ground into the bit, no "
        f"setting moves it. Look for {why}."
    )


def fit_short(_: Tongue, *, loose: bool) -> str:
    """The tongue's fit is the cutter's."""
    look = "is the profile worn?" if loose else "burrs, chips?"
    return f"{'Loose' if loose else 'Tight'}: no setting moves it; {look}"


def two_thicknesses(t: Tongue, *, line: float, apart: float) -> str:
    """Flat and upright of two thicknesses."""
    return (
        f"Flat and upright are {t.length(apart)} apart in thickness: their outsides come flush, "
        f"and a butt line of {t.length(line)} is left. The trade planes them alike."
    )


def of_uprights(t: Tongue, *, boards: float, other: float, apart: float, thick: float) -> str:
    """Flats and uprights that are not equally dry."""
    return (
        f"Flats are at {content(boards)} moisture and uprights at {content(other)}: once alike, "
        f"boards {t.size(thick)} thick are {t.length(apart)} apart, and the corner is off by that. "
        "Let them lie together until they agree, then plane and cut them the same day."
    )


def of_scrap(t: Tongue, *, boards: float, other: float, apart: float, thick: float) -> str:
    """Scrap that is wetter or drier than the boards."""
    return (
        f"The scrap is at {content(other)} moisture and the boards at {content(boards)}: planed "
        f"alike at {t.size(thick)}, they will be {t.length(apart)} apart, and both pairs off by "
        "that. Take scrap of the same batch, or let it lie with the boards until they agree."
    )


def short_pieces(t: Tongue) -> str:
    """What is not to be held by hand; round numbers of each system."""
    short = "300 mm" if t.ruler.units == "mm" else "12 in"
    return (
        f"No short piece, least of all upright: nothing under {short} by hand, narrow ones in a "
        "carrier. A small upright test piece that kicks back costs a fingertip."
    )


def inside(
    t: Tongue,
    *,
    place: str,
    lead: float = 0.0,
    piece: int | None = None,
    size: float | None = None,
) -> str:
    """Closed outside, open inside: on the last piece, or logged with an earlier one. lead: mm."""
    tests = t.act("fault-gap", place=place)
    if piece is None:
        return (
            "Closed outside and open inside: burrs, a tongue that is not home, or a worn or "
            "unmatched profile. No setting cures it, and its corner says nothing: clean both, push "
            f"home, judge again. {tests} has the tests."
        )
    said = t.word((f"gap {place}", size))
    return f"Piece {piece} was logged with a {said}: {tests} has its causes."


SENTENCES: dict[str, Sentence] = {
    **boards.SENTENCES,
    **faults.SENTENCES,
    "gap-inside": inside,
    "gap-logged": inside,
    "height-from": height_from,
    "fence-from": fence_from,
    "mitre-ends": ends,
    "mitre-cut": cut,
    "mitre-flats": same(
        "On a flat surface turn F2 over and put it edge to edge with F1: does the turned one stand "
        "proud on top, or shy, by how much? The height is off by half of that."
    ),
    "mitre-corner": corner,
    "mitre-saw": saw,
    "corner-alone": corner_alone,
    "corner-told": corner_told,
    "fit-not-set": fit_not_set,
    "two-thicknesses": two_thicknesses,
    "moisture-uprights": of_uprights,
    "moisture-scrap-ends": of_scrap,
    "large-bit": same(
        "A large bit in a heavy cut: speed as it is marked, never faster, a router with speed "
        "control, several passes by the fence, never the whole profile at once."
    ),
    "tall-fence": same(
        "A tall, straight fence with a sacrificial face; featherboards down and in, over the cut; "
        "a backer behind every end."
    ),
    "short-pieces": short_pieces,
    "last-pass": same("Back by the fence in passes, the last one thin; the bit stays."),
}
SHORT: dict[str, Sentence | None] = {
    "mitre-ends": ends_short,
    "mitre-cut": cut_short,
    "mitre-flats": same("F2 turned over to F1: proud or shy? How much?"),
    "mitre-corner": corner_short,
    "mitre-saw": None,
    "corner-told": edge_short,
    "fit-not-set": fit_short,
    "last-pass": None,  # a step says it
    "corner-alone": same("A corner alone tells not which: say the two flats' step, too."),
}
NAMES = {
    "height head": "Height",
    "height setting": "height",
    "height misfit": "step of the flats",
    "height figures": "sure enough at this height",
    "height figures before": "by the middle of the profile",
    "height goes": "the bit goes {way}",
    "height stays": "the bit stays",
    "height zero of": "height",
    "height to measure": "from the table to the bit's top",
    "fence head": "Fence",
    "fence setting": "fence",
    "fence misfit": "step of the uprights",
    "fence figures": "sure enough at this fence",
    "fence figures before": "by the middle of the profile",
    "fence goes": "the fence goes {way}",
    "fence stays": "the fence stays",
    "fence zero of": "fence",
    "fence to measure": "from the fence's face to the bit's rim",
    "corner head": "Corner",
    "corner misfit": "step at the corner",
    "fit head": "Fit",
    "fit misfit": "fit of the tongue",
}
