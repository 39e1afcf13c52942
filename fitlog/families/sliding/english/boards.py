"""What is done to the real boards of a sliding dovetail, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue


def all_sockets(t: Tongue, *, height: float, narrow: float, waste: float) -> str:
    """The sockets. narrow: their mouth; waste: how deep the straight bit goes, mm."""
    return (
        f"All sockets first, paired sides from the same end: waste with a straight bit narrower "
        f"than {t.size(narrow)}, to {t.length(waste)}, then each at {t.length(height)} in one "
        "pass. Once the last socket is cut the height is not touched."
    )


def stop_socket(t: Tongue, *, axis: float, visible: float) -> str:
    """A socket that is stopped before the front edge. axis: of the bit there, mm."""
    return (
        f"Stopped sockets: the bit's axis stops {t.length(axis)} before the front edge, so that "
        f"the round end shows no further than {t.length(visible)}; switch off there and wait "
        "until the bit stands before it is drawn back."
    )


def shelf_length(t: Tongue, *, shelf: float | None, clear: float | None, tongue: float) -> str:
    """How long a shelf is. clear: between the panels; tongue: its height, mm."""
    if shelf is None or clear is None:
        return (
            f"A shelf is as long as the clear width between the panels and {t.length(2 * tongue)} "
            f"more, a tongue at each end ({t.act('given', figure='clear-width')} works it out)."
        )
    return (
        f"Cut the shelves {t.length(shelf)} long: {t.length(clear)} between the panels and a "
        f"tongue of {t.length(tongue)} at each end, the ends square."
    )


def cut_back(t: Tongue, *, axis: float, across: float) -> str:
    """A tongue in a stopped socket. across: what is left of it, mm."""
    return (
        f"Cut each tongue back {t.length(axis)} from the front edge, to where the bit's axis "
        f"stopped: {t.length(across)} of it slides."
    )


def all_tongues(t: Tongue, *, exposure: float, both: bool, packing: float) -> str:
    """The tongues. packing: under the shelf's end, mm."""
    pack = f", {t.length(packing)} packed under the end" if packing > 1e-6 else ""
    faces = "both faces of every end" if both else "the same face of every end"
    return (
        f"On end against the tall fence, the tip {t.length(exposure)} out of it{pack}: {faces}, "
        "nothing moved between them. Try each in its socket."
    )


def unsure(_: Tongue, *, ended: str | None, code: str) -> str:
    """The set-up does not speak for these settings."""
    if ended is not None:
        why = "was abandoned" if ended == "abandoned" else "ended as it is"
        return f"The set-up {why}: try a test piece before real wood."
    why = "is not settled" if code == "tuning" else "is doubted by the figures"
    return f"The set-up {why}: another test piece comes first."


SENTENCES: dict[str, Sentence] = {
    "sand-first": same(
        "Sand the panels' faces before any socket is cut: what is taken off afterwards makes the "
        "sockets shallower, opens the shoulders by as much and loosens the slide."
    ),
    "all-sockets": all_sockets,
    "stop-socket": stop_socket,
    "shelf-length": shelf_length,
    "cut-back": cut_back,
    "all-tongues": all_tongues,
    "sort-shelves": same(
        "A shelf that is thicker or thinner than the test piece fits tighter or looser by as much: "
        "sort them by a caliper first."
    ),
    "boards-unsure": unsure,
}
