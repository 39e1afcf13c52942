"""What a half-blind dovetail's first screen says in fewer words than `why` does, in English."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue
from . import recipe, sheet


def fence_side(t: Tongue, **_: object) -> str:
    """A second pass may shave the wall at the fence."""
    return (
        f"A second pass may catch the wall at the fence and snatch: measure both walls first "
        f"({t.act('walls', them='')}), and make none where the wall at the fence is the thinner."
    )


def new_height(_: Tongue, **__: object) -> str:
    """A new height; the headline says unplugged."""
    return "A new height means a new test piece."


# None: it can wait for `why`.
SHORT: dict[str, Sentence | None] = {
    **recipe.SHORT,
    **sheet.SHORT,
    "fence-side": fence_side,
    "new-height": new_height,
    "rabbet-follows": None,  # the piece's own steps say it
    "slot-first": None,
    "walls-first": None,
    "centre-known": None,
}
