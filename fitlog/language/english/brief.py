"""The advice in a line an aspect, in English: what a person at the machine reads first."""

from __future__ import annotations

from ..saying import Sentence, Tongue
from . import advice
from .care import same

Word = tuple[str, float | None]


def moves(
    t: Tongue, *, said: Word | None, read: bool, way: str, others: float, contrary: bool
) -> str:
    """Why a setting moves. way: which way; others: by how much the other settings' moves change the
    misfit, mm; contrary: it moves against the word; read: the aspect was measured.
    """
    goes = t.name("goes").format(way=way)
    if not said:
        return f"{t.name('head')}: {'by what was measured, ' if read else ''}{goes}."
    if not contrary:
        return f"{t.name('head')}: {t.word(said)}, so {goes}."
    why = _by_itself(t, others) if others else "all pieces together say otherwise"
    return f"{t.name('head')}: {t.word(said)}, but {why}: {goes}."


def stays(t: Tongue, *, said: Word | None, others: float, **_: object) -> str:
    """Why a setting stays although its word asks for a move."""
    why = f", but {_by_itself(t, others)}:" if others else ";"
    return f"{t.name('head')}: {t.word(said) if said else ''}{why} {t.name('stays')}."


def _by_itself(t: Tongue, others: float) -> str:
    """What the other settings' moves do to the misfit, mm."""
    return t.name("more" if others > 0 else "less").format(by=t.length(abs(others)))


def below(t: Tongue, *, play: float | None, **_: object) -> str:
    """How to come to a smaller setting. play: by how much to go below it at least, mm."""
    return f"go {t.length(play)} below, then up" if play is not None else "go below, then up"


SENTENCES: dict[str, Sentence] = {"moves": moves, "stays": stays}
# Reasons that are something to do.
_TO_DO = ("stack", "same-end", "fresh-end", "frozen", "frozen-moved")
# Notices that the first screen leaves to `why`, and what it says of others in fewer words.
SHORT: dict[str, Sentence | None] = {
    "come-up": same("come up from below"),
    "go-below": below,
    **{code: advice.SENTENCES[code] for code in _TO_DO},
    "confirm": None,
    "confirmed": None,
}
