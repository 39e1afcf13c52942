"""The cautions of a half-blind dovetail beside those of every joint, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue

_SAID = {
    "one-pass": "A dovetail slot is cut at full height in one pass, and the work is never lifted "
    "off the bit; waste with a straight bit before the dovetail bit goes in, or with a second "
    "router.",
    "far-shaving": "The second pass after the turn pushes the board off the fence: hold it in with "
    "a push block.",
    "fresh-piece": "Never move the fence in and pass the same slot again: that is a climb cut.",
}


def new_height(_: Tongue, *, moved: bool = False) -> str:
    """A new height. moved: the next piece has one."""
    if moved:
        return "Power off before the height is changed; a new height means a new test piece."
    return "A new height means a new test piece."


SENTENCES: dict[str, Sentence] = {
    **{code: same(text) for code, text in _SAID.items()},
    "new-height": new_height,
}
