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
        return f"{t.name('head')}: {'measured, so ' if read else ''}{goes}."
    if not contrary:
        return f"{_told(t, said)}, so {goes}."
    why = _by_itself(t, others) if others else "all pieces together say otherwise"
    return f"{_told(t, said)}, but {why}: {goes}."


def stays(t: Tongue, *, said: Word, others: float, **_: object) -> str:
    """Why a setting stays although its word asks for a move."""
    why = f", but {_by_itself(t, others)}:" if others else ";"
    return f"{_told(t, said)}{why} {t.name('stays')}."


def _told(t: Tongue, said: Word) -> str:
    """The word, after the aspect where the family says that it tells nothing by itself."""
    before = t.names.get(f"{t.aspect} before")
    return f"{before} {said[0]}" if before else said[0][:1].upper() + said[0][1:]


def _by_itself(t: Tongue, others: float) -> str:
    """What the other settings' moves do to the misfit, mm."""
    return t.name("more" if others > 0 else "less").format(by=t.length(abs(others)))


def below(t: Tongue, *, play: float | None, **_: object) -> str:
    """How to come to a smaller setting. play: by how much to go below it at least, mm."""
    return f"go {t.length(play)} below, then up" if play is not None else "go below, then up"


def step(
    t: Tongue, *, step: float, window: float = 0.0, wanted: float | None = None, **_: object
) -> str:
    """A step that leaps over the whole window."""
    if window:
        return (
            f"One step of the {t.name('setting')} ({t.length(step)}) leaps over the whole window "
            f"({t.length(window)}): "
            + (
                "later it may have to be set between the marks."
                if wanted is None
                else f"set it between the marks, at {t.off_marks(wanted)}, and log what you set."
            )
        )
    assert wanted is not None
    return (
        f"The {t.name('setting')} wants {t.off_marks(wanted)}, between two steps: set it between "
        "the marks and log what you set."
    )


def once(t: Tongue, *, piece: int, meant: Word, said: Word, newest: bool, **_: object) -> str:
    """One verdict goes together with the others only when its sides are swapped."""
    taken = "Until that is clear the setting waits" if newest else "It is taken so"
    return (
        f'Was piece {piece} "{t.word(meant)}", not "{said[0]}"? {taken}; if so, '
        f"{t.act('undo-piece', piece=piece)} and log it again."
    )


def swapped(t: Tongue, *, said: str, turned: str, taken: bool, **_: object) -> str:
    """All verdicts of an aspect have their sides swapped."""
    what = "It is taken so" if taken else "Until that is clear the setting waits"
    mark = t.names.get(f"{t.aspect} marked", "")
    return (
        f'Did you mean "{turned}" each time, not "{said}"? {what}; if so, {t.act("undo")} and log '
        f"it again.{mark}"
    )


def surprise(t: Tongue, *, piece: int, word: str | None, **_: object) -> str:
    """A verdict that was hardly to be expected."""
    return (
        f'Piece {piece}, "{word or "its reading"}", is odd: a slipped lock, play, another edge at '
        f"the fence, or a wrong word ({t.act('undo')})?"
    )


def slip(_: Tongue, *, word: str, **__: object) -> str:
    """A verdict that is taken for a slip."""
    return f'"{word}" may be a slip, or another edge at the fence: cut the same setting again.'


def move(t: Tongue, *, twice: bool, before: int, after: int, **_: object) -> str:
    """A move that did nothing, or twice what was asked."""
    did = "went twice as far as asked" if twice else "did nothing"
    return (
        f"It seems that the {t.name('zero of')} {did} between pieces {before} and {after}: measure "
        f"{t.name('to measure')} before you move it again."
    )


def drifts(t: Tongue, *, each: float, **_: object) -> str:
    """A misfit that drifts. each: a piece, mm."""
    return (
        f"The {t.name('misfit')} seems to {'grow' if each > 0 else 'shrink'} piece by piece: "
        f"measure {t.name('to measure')} before and after one."
    )


def zero_off(t: Tongue, *, off: float, **_: object) -> str:
    """A zero that is far off."""
    return (
        f"The {t.name('zero of')}'s zero seems {t.length(off)} off: measure {t.name('to measure')}."
    )


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
    "coarse-step-*": step,
    "side-swapped-once": once,
    "sides-swapped": swapped,
    "surprise-*": surprise,
    "slip-*": slip,
    "move-did-nothing": move,
    "move-overshot": move,
    "*-drifts": drifts,
    "far-off-zero": zero_off,
}
