"""The usual cautions of the shop, in English.

Common practice as published safety lists have it; local codes, the makers' instructions and
qualified instruction come first.
"""

from __future__ import annotations

from typing import Any

from ..saying import Sentence, Tongue
from ..units import counted

_SAID = {
    "first-of-all": "Local codes, the makers' instructions and qualified instruction come before "
    "anything here.",
    "unplug": "Unplug the router before touching the bit; change a setting only with the power off "
    "and the bit at rest.",
    "feed": "Feed right to left along the fence, against the bit's rotation; never a climb cut, "
    "and never a loose piece between bit and fence.",
    "guards": "Eyes, ears and lungs protected; no gloves, no loose sleeves.",
}


def same(text: str) -> Sentence:
    """Return a sentence that is the same whatever its values."""
    return lambda _: text


def collet(t: Tongue) -> str:
    """How the bit is held; round numbers of each system."""
    back = "1.5 to 3 mm" if t.ruler.units == "mm" else "1/16 to 1/8 in"
    return f"Shank fully in, then backed out {back}; collet clean and tight."


def hands(t: Tongue) -> str:
    """Where hands may be; round numbers of each system."""
    far, short = ("75 to 100 mm", "300 mm") if t.ruler.units == "mm" else ("3 to 4 in", "12 in")
    return (
        f"Hands {far} from the bit; push blocks and backing boards; no piece under about {short} "
        "unless it is in a carrier."
    )


def speed(t: Tongue, *, top: int, rim: float) -> str:
    """The usual top speed. top: turns a minute; rim: m/s."""
    runs = f"{rim:.0f} m/s" if t.ruler.units == "mm" else f"{rim / 0.3048:.0f} ft/s"
    return (
        f"Speed: not above the bit's mark; without one at most {top} rpm (the rim then runs at "
        f"{runs})."
    )


def scraps(
    t: Tongue,
    *,
    count: int,
    ends: int,
    width: float,
    thickness: float,
    length: float,
    what: str = "",
) -> str:
    """Scraps to prepare for test pieces. what: of which kind."""
    long = t.size(length) if t.ruler.units == "mm" else "12 in"
    each = f"{'both ends' if ends == 2 * count else counted(ends, 'end')} to be used"
    return (
        f"{counted(count, f'{what}scrap')} {t.size(width)} wide, {t.size(thickness)} thick, {long} "
        f"long or more, {each}"
    )


def piece_stock(t: Tongue, **given: Any) -> str:
    """Scraps to prepare for the test pieces of any joint."""
    return f"{scraps(t, **given)}."


SENTENCES: dict[str, Sentence] = {
    "stock-piece": piece_stock,
    **{code: same(text) for code, text in _SAID.items()},
    "collet": collet,
    "hands": hands,
    "speed": speed,
}
