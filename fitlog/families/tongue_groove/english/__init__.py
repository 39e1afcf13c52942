"""The tongue and groove's own sentences and names, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...flip import english as shared
from ...flip.english import boards


def groove(t: Tongue, *, fence: float, deep: float, past: float, thick: float) -> str:
    """The groove, first. past: what the second pass takes off the far wall, mm."""
    long = "300 mm" if t.ruler.units == "mm" else "12 in"
    return (
        f"Groove first, in a board of the real {t.size(thick)}, {long} or longer, on edge, its "
        f"face to the fence, {t.length(fence)} from the bit's axis, {t.size(deep)} deep: pass, "
        "turn the other face to the fence, pass again. The second pass takes about "
        f"{t.length(past)} off the wall away from the fence."
    )


def groove_once(t: Tongue, *, fence: float, deep: float, thick: float) -> str:
    """The groove in one pass, first."""
    long = "300 mm" if t.ruler.units == "mm" else "12 in"
    return (
        f"Groove first, in a board of the real {t.size(thick)}, {long} or longer, on edge, its "
        f"face side to the fence, {t.length(fence)} from the bit's axis, {t.size(deep)} deep: one "
        "pass, never turned."
    )


def groove_once_short(t: Tongue, *, fence: float, **_: object) -> str:
    """The groove."""
    return f"Groove at {t.length(fence)}, face side to the fence, one pass; one that is cut does."


def groove_from(t: Tongue, *, thick: float, taught: int, sd: float) -> str:
    """The first place of the groove. thick: of the board with the tongue, mm."""
    return (
        f"Groove fence: half of the {t.size(thick)} board with the tongue{shared.learnt(taught)}, "
        f"so that the faces meet; known to +-{t.ruler.doubt(sd)}."
    )


def groove_short(t: Tongue, *, fence: float, **_: object) -> str:
    """The groove."""
    return f"Groove at {t.length(fence)}: pass, turn the face, pass; one that is cut does."


def measure(t: Tongue) -> str:
    """Its width, before any tongue."""
    return (
        "Measure the groove by the inside jaws, mean of three, and type it before any tongue is "
        f"cut: {t.act('read-waste', typed='groove=WIDTH')}; the height is then worked out from it."
    )


def tongue(t: Tongue, *, height: float, stop: float, thick: float) -> str:
    """The tongue, thick first."""
    return (
        f"Tongue on the board's other edge, {t.size(thick)}, flat, the fence as its stop at "
        f"{t.length(stop)}: bit {t.length(height)} high, one face, turn it over, the other face, "
        "nothing moved. Measure it at tip and shoulder and type it with the groove "
        f"({t.act('read', typed='jaws=GROOVE:TONGUE')})."
    )


def tongue_short(t: Tongue, *, height: float, stop: float, **_: object) -> str:
    """The tongue."""
    return f"Tongue flat, bit {t.length(height)}, {t.length(stop)} long: one face, turn, the other."


def try_it(_: Tongue, *, shoulder: bool, free: bool) -> str:
    """What is judged."""
    how = "say whether the panel moves by itself" if free else "say how it goes together by hand"
    look = "look at the shoulder; " if shoulder else ""
    return (
        f"Saw the board in two and try them: {how}, a feeler beside the tongue where it is loose; "
        f"{look}a straightedge over both faces."
    )


def try_short(_: Tongue, *, shoulder: bool, free: bool) -> str:
    """What is judged."""
    return (
        f"Measure the tongue, then together by hand: fit{', shoulder' if shoulder else ''}, faces."
    )


def near_side(t: Tongue, *, fence: float) -> str:
    """The bit may stand on the near side. fence: where it goes instead, on the user's scale, mm."""
    return (
        "Cut no more at this fence: by its width the groove's second pass was at the board's "
        "middle or nearer, where it is a climb cut. Move the fence out to "
        f"{t.length(fence)}, cut a fresh groove and see that the wall away from the fence is cut; "
        "log it with the fence that was set."
    )


def by_thickness(t: Tongue, *, said: tuple[str, float | None]) -> str:
    """No setting moves the faces."""
    return (
        f"Faces {t.word(said)}: tongue and groove are in the middle of their boards, so that is "
        "half of what the boards differ in thickness, or a face that was off the table or the "
        "fence. No setting moves it: plane the boards together."
    )


SENTENCES: dict[str, Sentence] = {
    **shared.SENTENCES,
    **boards.GROOVE,
    "cut-groove": groove,
    "cut-groove-once": groove_once,
    "groove-from": groove_from,
    "measure-groove": measure,
    "cut-tongue-flat": tongue,
    "try-boards": try_it,
    "near-side": near_side,
    "faces-by-thickness": by_thickness,
    "far-branch": same(
        "The bit stands beyond the board's middle as seen from the fence, so that the second pass "
        "cuts the wall away from the fence; nearer than the middle it would be a climb cut: never."
    ),
    "held-in": same(
        "On edge the board leans off the fence: hold it in, featherboard before the bit, tall "
        "fence."
    ),
    "fresh-groove": same(
        "A new fence wants another groove, in a fresh edge; the tongue is none the worse for it."
    ),
    "pushed-off": same(
        "The second groove pass pushes the board off the fence: hold it in, featherboard before "
        "the bit, tall fence."
    ),
    "near-face": same(
        "The tongue: always cut the face that lies on the table; to cut the far one traps the work."
    ),
    "fence-twice": same("A fence move counts twice in a groove that is cut from both faces."),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "cut-groove": groove_short,
    "cut-groove-once": groove_once_short,
    "fresh-groove": same("Another groove in a fresh edge; the tongue stays."),
    "measure-groove": None,
    "cut-tongue-flat": tongue_short,
    "try-boards": try_short,
}
NAMES = {
    **shared.NAMES,
    "fit more": "the groove gets wider by {by}",
    "fit less": "the groove gets narrower by {by}",
    "faces setting": "groove fence",
    "faces figures": "sure enough at this fence",
    "faces goes": "the groove goes {way}",
    "faces stays": "the groove stays",
    "faces zero of": "groove fence",
    "faces to measure": "from the face side to the middle of the groove",
}
