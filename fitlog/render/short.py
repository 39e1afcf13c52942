"""An answer at the machine: what was understood, why a setting moves, and last what to set and how
to cut the piece. All else is `answer.advice`'s, behind `why`.
"""

from __future__ import annotations

from dataclasses import replace

from ..domain import Advice, Remark, SetUp, TrialCut
from ..domain.standing import standing as decided
from ..families.screens import screens_of
from ..families.telling import say, urgent
from ..language.units import Ruler
from ..texts import tell
from .answer import dialled, heading, real, recipe, standing, talk, told
from .screen import Screen


def understood(screen: Screen, cut: TrialCut, setup: SetUp, ruler: Ruler) -> None:
    """Say what was understood of a cut, and each setting that was said and is not as advised."""
    words = told(cut, ruler)
    wood = f"; {cut.scrap or tell('scrap')}" if cut.scrap or cut.sizes else ""
    if cut.slot:
        screen.line("Slot: {told}.", told=words)
    elif cut.after is not None:
        screen.line("Joint {after}: {told}.", after=cut.after, told=words)
    else:
        screen.line("Piece {piece}: {told}{wood}.", piece=cut.piece, told=words, wood=wood)
    dial, advised = cut.settings.on_scale(setup.plan.machine), cut.advised
    other = [
        tell("{setting} {length}", setting=tell(kind.noun), length=ruler.length(dial[kind.name]))
        for kind in setup.plan.family.settings
        if kind.name in cut.stated
        and (advised is None or abs(advised[kind.name] - cut.settings[kind.name]) > 1e-9)
    ]
    if other:
        screen.line("Cut at {parts}, not as advised.", indent="  ", parts=", ".join(other))


def begin(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    """Print a new set-up: the cautions, how its first piece is cut, what to set last."""
    heading(screen, setup, found, ruler)
    talk(screen, "Care", found.cautions, ruler)
    recipe(screen, found, ruler)
    screen.line()
    short(screen, setup, replace(found, steps=()), ruler)


def short(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    """Print the advice on the next piece, its settings last."""
    for remark in (*found.brief, *filter(urgent, found.reasons), *found.notices):
        _line(screen, remark, ruler)
    over = setup.outcome is not None or setup.undone
    tuning = found.status == "tuning" and not over
    if tuning:
        screen.head(
            "Set-up {number}, piece {piece}. Unplugged, set:",
            number=setup.number,
            piece=found.pieces + 1,
        )
    else:
        screen.head(
            "Set-up {number}. {standing}",
            number=setup.number,
            standing=standing(setup, found, found.pieces + 1),
        )
    _settings(screen, setup, found, ruler)
    if over:
        return
    if boards := real(setup, found, ruler):
        screen.line(boards)
    if tuning or decided(setup, found).more:
        for step in found.steps:
            _line(screen, step, ruler)
    for caution in found.cautions if found.moves is not None else ():
        _line(screen, caution, ruler)
    if tuning:
        screen.line("{left} Why: fitlog why", left=_left(found))
    else:
        screen.line("Then: fitlog stops for the boards' own fence stops, fitlog sheet to keep.")
        screen.line("Why: fitlog why")


def _line(screen: Screen, remark: Remark, ruler: Ruler) -> None:
    """Print a remark in few words; nothing where it can wait."""
    if text := say(remark, ruler, short=True):
        screen.line(text, indent="  ")


def _left(found: Advice) -> str:
    """Return how many more pieces to count on, the next one included."""
    count = max(1, round(found.pieces_left))
    words = ("one", "two", "three", "four", "five", "six")
    if count > len(words):
        return tell("Count on {count} more.", count=count)
    return tell("Count on about {count} more.", count=tell(words[count - 1]))


def _settings(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    """Print what to set, a row a setting: its length, its move, how to come to it, and how it is
    measured where that is another number.
    """
    settings, over = dialled(setup, found)
    plan, dial = setup.plan, settings.on_scale(setup.plan.machine)
    by = {} if over else screens_of(plan.family).measured(plan, settings, ruler)
    shown = {kind.name: ruler.length(dial[kind.name]) for kind in plan.family.settings}
    nouns = {kind.name: tell(kind.noun) for kind in plan.family.settings}
    lead, room = (max(map(len, texts.values())) for texts in (nouns, shown))
    for kind in plan.family.settings:
        name = kind.name
        moved = found.moves[name] if found.moves and not over else None
        notes = [
            *([] if moved is None else [ruler.move(kind, moved)]),
            *([say(found.approach[name], ruler, short=True)] if name in found.approach else []),
            *([by[name]] if name in by else []),
        ]
        row = f"  {nouns[name]:<{lead}}  {shown[name]:>{room}}  {', '.join(filter(None, notes))}"
        screen.line(row.rstrip(), indent=" " * 4)
