"""The questions of the dialogue: what to try, and the words with the test that anchors each."""

from __future__ import annotations

from collections.abc import Sequence

from ..domain import Aspect, Plan, Remark, SetUp
from ..families.half_blind import figures
from ..families.half_blind.names import WORDS
from ..families.half_blind.plan import dovetail
from ..families.telling import KEYS, say
from ..fronts.bench import about_last
from ..language.units import Ruler
from .lines import MORE, wrap
from .sure import small

# Reasoned common practice, no source: how each word is told from its neighbours by hand.
FIT_TESTS = (
    "hard mallet, or won't start",
    "light mallet taps",
    "firm hand pressure",
    "light hand, holds its own weight",
    "slips together, drops when shaken",
    "wags",
    "rattles, falls apart",
)
WALLS = (
    "no-second-pass",
    "fence-side",
    "walls-first",
    "centre-known",
)  # told before a turn: no second pass is asked for
_GAPS = (
    ("baseline", "even, along the shoulder: the pin board lifted, or a short rabbet"),
    ("inside", "on the inside corner only: a long rabbet, or a board that leaned"),
    ("flank", "one flank tight, the other open: a board leaning in its plane"),
)


def question(
    setup: SetUp, aspect: Aspect, turn: Sequence[Remark], ruler: Ruler, width: int, rows: int
) -> list[str]:
    """Return the question of an aspect of the last piece, at most `rows` lines. turn: what to mind
    before the turn.
    """
    told = about_last(setup)
    walls = any(r.code in WALLS for r in turn)
    title = wrap(
        f"Piece {told[0].piece if told else 0}, {aspect.upper()}: "
        f"{_what(setup.plan, aspect, ruler, walls)}",
        width,
    )
    words = _options(list(zip(WORDS[aspect], _tests(aspect, ruler, walls), strict=True)), width)
    before = _before(setup, turn, ruler, width) if aspect == "centre" else []
    return _fitted(title, words, before, rows)


def gap_question(width: int, rows: int) -> list[str]:
    """Return the question where a gap is that no setting cures."""
    title = wrap("A gap that no setting cures. Where is it?", width)
    return _fitted(title, _options(list(_GAPS), width), [], rows)


def _what(plan: Plan, aspect: Aspect, ruler: Ruler, walls: bool) -> str:
    if aspect == "fit":
        return "try the joint dry, one or two tails. How does it go together?"
    if aspect == "seat":
        wanted = (
            f" ({ruler.length(dovetail(plan).wanted_step)} proud is wanted)"
            if dovetail(plan).wanted_step
            else ""
        )
        return f"how do the tails stand at the end of the pin board?{wanted}"
    if walls:
        return (
            "w types the two walls beside the slot. Without a caliper: set a gauge to one and "
            "try it at the other."
        )
    return "what did the second pass show?"


def _tests(aspect: Aspect, ruler: Ruler, walls: bool = False) -> Sequence[str]:
    """What tells each word, in the order of WORDS."""
    if aspect == "fit":
        return FIT_TESTS
    if aspect == "centre":
        thin = small([2 * figures.CENTRED], ruler)
        if walls:
            return (
                "the wall at the fence is thinner",
                f"alike, or up to {thin} apart",
                "the far wall is thinner",
            )
        return (
            "a shaving at the fence",
            f"no shaving, or up to {thin}",
            "a shaving away from the fence",
        )
    most, plain, little = (-e for e in figures.SEAT_EDGES[:3])
    below = (
        f"over {small([most], ruler)} below the end",
        f"{small([plain, most], ruler)} below it",
        f"{small([little, plain], ruler)} below it",
    )
    above = (text.replace("below", "above") for text in reversed(below))
    return (*below, f"level, within {small([little], ruler)} (a sheet of paper)", *above)


def _options(rows: Sequence[tuple[str, str]], width: int) -> list[list[str]]:
    """Return one option a row: its digit, its word, its test."""
    wide = max(len(word) for word, _ in rows)
    return [
        wrap(f"  {n}  {word:<{wide}}   {test}", width, " " * 5)
        for n, (word, test) in enumerate(rows, 1)
    ]


def _before(setup: SetUp, turn: Sequence[Remark], ruler: Ruler, width: int) -> list[list[str]]:
    """The turn, and what is to be minded first; nothing tells to make a second pass that must not
    be made.
    """
    told = about_last(setup)
    if not told:
        return []
    fence = ruler.length(told[0].settings.on_scale(setup.plan.machine)["fence_offset"])
    minded = [say(r, ruler, KEYS) for r in turn]
    if any(r.code in WALLS for r in turn):
        return [wrap(minded[0], width)]
    how = (
        "Now the turn: the other edge to the fence, the same end down. Mark the edge now at the "
        "fence"
    )
    return [wrap(text, width) for text in (f"{how}, and pass again at {fence}.", *minded)]


def _fitted(
    title: list[str], words: list[list[str]], before: list[list[str]], rows: int
) -> list[str]:
    """Put a question together; what comes before it is cut short where it does not fit, and blanks
    go first.
    """
    asked = [line for word in words for line in word]
    if (
        len(title) + len(asked) > rows
    ):  # every digit stays on the screen, if need be without the end of its test
        title, words = title[:1], [[word[0]] for word in words]
        asked = [line for word in words for line in word]
    room = rows - len(title) - len(asked)
    first = [line for remark in before for line in remark]
    if len(first) > room:
        first = [*first[: max(0, room - 1)], MORE] if room > 0 else []
    room -= len(first)
    out = [*first, *([""] if first and room > 1 else []), *title]
    room -= 1 if first and room > 1 else 0
    out += [""] if room > 0 else []
    airy = room - 1 >= len(words)
    for word in words:
        out += [*word, ""] if airy else word
    return out[:rows]
