"""The tenon's own sentences and names, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...flip import english as shared
from ...flip.english import boards


def mortise_from(t: Tongue, *, thick: float, wide: float, taught: int, sd: float) -> str:
    """The first place of the mortise. thick: of the rail, mm."""
    return (
        f"Mortise fence: the middle of a {t.size(thick)} rail less half a {t.size(wide)} mortise"
        f"{shared.learnt(taught)}, so that the faces meet; known to +-{t.ruler.doubt(sd)}."
    )


def mortise(t: Tongue, *, fence: float, wide: float, deep: float) -> str:
    """The mortise, first."""
    return (
        f"Mortise, or a slot of the same bit, in scrap of the stile: its near wall "
        f"{t.length(fence)} from the face side, {t.size(wide)} wide, {t.size(deep)} deep. Measure "
        "its width at three places."
    )


def mortise_short(t: Tongue, *, fence: float, **_: object) -> str:
    """The mortise."""
    return f"Mortise in scrap, near wall {t.length(fence)} from the face side; one does for all."


def tenon(t: Tongue, *, height: float, stop: float, thick: float) -> str:
    """The tenon, thick first."""
    return (
        f"Rail scrap of the real {t.size(thick)}, flat, a backer behind it, against a stop at "
        f"{t.length(stop)}: bit {t.length(height)} high, one face, turn it over, the other face, "
        "nothing moved. Both passes cut the face on the table."
    )


def tenon_short(t: Tongue, *, height: float, stop: float, **_: object) -> str:
    """The tenon."""
    return f"Rail flat, bit {t.length(height)}, stop {t.length(stop)}: one face, turn, the other."


def measure(t: Tongue) -> str:
    """Its measure, tight or not."""
    return (
        "Measure the tenon at tip and shoulder, mean of three, and type it with the mortise "
        f"({t.act('read', typed='jaws=MORTISE:TENON')}): never force what is tight."
    )


def try_it(_: Tongue, *, faces: bool, shoulder: bool) -> str:
    """What is judged."""
    says = ["push it in by hand and say how it goes; a feeler beside it where it is loose"]
    if faces:
        says.append("in the stile, a straightedge over both faces: is the rail proud, shy or flush")
    if shoulder:
        says.append("look at the shoulder: closed or open")
    return f"Try it: {'; '.join(says)}."


def try_short(_: Tongue, *, faces: bool, shoulder: bool) -> str:
    """What is judged."""
    more = [*(["faces"] if faces else []), *(["shoulder"] if shoulder else [])]
    rest = f"; once it goes in {', '.join(more)}" if more else ""
    return f"Measure it, push it in by hand: fit{rest}."


SENTENCES: dict[str, Sentence] = {
    **shared.SENTENCES,
    **boards.TENON,
    "mortise-from": mortise_from,
    "cut-mortise": mortise,
    "cut-tenon": tenon,
    "measure-tenon": measure,
    "try-tenon": try_it,
    "near-face": same(
        "At a router table always cut the face that lies on the table or at the fence: to cut the "
        "far one traps the work between bit and fence."
    ),
    "fresh-mortise": same(
        "A new fence wants another mortise in the scrap, beside the last one; the tenon's end is "
        "none the worse for it."
    ),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "cut-mortise": mortise_short,
    "cut-tenon": tenon_short,
    "measure-tenon": None,
    "try-tenon": try_short,
    "fresh-mortise": same("Another mortise in the scrap; the tenon stays."),
}
NAMES = {
    **shared.NAMES,
    "faces setting": "mortise fence",
    "faces figures": "sure enough at this fence",
    "faces goes": "the mortise goes {way}",
    "faces stays": "the mortise stays",
    "faces zero of": "mortise fence",
    "faces to measure": "from the face side to the mortise's near wall",
}
