"""The questions of the dialogue: what to try, and the words with the test that anchors each."""

from __future__ import annotations

from collections.abc import Sequence

from ..domain import Aspect, Family, Remark, SetUp
from ..families.screens import screens_of
from ..families.telling import KEYS, say
from ..fronts.bench import about_last, gaps
from ..language.units import Ruler
from ..texts import tell
from .lines import MORE, wrap


def question(
    setup: SetUp, aspect: Aspect, turn: Sequence[Remark], ruler: Ruler, width: int, rows: int
) -> list[str]:
    """Return the question of an aspect of the last piece, at most `rows` lines. turn: what to mind
    before what shows it spoils the piece.
    """
    told, plan = about_last(setup), setup.plan
    own, minded = screens_of(plan.family), {r.code: say(r, ruler, KEYS) for r in turn}
    title = wrap(
        tell(
            "Piece {piece}, {aspect}: {what}",
            piece=told[0].piece if told else 0,
            aspect=tell(aspect).upper(),
            what=own.what(plan, aspect, ruler, minded),
        ),
        width,
    )
    tests = own.tests_of(plan, aspect, ruler, minded)
    words = _options(list(zip(plan.family.words(aspect), tests, strict=True)), width)
    spoils = told and plan.family.kind(aspect).shown_last
    before = own.before(told[0], plan.machine, minded, ruler) if spoils else []
    return _fitted(title, words, [wrap(text, width) for text in before], rows)


def gap_question(family: Family, width: int, rows: int) -> list[str]:
    """Return the question where a gap is that no setting cures."""
    title, own = wrap(tell("A gap that no setting cures. Where is it?"), width), screens_of(family)
    places = [(place, own.gap(place)) for place in gaps(family)]
    return _fitted(title, _options(places, width), [], rows)


def _options(rows: Sequence[tuple[str, str]], width: int) -> list[list[str]]:
    """Return one option a row: its digit, its word, its test."""
    wide = max(len(word) for word, _ in rows)
    return [
        wrap(f"  {n}  {word:<{wide}}   {test}".rstrip(), width, " " * 5)
        for n, (word, test) in enumerate(rows, 1)
    ]


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
