"""The settings for the next piece, as large as the terminal allows, with what must be minded."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..domain import Advice, SetUp
from ..families.telling import KEYS, say
from ..fronts.bench.figures import ROWS, figures
from ..language.numbers import percent
from ..language.saying import Spelling
from ..language.units import Ruler
from ..texts import tell
from .answer import chance_of, outlook, real, standing
from .lines import fill, wrap

_FIRST = tell(
    "Care: unplug the router before touching the bit. How to cut the test piece, and all "
    "cautions: ?"
)
_LEAST = 5  # rows of talk that the last large figure leaves
SIDE = 20  # columns that the words beside a large figure need at least


@dataclass(frozen=True)
class Dialled:
    """One setting: its name, the length to set, which way and how far, how likely it is good, how
    to come to it.

    changed: whether there is anything to do.
    """

    name: str
    length: str
    move: str
    state: str
    approach: str
    changed: bool


def dialled(
    setup: SetUp,
    found: Advice,
    held: Mapping[str, float],
    ruler: Ruler,
    spelling: Spelling = KEYS,
) -> list[Dialled]:
    """Return the settings in their order. held: those really set otherwise, by name, mm on the
    user's own scale.
    """
    out, dial = [], found.settings.on_scale(setup.plan.machine)
    for kind in setup.plan.family.settings:
        name, aspect = kind.name, setup.plan.family.aspect_of[kind.name]
        move = ruler.move(kind, found.moves[name]) if found.moves else ""
        state, how = chance_of(found, aspect), found.approach.get(name)
        approach = "" if how is None else say(how, ruler, spelling)
        state = tell("good: {state}", state=state) if state.endswith("%") else state
        if name in held:
            move, state, approach = (
                tell("as really set, not {dial}", dial=ruler.length(dial[name])),
                "",
                "",
            )
        length, changed = (
            ruler.length(held.get(name, dial[name])),
            name in held or move != tell("leave it"),
        )
        out.append(Dialled(tell(kind.noun), length, move, state, approach, changed))
    return out


def settings_body(
    setup: SetUp, found: Advice, held: Mapping[str, float], ruler: Ruler, width: int, rows: int
) -> list[str]:
    """Return the screen between its head and its keys: at most `rows` lines of `width` columns.

    As many settings are large as leave room for what must be read first; the rest of the talk may
    wait behind the help.
    """
    all_ = dialled(setup, found, held, ruler)
    changed = [d for d in all_ if d.changed]
    ranked = changed or all_  # what stays as it is is large only beside all that there is to say
    for count in range(len(ranked), -1, -1):
        blocks, unsaid = _blocks(all_, ranked[:count], width)
        pressing, talk = _pressing(setup, found, unsaid, ruler, width), _talk(found, ruler, width)
        wanted = len(pressing) + (min(1, len(talk)) if changed else sum(map(len, talk)))
        wanted = (
            min(wanted, _LEAST) if count == 1 else wanted
        )  # on a small terminal the help has the rest
        if len(blocks) + wanted <= rows:
            break
    talk = [pressing, *talk]
    gap = [""] if len(blocks) + 1 + sum(map(len, talk)) <= rows else []
    return [*blocks, *gap, *fill(talk, rows - len(blocks) - len(gap))][:rows]


def _blocks(
    all_: list[Dialled], large: list[Dialled], width: int
) -> tuple[list[str], list[Dialled]]:
    """Set the settings below each other; return the lines, and the settings whose approach found no
    room there.
    """
    lines: list[str] = []
    unsaid = []
    for each in all_:
        block, said = _large(each, width) if each in large else (_plain(each, width), False)
        if lines and each in large:
            lines.append("")
        lines += block
        if each.approach and not said:
            unsaid.append(each)
    return lines, unsaid


def _plain(each: Dialled, width: int) -> list[str]:
    parts = [part for part in (f"{each.name:<12}  {each.length}", each.move, each.state) if part]
    line = "   ".join(parts)
    return wrap(line if len(line) <= width else "   ".join(parts[:2]), width, " " * 14)


def _large(each: Dialled, width: int) -> tuple[list[str], bool]:
    """Return a block with a large figure, words beside it or above; and whether it tells how to
    come to it.
    """
    found = [_beside(each, digits, width) for digits in figures(each.length, width - SIDE - 3)]
    if found:
        return next((block for block in found if block[1]), found[0])
    above = figures(each.length, width)
    if not above:
        return _plain(each, width), False
    parts = [part for part in (each.name.upper(), each.move, each.state) if part]
    return [*wrap("  ".join(parts), width), *(row.rstrip() for row in above[0])], False


def _beside(each: Dialled, digits: list[str], width: int) -> tuple[list[str], bool]:
    room = width - len(digits[0]) - 3
    label = f"{each.name.upper()}  {each.state}".strip()
    words = [label] if len(label) <= room else [each.name.upper(), each.state]
    words += wrap(each.move, room) if each.move else []
    told = [*words, *wrap(f"{each.approach}.", room)] if each.approach else words
    said = len(told) <= ROWS
    words = (told if said else words)[:ROWS]
    words += [""] * (ROWS - len(words))
    return [f"{row}   {word}".rstrip() for row, word in zip(digits, words, strict=True)], said


def _pressing(
    setup: SetUp, found: Advice, unsaid: list[Dialled], ruler: Ruler, width: int
) -> list[str]:
    """What must be read before the piece is cut: how it stands, how to come to a setting, what a
    move makes new.
    """
    said = [standing(setup, found, found.pieces + 1, KEYS)] if found.status == "ready" else []
    said += [boards] if (boards := real(setup, found, ruler)) else []
    said += (
        [tell("Care: {caution}", caution=say(r, ruler, KEYS)) for r in found.cautions]
        if found.moves
        else [_FIRST]
    )
    said += [f"{d.name.capitalize()}: {d.approach}." for d in unsaid]
    return [line for text in said for line in wrap(text, width, "  ")]


def _talk(found: Advice, ruler: Ruler, width: int) -> list[list[str]]:
    """What else there is to say, each remark as its lines."""
    said = [
        *(tell("Note: {notice}", notice=say(r, ruler, KEYS)) for r in found.notices),
        outlook(found),
    ]
    said += (
        []
        if found.moves
        else [tell("Care: {caution}", caution=say(r, ruler, KEYS)) for r in found.cautions]
    )
    return [wrap(text, width, "  ") for text in said]


def all_good(found: Advice) -> str:
    """Return the chance that the next piece is good in everything, for the head of the screen."""
    return (
        ""
        if found.status == "ready"
        else tell("all good: {chance}", chance=percent(found.chance_good["all"] or 0.0))
    )
