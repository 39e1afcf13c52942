"""The cautions of a sliding dovetail beside those of every joint, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue

_SAID = {
    "trapped-bit": "The dovetail bit is trapped in the socket: one pass at full height, right "
    "through; never lift the router or the work off it and never stop in the cut.",
    "waste-the-socket": "Waste the socket with a straight bit narrower than its mouth first.",
    "zero-gap": "The bit sunk in the fence needs a fence face without a gap around it.",
    "new-socket": "Power off before the height is changed: a slot cannot be deepened in steps, so "
    "a new height means new sockets.",
    "never-thicker": "Never pass a tongue that is cut already at a smaller exposure: take a fresh "
    "end.",
}


def tall_fence(t: Tongue) -> str:
    """On end; round numbers of each system."""
    short = "300 mm" if t.ruler.units == "mm" else "12 in"
    return (
        "On end the shelf stands square against a tall fence, a featherboard above the cut and a "
        f"backer behind it; no scrap under {short} unless it is in a carrier."
    )


SENTENCES: dict[str, Sentence] = {
    **{code: same(text) for code, text in _SAID.items()},
    "shelf-on-end": tall_fence,
}
