"""How to cut a test piece of a sliding dovetail, and what is minded beside it; in English."""

from __future__ import annotations

from ....language.numbers import content
from ....language.saying import Sentence, Tongue


def sockets(t: Tongue, *, height: float, narrow: float, waste: float) -> str:
    """The sockets, first. narrow: their mouth; waste: how deep the straight bit goes, mm."""
    return (
        f"Sockets first, in panel scrap: waste with a straight bit narrower than {t.size(narrow)}, "
        f"to {t.length(waste)}; then two or three sockets at {t.length(height)}, each in one pass "
        "right through. From then on the height is not touched."
    )


def sockets_short(t: Tongue, *, height: float, **_: object) -> str:
    """The sockets."""
    return f"Socket: {t.length(height)}; one that is cut does for every trial."


def pack(t: Tongue, *, by: float, tongue: float) -> str:
    """What lies under the shelf's end. by: how thick, mm."""
    if by <= 1e-6:
        return f"Leave the bit as it stands: the tongue is {t.length(tongue)} high."
    return (
        f"Leave the bit as it stands and pack {t.length(by)} under the shelf's end (papers, tape): "
        f"the tongue is {t.length(tongue)} high and stays off the socket's floor."
    )


def pack_short(t: Tongue, *, by: float, **_: object) -> str:
    """What lies under the shelf's end."""
    return f"Pack under the shelf's end: {t.length(by)}." if by > 1e-6 else ""


def tongue(t: Tongue, *, exposure: float, thickness: float, slide: float, both: bool) -> str:
    """The tongue."""
    faces = (
        "one face, then turn it about its upright axis and pass the other, nothing moved"
        if both
        else "one face only, the other stays straight"
    )
    return (
        f"Tongue: a tall fence over the bit, the tip {t.length(exposure)} out of it; shelf scrap "
        f"of the real {t.size(thickness)}, {t.size(slide)} wide, on end: {faces}."
    )


def tongue_short(t: Tongue, *, exposure: float, both: bool, **_: object) -> str:
    """The tongue."""
    faces = "both faces" if both else "one face"
    return f"On end: the tip {t.length(exposure)} out of the fence, {faces}."


def try_it(_: Tongue, *, fit: bool, shoulder: bool) -> str:
    """What is judged."""
    says = []
    if fit:
        says.append("slide it in dry and say how far it goes (loose: pull it straight out, gap)")
    if shoulder:
        says.append("once it goes home look at both shoulders: closed or open")
    return f"Try it: {'; '.join(says)}."


def try_short(_: Tongue, *, fit: bool, shoulder: bool) -> str:
    """What is judged."""
    return "Slide it in; home, look at both shoulders." if shoulder else "Slide it in."


def bottoms(t: Tongue, *, open: float) -> str:
    """The tongue stands on the socket's floor. open: the gap at the shoulders, mm."""
    return (
        f"Both shoulders {t.length(open)} open: the tongue stands on the socket's floor and is "
        "wedged by that, whatever the exposure. Look through the end, clear the chips, and judge "
        "the fit again with the shoulders closed."
    )


def plane(t: Tongue, *, by: float) -> str:
    """The tongue's end is planed."""
    return f"Plane {t.length(by)} off the tongue's end; the bit stays."


def pack_otherwise(t: Tongue, *, by: float) -> str:
    """Another packing under the shelf's end."""
    if by <= 1e-6:
        return "Cut the fresh end without packing."
    return f"Cut the fresh end with {t.length(by)} packed under it; the bit stays."


def narrow(t: Tongue, *, width: float, least: float) -> str:
    """A scrap that rubs less than the shelf will."""
    return (
        f"A scrap {t.size(width)} wide rubs less than the shelf: its words count as those of a "
        f"short slide. Take one at least {t.size(least)} wide if you can."
    )


def moisture(t: Tongue, *, scrap: float, boards: float, apart: float, thick: float) -> str:
    """Scrap that is wetter or drier than the shelves. apart: in thickness, mm."""
    return (
        f"The scrap is at {content(scrap)} moisture and the shelves at {content(boards)}: once "
        f"alike, a shelf {t.size(thick)} thick is {t.length(apart)} off, and so is its play. Take "
        "scrap of the same batch, or let it lie with the shelves until they agree."
    )


def bottoms_short(t: Tongue, *, open: float) -> str:
    """The tongue stands on the socket's floor."""
    return "Open shoulders wedge the tongue: clear the chips, look through the end."


SENTENCES: dict[str, Sentence] = {
    "cut-sockets": sockets,
    "pack-under": pack,
    "cut-tongue": tongue,
    "try-tongue": try_it,
    "bottoms": bottoms,
    "plane-tongue": plane,
    "pack-otherwise": pack_otherwise,
    "narrow-scrap": narrow,
    "moisture-shelf": moisture,
}
SHORT: dict[str, Sentence | None] = {
    "cut-sockets": sockets_short,
    "pack-under": pack_short,
    "cut-tongue": tongue_short,
    "try-tongue": try_short,
    "new-socket": lambda _: "A new height means new sockets.",
    "never-thicker": lambda _: "Never pass a cut tongue at less: take a fresh end.",
    "bottoms": bottoms_short,
    "pack-otherwise": None,
}
