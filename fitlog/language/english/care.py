"""The usual cautions of the shop, in English.

Common practice as published safety lists have it; local codes, the makers' instructions and
qualified instruction come first.
"""

from __future__ import annotations

from ..saying import Sentence, Tongue

_SAID = {
    "first-of-all": "Local codes, the makers' instructions and qualified instruction come before "
    "anything here.",
    "unplug": "Unplug the router before touching the bit; change a setting only with the power off "
    "and the bit at rest.",
    "collet": "Shank fully in, then backed out 1.5 to 3 mm; collet clean and tight.",
    "feed": "Feed right to left along the fence, against the bit's rotation; never a climb cut, "
    "and never a loose piece between bit and fence.",
    "hands": "Hands 75 to 100 mm from the bit; push blocks and backing boards; no piece under "
    "about 300 mm unless it is in a carrier.",
    "guards": "Eyes, ears and lungs protected; no gloves, no loose sleeves.",
}


def same(text: str) -> Sentence:
    """Return a sentence that is the same whatever its values."""
    return lambda _: text


def speed(_: Tongue, *, top: int, rim: float) -> str:
    """The usual top speed. top: turns a minute; rim: m/s."""
    return (
        f"Speed: not above the bit's mark; without one at most {top} rpm (the rim then runs at "
        f"{rim:.0f} m/s)."
    )


SENTENCES: dict[str, Sentence] = {
    **{code: same(text) for code, text in _SAID.items()},
    "speed": speed,
}
