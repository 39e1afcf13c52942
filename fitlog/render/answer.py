"""How an answer looks: the settings to dial first, then the chances, then why, then what
to mind.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..advice.craft import craft_of
from ..domain import Advice, Aspect, Piece, Reading, Remark, Settings, SetUp, TrialCut
from ..domain.standing import chances_of, for_real_boards
from ..domain.standing import standing as decided
from ..families.screens import screens_of
from ..families.telling import COMMANDS, say
from ..families.typed import speech_of, typed_of
from ..language.english.names import woods
from ..language.numbers import percent
from ..language.saying import Spelling
from ..language.units import Ruler
from ..texts import tell
from .screen import Screen
from .standing import said


def told(cut: TrialCut, ruler: Ruler, *, whose: bool = False) -> str:
    """Return all that was said and measured of a piece, in the user's units; where that is nothing,
    the note on it. whose: with the aspect's name before a word that several share.
    """
    said = [] if cut.verdict.empty else [spoken(cut, ruler, whose=whose)]
    return (
        ", ".join([*said, *(_reading(r, cut.settings.family.name, ruler) for r in cut.readings)])
        or cut.note
        or tell("cut, not judged yet")
    )


def _reading(reading: Reading, joint: str, ruler: Ruler) -> str:
    if reading.other is not None:
        value, other = ruler.length(reading.value), ruler.length(reading.other)
        return tell(typed_of(joint).READINGS[reading.kind].told, value=value, other=other)
    name = tell(reading.kind.replace("_", " "))
    rods = tell(" of {rod}", rod=ruler.length(reading.rod)) if reading.rod is not None else ""
    return f"{name}{rods} {ruler.length(reading.value)}"


def spoken(cut: TrialCut | Piece, ruler: Ruler, *, whose: bool = False) -> str:
    """Return a verdict in words with sizes in the user's units. whose: as of `told`."""
    shares = speech_of(cut.settings.family.name).shares
    parts = [
        f"{f'{tell(s.aspect)} ' if whose and shares(s.aspect, s.word) else ''}"
        f"{s.word}{size(s.size, ruler)}"
        for s in cut.verdict.said
    ]
    parts += [
        f"{tell('gap') if f.place == 'unplaced' else 'gap ' + f.place}{size(f.size, ruler)}"
        for f in cut.verdict.faults
    ]
    return ", ".join(parts) or tell("nothing judged")


def size(number: float | None, ruler: Ruler) -> str:
    """Return the number said with a word, as it stands behind it."""
    return "" if number is None else f" {ruler.length(number)}"


