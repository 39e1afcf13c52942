"""A trial cut as it was typed: words, settings or moves since the last piece, readings."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from ...domain import Aspect, Family, Plan, Said, Settings, SetUp, Verdict
from ...domain.setups import known
from ...domain.standing import on_test_piece
from ...errors import NotUnderstood, Refused
from ...families.names import family_of, typed_by
from ...families.typed import speech_of, typed_of
from ...language.doubts import likely
from ...language.sizes import sized
from ...language.units import MM_PER_INCH, parse_length
from ...texts import AsTyped, tell
from .. import limits
from ..asked import Reported
from .choices import named as named_one
from .choices import pair_of
from .lengths import PieceTyped, Reader
from .readings import Numbers, named_readings, readings

_BARE_FRACTION = re.compile(r"[+\u2212-]?(?:[0-9]+[ -]+)?[0-9]+/0*[1-9][0-9]*")
Values = dict[str, float]


@dataclass(frozen=True, slots=True)
class Dialled:
    """A setting as typed: itself, or how far it grew (`more`) or shrank (`less`) since the last
    piece.
    """

    itself: str | None = None
    more: str | None = None
    less: str | None = None

    @property
    def said(self) -> tuple[str, ...]:
        """What was typed of it."""
        return tuple(t for t in (self.itself, self.more, self.less) if t is not None)


@dataclass(frozen=True, slots=True)
class CutTyped:
    """A trial cut as typed; settings by name or by the part of the machine, readings by kind. What
    each field means: see `Reported`.

    set, move, read: more settings, moves and readings, each as NAME=VALUE: of a move its signed
    length, or a direction word with a length; of a reading of two numbers both.
    """

    words: tuple[str, ...] = ()
    settings: Mapping[str, Dialled] = field(default_factory=dict)
    readings: Mapping[str, Numbers | None] = field(default_factory=dict)
    later: bool = False
    slot: bool = False
    same_end: bool = False
    note: str = ""
    piece: PieceTyped = field(default_factory=PieceTyped)
    set: Sequence[str] = ()
    move: Sequence[str] = ()
    read: Sequence[str] = ()
    after: int | None = None

    @property
    def wordless(self) -> bool:
        """Whether it needs no words: a slot, or something measured."""
        return self.slot or any(self.readings.values()) or bool(self.read)


def reported(reader: Reader, setup: SetUp, typed: CutTyped) -> tuple[Reported, Values]:
    """Return a trial cut as a use case takes it, and the moves that name its settings, signed mm.

    Raises NotUnderstood, Refused.
    """
    joint = setup.plan.joint
    settings = all_dialled(joint, typed)
    if typed.later and any(one.said for one in settings.values()):
        raise Refused(
            "settings-on-same-piece",
            "a piece keeps the settings it was cut at",
            "leave the settings out, or --same-piece",
        )
    named, moved = changed(reader, setup, settings, _moved_from(setup, typed.after))
    least = typed_of(joint).least_thickness(setup.plan)
    told = Reported(
        verdict=reader.verdict(typed.words, reader.speech(joint), tuned_now(setup)),
        heard=" ".join(typed.words),
        readings=readings(
            reader, joint, [*typed.readings.items(), *named_readings(joint, typed.read)]
        ),
        changed=named,
        later=typed.later,
        slot=typed.slot,
        same_end=typed.same_end,
        note=typed.note,
        after=typed.after,
        scrap=typed.piece.scrap or "",
        sizes=known(
            width=reader.maybe(typed.piece.width, limits.SCRAP_WIDTH),
            thickness=reader.maybe(
                typed.piece.thickness, limits.scrap_thickness(least, "any piece")
            ),
        ),
    )
    return told, moved


def tuned_now(setup: SetUp) -> tuple[Aspect, ...]:
    """Return the aspects that are judged in the stage that a set-up is in, those without a setting
    in every one. It is the first stage in which one was not last said to be right, else the last.
    """
    family = setup.plan.family
    last = {said.aspect: said.word for piece in setup.pieces() for said in piece.verdict.said}
    stages = [
        family.stage_of(aspect)
        for aspect in family.tuned
        if last.get(aspect) != family.kind(aspect).settling
    ]
    stage = min(stages, default=family.settings[-1].stage)
    own = family.setting_of
    return tuple(a for a in family.aspects if a not in own or family.stage_of(a) == stage)


def numbered(reader: Reader, joint: str, said: Said, text: str) -> Reported:
    """Return the last word said again, with the number that was typed for it."""
    parse_length(text, units=reader.units, turn=1.0, what="the number")
    length = parse_length(" ".join(text.lower().split()), units=reader.units, turn=1.0)
    again = sized(said, length, speech_of(joint))
    return Reported(Verdict().with_(again), f"{said.word} {text}", later=True)


def all_dialled(joint: str, typed: CutTyped) -> dict[str, Dialled]:
    """Return all settings that were typed, by name; raises NotUnderstood, Refused for one that was
    typed in two ways.
    """
    family = family_of(joint)
    found: dict[str, Dialled] = {}
    more = [(_setting(family, name), dial) for name, dial in typed.settings.items() if dial.said]
    pairs = [pair_of(one, "--set") for one in typed.set]
    more += [(_setting(family, name), Dialled(text)) for name, text in pairs]
    more += [_moved(family, *pair_of(one, "--move")) for one in typed.move]
    for name, dial in more:
        if name in found:
            raise _twice(name)
        found[name] = dial
    return found


def _setting(family: Family, name: str) -> str:
    """Return the setting that is meant by its name, or by the part of the machine that has it."""
    by_part = {part: setting for setting, part in family.part_of.items()}
    found = by_part.get(name.removeprefix("--"))
    return found or named_one(
        name, family.names, tell("setting of the {joint}", joint=family.called)
    )


def _moved(family: Family, name: str, text: str) -> tuple[str, Dialled]:
    """Return the setting that is moved, by its name or a direction word, and how far."""
    ways = {way: (one.name, i) for one in family.settings for i, way in enumerate(one.ways)}
    what = tell("setting or direction of the {joint}", joint=family.called)
    name = next((w for w in ways if w.startswith(f"{name} ")), name)  # away: from the cutter
    found = named_one(name, (*family.names, *ways), what)
    first, _, rest = text.partition(" ")
    if found in ways:
        setting, down = ways[found]
    elif first in ways and ways[first][0] == found:
        (setting, down), text = ways[first], rest
    else:
        setting, down = found, int(text[0] in "-\u2212")
        text = text.lstrip("+-\u2212")
    return setting, Dialled(less=text) if down else Dialled(more=text)


def _moved_from(setup: SetUp, after: int | None) -> Settings | None:
    """What a move is from, where that is not the last piece as it was cut: of the first joint of a
    run what the boards are set to, of a test piece in it the last joint as one of its size.
    """
    last = setup.last_piece()
    joint = last is not None and last.check
    if after is not None:
        return None if joint else setup.shown
    return on_test_piece(setup.plan, last).settings if last is not None and joint else None


def changed(
    reader: Reader, setup: SetUp, typed: Mapping[str, Dialled], base: Settings | None = None
) -> tuple[Values, Values]:
    """Return the settings that were typed, true mm, and those moves that name them, signed mm.
    base: moved from these, None: from the last piece's.
    """
    named: Values = {}
    moved: Values = {}
    last = setup.last_piece()
    start = base or (last.settings if last else None)
    for name, dialled in typed.items():
        if len(dialled.said) > 1:
            raise _twice(name)
        if dialled.itself is not None:
            named[name] = _itself(reader, setup, name, dialled.itself)
        elif dialled.said:
            if start is None:
                raise Refused(
                    "no-piece",
                    "there is no last piece to move the {setting} from",
                    "give the setting itself",
                    setting=name.replace("_", " "),
                )
            size = _move(reader, setup.plan, name, dialled.said[0])
            moved[name] = size if dialled.more is not None else -size
            named[name] = start[name] + moved[name]
    return named, moved


def found_at(
    reader: Reader, setup: SetUp, typed: Mapping[str, str | None], set_: Sequence[str]
) -> Values:
    """Return the settings that were found at the machine, true mm by name; raises NotUnderstood
    where none was. set_: more of them, each as NAME=VALUE.
    """
    settings = {name: Dialled(text) for name, text in typed.items() if text is not None}
    joint = setup.plan.joint
    named, _ = changed(reader, setup, all_dialled(joint, CutTyped(settings=settings, set=set_)))
    if not named:
        hint = "say what you measured: fitlog found {option}L"
        option = AsTyped(typed_by(setup.plan.family, setup.plan.family.names[0]))
        raise NotUnderstood(
            "nothing-said", "nothing was found", hint, "say what you measured", option=option
        )
    return named


def _twice(name: str) -> Refused:
    return Refused(
        "two-settings",
        "the {setting} was given twice",
        "give the setting, or one move since the last piece",
        setting=name.replace("_", " "),
    )


def _itself(reader: Reader, setup: SetUp, name: str, text: str) -> float:
    """Read a setting on the person's own scale, true mm; past its limit with what was likely meant,
    where a slip explains it.
    """
    plan, machine = setup.plan, setup.plan.machine
    part, limit = plan.family.part_of[name], typed_of(plan.joint).setting(plan.bit, name)
    try:
        return reader.setting(text, part, limit, machine)
    except Refused as error:
        typed, advised = reader.length(text, name, machine).mm, setup.shown.on_scale(machine)[name]
        found = likely(typed, [advised], reader.ruler) if typed > 0 else None
        if found is None:
            raise
        said, meant = error.message, found[1]
        raise Refused(
            "absurd-size", "{said}", "did you mean {meant}?", said=said, meant=meant
        ) from None


def _move(reader: Reader, plan: Plan, name: str, text: str) -> float:
    turn = plan.machine.turn(plan.family.part_of[name]) if plan.machine else None
    if turn is not None:
        text = _turns_or_inches(reader, turn, name, text)
    return reader.size(text, limits.MOVE._replace(what=_move_of(name)), plan.machine)


def _move_of(name: str) -> str:
    """Return what the move of a setting is called."""
    return tell("the move of the {setting}", setting=name.replace("_", " "))


def _turns_or_inches(reader: Reader, turn: float, name: str, text: str) -> str:
    """Return a move of the lift with its unit: a bare fraction is turns as likely as inches, so
    that it is never guessed.
    """
    bare = text.strip()
    if not _BARE_FRACTION.fullmatch(bare):
        return text
    parts = parse_length(f"{bare} in", what=_move_of(name)).mm / MM_PER_INCH
    size = reader.ruler.size
    ways = {"turn": size(abs(parts) * turn), "in": size(abs(parts) * MM_PER_INCH)}
    for unit, meant in ways.items() if reader.asks is not None else ():
        asked = tell("Did you mean {bare} {unit} ({meant})?", bare=bare, unit=unit, meant=meant)
        if reader.asks is not None and reader.asks.agrees(asked):
            return f"{bare} {unit}"
    raise NotUnderstood(
        "turn-or-inch",
        "a move of {bare} may be {bare} turn ({turn}) or {bare} in ({inches}) at a lift that "
        "counts turns",
        "write {bare}turn or {bare}in",
        bare=bare,
        turn=ways["turn"],
        inches=ways["in"],
    )
