"""What is done on the real boards of joints cut from both faces, and how one is got back; in
English.
"""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue


def unsure(_: Tongue, *, ended: str | None, code: str) -> str:
    """Why not to cut real boards yet. ended, code: how the set-up stands."""
    if ended == "abandoned":
        return "This set-up was abandoned: its settings were never shown to be good."
    if ended == "as it is":
        return "This set-up was finished short of ready: cut a test piece first."
    return "Not ready yet: these settings may still change, so cut no real boards by them."


def both_faces(t: Tongue, *, height: float, stop: float) -> str:
    """All parts at one height."""
    return (
        f"Bit at {t.length(height)}, stop at {t.length(stop)}: every part from both faces, nothing "
        "moved in between; brush before the stop at every pass."
    )


def sort_parts(t: Tongue, *, most: float) -> str:
    """How alike the parts must be. most: the whole width of what is good, as a thickness, mm."""
    return (
        f"Sort the parts by thickness: a spread of {t.length(most)} takes all of what is good. A "
        "lot that is thicker wants the bit higher by half of what it is thicker."
    )


def mortises(t: Tongue, *, fence: float, wide: float, deep: float) -> str:
    """All mortises, before any tenon."""
    return (
        f"All mortises first, {t.size(wide)} wide and {t.size(deep)} deep, their near wall "
        f"{t.length(fence)} from the face side, and that side to the fence every time."
    )


def rail(t: Tongue, *, long: float | None, clear: float | None, tenon: float) -> str:
    """How long rails are. long: from end to end; clear: between the stiles, mm."""
    if long is None or clear is None:
        return (
            f"A rail is as long as what lies between the stiles and {t.length(2 * tenon)} more: a "
            f"tenon at each end ({t.act('given', figure='clear')} works it out)."
        )
    return (
        f"Rails {t.length(long)} from end to end: {t.length(clear)} between the stiles and a tenon "
        f"of {t.length(tenon)} at each end."
    )


def board(t: Tongue, *, wide: float | None, covers: float | None, tongue: float) -> str:
    """How wide boards are. wide: with the tongue; covers: what it covers, mm."""
    if wide is None or covers is None:
        return (
            f"A board is {t.length(tongue)} wider than it covers, for its tongue "
            f"({t.act('given', figure='covers')} works it out)."
        )
    return (
        f"Boards {t.length(wide)} wide: {t.length(covers)} that each covers and a tongue of "
        f"{t.length(tongue)}."
    )


def grooves(t: Tongue, *, fence: float, deep: float) -> str:
    """All grooves, before any tongue."""
    return (
        f"All grooves first, fence at {t.length(fence)}, {t.size(deep)} deep, one face to the "
        "fence, then the other; nothing moved in between."
    )


def grooves_once(t: Tongue, *, fence: float, deep: float) -> str:
    """All grooves in one pass, before any tongue."""
    return (
        f"All grooves first, fence at {t.length(fence)}, {t.size(deep)} deep, one pass each, the "
        "face side to the fence every time."
    )


def lap_length(t: Tongue, *, across: float) -> str:
    """How long parts are. across: the width of the other one, mm."""
    return (
        "A part whose end is lapped is as long as the frame outside; lay out every lap from the "
        f"other part itself, {t.size(across)} wide."
    )


def back_from(_: Tongue, *, setup: int, same: bool) -> str:
    """Where recovered settings come from. same: bit, machine and boards are the set-up's."""
    if same:
        return f"As the good piece of set-up {setup} was cut."
    return (
        f"Set-up {setup} was good with another bit or machine, or in other boards: its fit is made "
        "with today's, by what the log knows of them."
    )


def sample_left(t: Tongue, *, solid: float) -> str:
    """What a kept sample says. solid: how thick it is, mm."""
    return (
        f"The kept sample is {t.length(solid)} thick: the height takes half of what the board is "
        "thicker than that off each face."
    )


SENTENCES: dict[str, Sentence] = {
    "flip-from": back_from,
    "sample-left": sample_left,
    "recut-again": same(
        "Cut one end, measure it before it is tried, and raise the bit by half of what is still "
        "too thick: the same end can be cut again."
    ),
    "boards-unsure": unsure,
    "mark-faces": same(
        "Mark the face that shows on every part; it stays the same when the joint is put together."
    ),
    "all-both-faces": both_faces,
    "sort-parts": sort_parts,
}
TENON: dict[str, Sentence] = {"all-mortises": mortises, "rail-length": rail}
GROOVE: dict[str, Sentence] = {
    "all-grooves": grooves,
    "all-grooves-once": grooves_once,
    "board-width": board,
}
LAP: dict[str, Sentence] = {"lap-length": lap_length}
