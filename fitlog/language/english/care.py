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
    "one-pass": "A dovetail slot is cut at full height in one pass: waste it with a straight bit "
    "first, and never lift the work off the bit.",
    "far-shaving": "The second pass after the turn pushes the board off the fence: hold it in with "
    "a push block.",
    "fresh-piece": "Set a smaller fence offset only for a fresh piece, never for one cut already.",
}


def _same(text: str) -> Sentence:
    return lambda _: text


def new_height(_: Tongue, *, moved: bool = False) -> str:
    """A new height. moved: the next piece has one."""
    if moved:
        return "Power off before the height is changed; a new height means a new test piece."
    return "A new height means a new test piece."


def speed(_: Tongue, *, top: int, rim: float) -> str:
    """The usual top speed. top: turns a minute; rim: m/s."""
    return (
        f"Speed: not above the bit's mark; without one at most {top} rpm (the rim then runs at "
        f"{rim:.0f} m/s)."
    )


SENTENCES: dict[str, Sentence] = {
    **{code: _same(text) for code, text in _SAID.items()},
    "new-height": new_height,
    "speed": speed,
}
