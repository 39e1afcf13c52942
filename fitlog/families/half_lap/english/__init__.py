"""The half-lap's own sentences and names, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ...flip import english as shared
from ...flip.english import boards


def cut(t: Tongue, *, height: float, stop: float, thick: float, both: bool) -> str:
    """One scrap from both faces, or one part for another that is cut."""
    how = (
        "the same end from both faces: what is left between them, the web, is the step of the faces"
        if both
        else "from one face, for the part that is cut already"
    )
    return (
        f"Scrap of the real {t.size(thick)}, flat, a backer behind it, against a stop at "
        f"{t.length(stop)}, bit {t.length(height)} high, {how}."
    )


def cut_short(t: Tongue, *, height: float, stop: float, both: bool, **_: object) -> str:
    """One scrap."""
    how = "the same end from both faces" if both else "from one face"
    return f"Flat, bit {t.length(height)}, stop {t.length(stop)}: {how}."


def try_it(_: Tongue, *, shoulder: bool, both: bool) -> str:
    """What is judged."""
    look = "; look at the shoulder" if shoulder else ""
    web = (
        "Say what the two cuts leave: web with its thickness, meets, or notch with its depth; "
        if both
        else ""
    )
    return f"{web}lap two ends and lay a straightedge over the faces{look}."


def try_short(_: Tongue, *, shoulder: bool, both: bool) -> str:
    """What is judged."""
    return f"Say the web (or meets, notch){'; lapped, the shoulder' if shoulder else ''}."


def moved(_: Tongue, *, settings: tuple[str, ...]) -> str:
    """A setting moves between real boards. settings: what they are called."""
    return (
        f"{shared.first_done(settings)} What stands proud is cut again at a higher bit; no pass "
        "puts wood back on what is shy."
    )


SENTENCES: dict[str, Sentence] = {
    **shared.SENTENCES,
    **boards.LAP,
    "cut-lap": cut,
    "try-lap": try_it,
    "run-mixed": moved,
    "lap-passes": same(
        "A recess wider than the bit takes several passes, the first at the end, each no wider "
        "than half the bit, the last against the stop."
    ),
    "notch": same(
        "A notch is not cut off again: lower the bit by half of it, on a fresh end; come up to it "
        "from below until the web just goes."
    ),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "cut-lap": cut_short,
    "try-lap": try_short,
    "notch": same("A notch: a fresh end, the bit lower by half of it."),
}
NAMES = {
    **{name: told for name, told in shared.NAMES.items() if not name.startswith("fit ")},
    "faces setting": "height",
    "faces figures": "sure enough at this height",
    "faces goes": "the bit goes {way}",
    "faces stays": "the bit stays",
    "faces zero of": "height",
    "faces to measure": "how high the bit really stands over the table",
}
