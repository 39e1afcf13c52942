"""An answer at the machine: what was understood, why a setting moves, and last what to set and how
to cut the piece. All else is `answer.advice`'s, behind `why`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fnmatch import fnmatchcase

from ..domain import Advice, Remark, SetUp, TrialCut
from ..domain.standing import ended
from ..domain.standing import standing as decided
from ..families.screens import screens_of
from ..families.telling import say, urgent
from ..language.units import Ruler, counted
from ..service.firstly import LastShown
from ..texts import tell
from .answer import MOST_TOLD, dialled, heading, real, recipe, standing, talk, told
from .screen import Screen

# Rows of a screen at most: 16, on a narrow one 20, and four more for what must be minded.
_ROWS, _NARROW_ROWS = 20, 24


def understood(screen: Screen, cut: TrialCut, setup: SetUp, ruler: Ruler) -> None:
    """Say what was understood of a cut, and each setting that was said and is not as advised."""
    words = told(cut, ruler, whose=True)
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


def begin(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler, shown: LastShown) -> None:
    """Print a new set-up: the cautions, how its first piece is cut, what to set last.

    shown: when this person last saw the cautions at this machine. They are there in full once a
    day, the steps in full the first time; the cautions that belong to a step are never left out.
    """
    heading(screen, setup, found, ruler)
    if shown == "today":
        screen.line("The cautions hold as before. They, and each step in full: fitlog why")
    else:
        talk(screen, "Care", found.cautions, ruler)
        if shown == "never":
            recipe(screen, found, ruler)
            found = replace(found, steps=())
        screen.line()
    screen.rows = 0
    short(screen, setup, found, ruler, begun=True)


def short(
    screen: Screen, setup: SetUp, found: Advice, ruler: Ruler, *, begun: bool = False
) -> None:
    """Print the advice on the next piece, its settings last. begun: with each step's own cautions.

    On a terminal a note that may wait (`Screens.may_wait`) and finds no room does so for `why`, and
    the last line counts it.
    """
    over = setup.outcome is not None or setup.undone
    tuning = found.status == "tuning" and not over
    told = [] if over else _said((*found.brief, *filter(urgent, found.reasons)), ruler)
    head = _head(screen, setup, found, tuning)
    body = _settings(screen.narrow, setup, found, ruler)
    if not over:
        body += _doing(setup, found, ruler, tuning, begun)
    room = (_NARROW_ROWS if screen.narrow else _ROWS) - screen.rows - 1
    room -= sum(len(screen.wrapped(text, _indent(text))) for text in (*told, head, *body))
    notes, waiting = ([], 0) if over else _notes(screen, setup, found, ruler, room)
    if decided(setup, found).code == "stopped":
        notes = _said((one for one in found.notices if one.code.startswith("run-")), ruler)
    for text in (*told, *notes):
        screen.line(text, indent=_indent(text))
    screen.head(head)
    for text in body:
        screen.line(text, indent=_indent(text))
    if more := _more(setup, found, waiting):
        screen.line(more, indent="  ")


def _indent(text: str) -> str:
    return " " * (4 if text.startswith(" ") else 2)


def _head(screen: Screen, setup: SetUp, found: Advice, tuning: bool) -> str:
    """Return which set-up it is, with its title where that takes no row more, and how it stands, or
    that its next piece is to be set.
    """
    number, piece = setup.number, found.pieces + 1
    text = "Set-up {number}{titled}. {standing}"
    if tuning:
        text = "Set-up {number}{titled}, piece {piece}. Unplugged, set:"
    how = standing(setup, found, piece)
    bare, full = (
        tell(text, number=number, piece=piece, standing=how, titled=titled)
        for titled in ("", setup.titled)
    )
    return full if len(screen.wrapped(full)) == len(screen.wrapped(bare)) else bare


def _said(remarks: Iterable[Remark], ruler: Ruler) -> list[str]:
    """Return remarks in few words, without those that can wait."""
    return [text for remark in remarks if (text := say(remark, ruler, short=True))]


def _doing(setup: SetUp, found: Advice, ruler: Ruler, tuning: bool, begun: bool) -> list[str]:
    """Return what follows the settings: those of the real boards, the piece's steps, the move's
    own cautions, none of which ever waits. begun: with each step's own cautions.
    """
    minded = screens_of(setup.plan.family).minded if begun else ()
    boards = real(setup, found, ruler)
    steps = found.steps if tuning or decided(setup, found).more else ()
    care = found.cautions if found.moves is not None else ()
    told = (say(step, ruler, short=step.code not in minded) for step in steps)
    return [*([boards] if boards else []), *filter(None, told), *_said(care, ruler)]


def _notes(
    screen: Screen, setup: SetUp, found: Advice, ruler: Ruler, room: int
) -> tuple[list[str], int]:
    """Return the notes that have room in so many rows, and how many wait. Those that may not wait
    take the room first.
    """
    patient = screens_of(setup.plan.family).may_wait
    waits = {
        text: screen.terminal and any(fnmatchcase(remark.code, one) for one in patient)
        for remark in found.notices
        if (text := say(remark, ruler, short=True))
    }
    kept = set()
    for text in sorted(waits, key=waits.__getitem__):
        room -= len(screen.wrapped(text, _indent(text)))
        if room >= 0 or not waits[text]:
            kept.add(text)
    return [text for text in waits if text in kept], len(waits) - len(kept)


def _more(setup: SetUp, found: Advice, waiting: int) -> str:
    """Return what comes next and where the rest is; "" where a set-up ended short of good."""
    if ended(setup) is not None or setup.undone:
        settled = decided(setup, found).settled
        return tell("Next: fitlog stops for the boards, fitlog sheet to keep.") if settled else ""
    notes = counted(waiting, "note") if waiting else ""
    if found.status == "tuning":
        told = "{left} Why, {notes}: fitlog why" if notes else "{left} Why: fitlog why"
        return tell(told, left=left(found), **({"notes": notes} if notes else {}))
    told = "Next: fitlog stops for the boards, fitlog sheet to keep. Why: fitlog why"
    if notes:
        told = "Next: fitlog stops for the boards, fitlog sheet to keep. Why, {notes}: fitlog why"
    return tell(told, **({"notes": notes} if notes else {}))


def left(found: Advice) -> str:
    """Return how many more pieces to count on, the next one included."""
    count = max(1, round(found.pieces_left))
    if count > MOST_TOLD:
        return tell("Several more.")
    words = ("one", "two", "three", "four", "five", "six")
    return tell("About {count} more.", count=words[count - 1])


def _settings(narrow: bool, setup: SetUp, found: Advice, ruler: Ruler) -> list[str]:
    """Return what to set, a row a setting: its length, its move, how to come to it, and how it is
    measured where that is another number. narrow: by the part's name, in no columns.
    """
    settings, over = dialled(setup, found)
    plan, dial, rows = setup.plan, settings.on_scale(setup.plan.machine), []
    by = {} if over else screens_of(plan.family).measured(plan, settings, ruler)
    shown = {kind.name: ruler.length(dial[kind.name]) for kind in plan.family.settings}
    nouns = {k.name: tell(k.part if narrow else k.noun) for k in plan.family.settings}
    lead, room = (max(map(len, texts.values())) for texts in (nouns, shown))
    for kind in plan.family.settings:
        name = kind.name
        moved = found.moves[name] if found.moves and not over else None
        notes = [
            *([] if moved is None else [ruler.move(kind, moved)]),
            *([say(found.approach[name], ruler, short=True)] if name in found.approach else []),
            *([by[name]] if name in by else []),
        ]
        told = ", ".join(filter(None, notes))
        row = f"  {nouns[name]:<{lead}}  {shown[name]:>{room}}  {told}"
        rows.append((f"{nouns[name]} {shown[name]}  {told}" if narrow else row).rstrip())
    return rows