def advice(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    """Print all that there is to say of the next piece."""
    heading(screen, setup, found, ruler)
    screen.line()
    _dial(screen, setup, found, ruler)
    if setup.outcome is not None or setup.undone:
        return
    for name, how in found.approach.items():
        screen.line(
            "{setting}: {how}.",
            indent="   ",
            setting=tell(setup.plan.family.setting(name).noun).capitalize(),
            how=say(how, ruler),
        )
    if boards := real(setup, found, ruler):
        screen.line(boards)
    screen.line()
    screen.line(outlook(found))
    if decided(setup, found).code == "tuning":
        recipe(screen, found, ruler)
    talk(screen, "Why", found.reasons, ruler)
    talk(screen, "Note", found.notices, ruler)
    said = {caution.code for caution in found.cautions}
    standing_ones = craft_of(setup.plan).cautions(setup.plan, None)
    more = (caution for caution in standing_ones if caution.code not in said)
    talk(screen, "Care", (*found.cautions, *more), ruler)


def heading(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    """Print which set-up it is and how it stands."""
    plan, piece = setup.plan, found.pieces + 1
    machine = f", {plan.machine.name}" if plan.machine else ""
    wood = woods(plan.stock.name, plan.pin_stock.name)
    own = "".join(f", {figure}" for figure in screens_of(plan.family).figures(plan, ruler))
    screen.line()
    screen.head(
        "Set-up {number}{titled}: {bit}, {wood}{machine}{own}. {standing}",
        number=setup.number,
        titled=setup.titled,
        bit=plan.bit.name,
        wood=wood,
        machine=machine,
        own=own,
        standing=standing(setup, found, piece),
    )


def recipe(screen: Screen, found: Advice, ruler: Ruler) -> None:
    """Print how to cut the next piece, step by step."""
    if found.steps:
        screen.line()
        screen.head("The test piece")
    for number, step in enumerate(found.steps, 1):
        screen.line(f"{number}. {say(step, ruler)}", indent="   ")


def standing(setup: SetUp, found: Advice, piece: int, spelling: Spelling = COMMANDS) -> str:
    """Return how a set-up stands and what is to be done about it."""
    return said(decided(setup, found), piece, spelling).headline


def real(setup: SetUp, found: Advice, ruler: Ruler) -> str:
    """Return what to set for the real boards where that is not what is shown for the test piece; ""
    where it is.
    """
    if found.status != "ready" or not decided(setup, found).other:
        return ""
    dial = for_real_boards(setup, found).on_scale(setup.plan.machine)
    called = setup.plan.family.setting
    parts = (f"{tell(called(name).noun)} {ruler.length(value)}" for name, value in dial.items())
    return tell("For the real boards set {parts}.", parts=", ".join(parts))


def dialled(setup: SetUp, found: Advice) -> tuple[Settings, bool]:
    """Return the settings to show, and whether the set-up is over: then those it ended at, not what
    would have come next.
    """
    over = setup.outcome is not None or setup.undone
    return (for_real_boards(setup, found) if over else found.settings), over


def _dial(screen: Screen, setup: SetUp, found: Advice, ruler: Ruler) -> None:
    settings, over = dialled(setup, found)
    dial, rows = settings.on_scale(setup.plan.machine), []
    for kind in setup.plan.family.settings:
        name, aspect = kind.name, setup.plan.family.aspect_of[kind.name]
        moved = found.moves[name] if found.moves and not over else None
        move = "-" if moved is None else ruler.move(kind, moved)
        state = _ended(found, aspect) if over else chance_of(found, aspect)
        rows.append(
            [
                tell(kind.noun),
                ruler.length(dial[name]),
                move,
                tell(aspect) if aspect else "-",
                state,
            ]
        )
    screen.table(["setting", "set to", "move", "decides", "chance of good"], rows, right=(1, 4))


def chance_of(found: Advice, aspect: Aspect | None) -> str:
    """Return the chance that an aspect of the next piece is good, as text; "settled" or "not in
    play" where it has none. None: of a setting that tunes no aspect.
    """
    if aspect is None:
        return "-"
    if aspect in found.settled:
        by = found.settled_by.get(aspect)
        return (
            tell("settled")
            if by is None or by.way in ("word", "reading")
            else tell("known, {chance}", chance=percent(by.chance))
        )
    chance = found.chance_good[aspect]
    return tell("not in play") if chance is None else percent(chance)


def _ended(found: Advice, aspect: Aspect | None) -> str:
    return tell("settled") if aspect in found.settled else "-"


# As many pieces are told by their number. A higher estimate is no number to go by: it counts until
# all has been good once, and on coarse marks a set-up ends sooner, since no piece could better it
# (simulated, no joint took 5 pieces on average where 12 and more were reckoned).
MOST_TOLD = 6


def outlook(found: Advice) -> str:
    """Return what is to be expected of the next piece, or of the real boards once all is
    settled.
    """
    if found.status == "ready":
        chance = chances_of(found).get("all") or 0.0
        return tell(
            "Chance that the true misfits all lie inside their windows: {chance}.",
            chance=percent(chance),
        )
    together = tell(
        "Chance that the next piece settles all that is open: {chance}",
        chance=percent(found.chance_good["all"] or 0.0),
    )
    if round(found.pieces_left) > MOST_TOLD:
        return tell("{together}. Still to be expected: several pieces.", together=together)
    return tell(
        "{together}. Still to be expected: about {pieces_left:.1f} pieces.",
        together=together,
        pieces_left=found.pieces_left,
    )


def talk(screen: Screen, title: str, remarks: Iterable[Remark], ruler: Ruler) -> None:
    """Print remarks under their title; nothing where there are none."""
    lines = list(remarks)
    if not lines:
        return
    screen.line()
    screen.head(title)
    for remark in lines:
        screen.line(f"- {say(remark, ruler)}", indent="  ")
