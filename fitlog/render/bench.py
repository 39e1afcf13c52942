"""One frame of the dialogue: head, body, keys and the bottom line, exactly as many rows as the
terminal has.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..domain import Advice, Family, Remark, SetUp
from ..domain.family import listed
from ..domain.standing import for_real_boards
from ..families.screens import screens_of
from ..families.telling import KEYS, say
from ..fronts.bench import View, asked_of, gaps, measured_at
from ..language.english.names import woods
from ..language.units import Ruler
from ..texts import tell
from .answer import standing
from .dial import all_good, settings_body
from .lines import clip, ends, row_of, wrap
from .questions import gap_question, question

TAKES_BACK = tell(". u takes it back.")
_ROOMY = 22  # rows from which on blank lines are affordable
_WIDE = 60  # columns from which on the head has room for the chance
_FEW = 3  # keys that are named one by one
_LINE_ROWS = 3  # a refusal is given at most so many rows above the bottom


@dataclass(frozen=True)
class Scene:
    """All that a frame shows. advice: while a piece is to be cut, or at the end; held: settings
    really set otherwise, mm on the user's own scale; steps: how to cut the piece; turn: what to
    mind before the turn; top: what just happened.
    """

    setup: SetUp
    view: View
    ruler: Ruler
    advice: Advice | None = None
    held: Mapping[str, float] = field(default_factory=dict)
    steps: tuple[Remark, ...] = ()
    turn: tuple[Remark, ...] = ()
    top: str = ""


def frame(scene: Scene, width: int, height: int) -> list[str]:
    """Return at most `height` lines of at most `width` columns, none of them past either."""
    if scene.view.mode == "help":
        found = pages(scene, width, height)
        return found[min(scene.view.page, len(found) - 1)]
    roomy = height >= _ROOMY
    top = scene.top if len(scene.top) <= width else scene.top.removesuffix(TAKES_BACK)
    head = [ends(_name(scene), _right(scene, width), width), top, *([""] if roomy else [])]
    foot = [*row_of(_keys(scene), width), *(_bottom(scene, width) or ([""] if roomy else []))]
    body = _body(scene, width, max(0, height - len(head) - len(foot)))
    spare = height - len(head) - len(body) - len(foot)
    return [clip(line, width) for line in [*head, *body, *([""] * spare), *foot][:height]]


def pages(scene: Scene, width: int, height: int) -> list[list[str]]:
    """Return the help: keys, how to cut the piece, why, and what to mind, cut into pages of
    `height` lines.
    """
    found, room = scene.advice, max(1, height - 2)

    def told_of(remark: Remark) -> str:
        return say(remark, scene.ruler, KEYS)

    parts: list[tuple[str, list[str]]] = [(tell("Keys"), _key_help(scene.view.family))]
    parts += [
        (tell("The test piece"), [f"{n}. {told_of(step)}" for n, step in enumerate(scene.steps, 1)])
    ]
    parts += [(tell("Before the turn"), [told_of(r) for r in scene.turn])]
    if found is not None:
        parts += [
            (tell("Why"), [told_of(r) for r in found.reasons]),
            (tell("Note"), [told_of(r) for r in found.notices]),
        ]
        parts += [(tell("Care"), [told_of(r) for r in found.cautions])]
    blocks: list[list[str]] = []
    for title, texts in parts:
        told = [wrap(f"- {text}", width, "  ") for text in texts]
        blocks += [[title.upper(), *told[0]], *told[1:], [""]] if told else []
    paged = _paged(blocks, room)
    return [
        _page(lines, number, len(paged), width, height) for number, lines in enumerate(paged, 1)
    ]


def _key_help(family: Family) -> list[str]:
    """What each key does, a line a key."""
    own = screens_of(family)
    digits = [_digits(len(kind.words)) for kind in family.kinds]
    parts = listed(tuple(tell("the {setting}", setting=kind.part) for kind in family.settings))
    numbers = listed(
        tuple(tell("the {number}", number=own.number(aspect)) for aspect in family.aspects)
    )
    keys = [
        (", ".join(dict.fromkeys(digits)), tell("the word beside the digit, logged at once.")),
        ("SPACE", tell("the piece is cut at the settings shown; then it is judged.")),
        (
            " ".join(own.keys()),
            tell("type {parts} as really set, if not as advised; then SPACE.", parts=parts),
        ),
        ("m", tell("type the number of the last word: {numbers}.", numbers=numbers)),
        *((typed.key, typed.told) for typed in own.readings().values()),
        ("s", tell("not judged: leave this question out.")),
        *([("f", tell("a gap that no setting cures."))] if gaps(family) else []),
        ("u", tell("take back the newest entry; nothing is ever erased.")),
        ("F", tell("finish, when all is settled.")),
        ("q", tell("leave. The next fitlog bench goes on exactly here.")),
    ]
    return [f"{key}: {what}" for key, what in keys]


def _digits(words: int) -> str:
    """The keys of so many words."""
    return tell("1 to {words}", words=words)


def _paged(blocks: list[list[str]], room: int) -> list[list[str]]:
    """Put blocks on pages of `room` lines, none broken that has room on a page of its own."""
    out: list[list[str]] = [[]]
    for block in blocks:
        if out[-1] and len(out[-1]) + len(block) > room:
            out.append([])
        if block == [""] and not out[-1]:
            continue
        for line in block:
            if len(out[-1]) == room:
                out.append([])
            out[-1].append(line)
    return [page for page in out if page] or [[]]


def _page(lines: list[str], number: int, count: int, width: int, height: int) -> list[str]:
    foot = tell(
        "Page {number} of {count}.   SPACE {how}   any other key: back",
        number=number,
        count=count,
        how="next page" if number < count else "back",
    )
    return [clip(line, width) for line in [*lines, *[""] * (height - len(lines) - 1), foot]][
        -height:
    ]


def _name(scene: Scene) -> str:
    plan = scene.setup.plan
    wood = woods(plan.stock.name, plan.pin_stock.name)
    machine = f", {plan.machine.name}" if plan.machine else ""
    return tell(
        "Set-up {number}: {bit}, {wood}{machine}",
        number=scene.setup.number,
        bit=plan.bit.name,
        wood=wood,
        machine=machine,
    )


def _right(scene: Scene, width: int) -> str:
    at, found = scene.view.stand, scene.advice
    if at.at == "over":
        return ""
    if at.at != "settings":
        asked = asked_of(scene.setup)
        return tell(
            "piece {piece}: {at}, {index} of {count}",
            piece=at.piece,
            at=at.at,
            index=asked.index(at.at) + 1,
            count=len(asked),
        )
    if found is not None and found.status == "ready":
        return tell("READY")
    chance = f", {all_good(found)}" if found is not None and width >= _WIDE else ""
    return tell("to cut: piece {piece}{chance}", piece=at.piece, chance=chance)


def _body(scene: Scene, width: int, rows: int) -> list[str]:
    setup, at = scene.setup, scene.view.stand.at
    if scene.view.mode == "gap":
        return gap_question(setup.plan.family, width, rows)
    if at in setup.plan.family.by_aspect:
        return question(setup, at, scene.turn, scene.ruler, width, rows)
    if scene.advice is None:
        return []
    if at == "over":
        dial = for_real_boards(setup, scene.advice).on_scale(setup.plan.machine)
        ended = [
            f"{setup.plan.family.setting(name).noun:<12}  {scene.ruler.length(value)}"
            for name, value in dial.items()
        ]
        return [
            *wrap(
                tell(
                    "Set-up {number}. {standing}",
                    number=setup.number,
                    standing=standing(setup, scene.advice, 0),
                ),
                width,
            ),
            "",
            *ended,
        ]
    return settings_body(setup, scene.advice, scene.held, scene.ruler, width, rows)


def _keys(scene: Scene) -> list[str]:
    """The keys that mean something now."""
    view = scene.view
    if view.mode == "typing":
        return [
            tell("y as typed" if view.asked else "ENTER takes it"),
            "BACKSPACE",
            tell("ESC drops it"),
        ]
    if view.mode == "gap":
        places = (f"{n} {place}" for n, place in enumerate(gaps(view.family), 1))
        return [*places, tell("ESC back")]
    if view.mode == "finish":
        return [tell("F finish"), tell("any other key: not yet")]
    at = view.stand.at
    if at == "over":
        return [tell("u take that back"), tell("q quit")]
    number = [tell("m number")] if view.numbered else []
    gap = [tell("f gap")] if gaps(view.family) else []
    judged = [*number, *gap] if view.judged else []
    finish = [tell("F finish")] if at == "settings" and view.ready else []
    return [*_own_keys(view), *judged, *finish, tell("u undo"), tell("? help"), tell("q quit")]


def _own_keys(view: View) -> list[str]:
    """The keys of the settings, or of the question."""
    own, at = screens_of(view.family), view.stand.at
    measured = [f"{key} {own.readings()[kind].named}" for key, kind in measured_at(view).items()]
    if at == "settings":
        settings = tell("{keys} if set otherwise", keys=" ".join(own.keys()))
        return [tell("SPACE it is cut"), settings, *(measured if not view.judged else [])]
    words = len(view.family.words(at))
    few = " ".join(map(str, range(1, words + 1)))
    return [few if words <= _FEW else _digits(words), *measured, tell("s not judged")]


def _bottom(scene: Scene, width: int) -> list[str]:
    """The answer to a key that did nothing, a refusal, or the line being typed: the cursor stands
    at its end.
    """
    view = scene.view
    line = wrap(view.line, width)[:_LINE_ROWS] if view.line else []
    if view.mode == "typing":
        return [*line, f"{_asked(scene)}: {view.typed}"]
    if view.mode == "finish":
        return wrap(
            tell(
                "Finish set-up {number} at these settings? F once more finishes it.",
                number=scene.setup.number,
            ),
            width,
        )
    return line


def _asked(scene: Scene) -> str:
    view, unit = scene.view, "mm" if scene.ruler.units == "mm" else "in"
    own = screens_of(view.family)
    if view.field == "number" and view.word is not None:
        return tell(
            '{number} of "{word}", {unit}',
            number=own.number(view.word.aspect),
            word=view.word.word,
            unit=unit,
        )
    if view.field in view.family.place:
        return tell(
            "{setting} as set, {unit}", setting=view.family.setting(view.field).noun, unit=unit
        )
    return f"{own.readings()[view.field].asks[bool(view.first)]}, {unit}"
