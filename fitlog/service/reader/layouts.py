"""What `plan` and `stops` were told, as typed."""

from __future__ import annotations

import re
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from ...domain import SetUp
from ...errors import NotUnderstood, Refused
from ...families.boards import Batch, Wish, batched, laid_out
from ...language.limits import Limit
from ...language.units import quoted
from .. import limits
from ..again import Named
from ..session import Session
from .choices import one_of
from .lengths import BoardsTyped, Reader

_BOARDS = {
    "width": limits.BOARD_WIDTH,
    "thickness": limits.TAIL_BOARD,
    "pin_thickness": limits.PIN_BOARD,
}


@dataclass(frozen=True, slots=True)
class GrooveTyped:
    """The bottom's groove; None: not given."""

    width: str | None = None
    at: str | None = None
    depth: str | None = None

    def texts(self) -> dict[str, str | None]:
        """Return it by the names that a family reads it by."""
        return {"groove": self.width, "at": self.at, "groove_depth": self.depth}


@dataclass(frozen=True, slots=True)
class PlanTyped:
    """All that `plan` takes; None: not given."""

    named: Named = field(default_factory=Named)
    boards: BoardsTyped = field(default_factory=BoardsTyped)
    tails: int | None = None
    pitch: str | None = None
    middle: str | None = None
    wide: bool | None = None
    half_pin: str | None = None
    spacer: bool = False
    groove: GrooveTyped = field(default_factory=GrooveTyped)
    widths: Sequence[str] = ()
    joint: str | None = None
    given: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class BatchTyped:
    """Which boards `stops` is for; empty: the set-up's own."""

    width: str | None = None
    thickness: Sequence[str] = ()
    pin_thickness: Sequence[str] = ()
    boards: Sequence[str] = ()
    groove: GrooveTyped = field(default_factory=GrooveTyped)

    def options(self) -> dict[str, str | None]:
        """Return what was typed by its option; None: not given."""
        given = {
            "width": self.width,
            "thickness": ",".join(self.thickness) or None,
            "pin_thickness": ",".join(self.pin_thickness) or None,
            "boards": " ".join(self.boards) or None,
            **self.groove.texts(),
        }
        return {f"--{name.replace('_', '-')}": text for name, text in given.items()}


def wish_of(session: Session, joint: str, typed: PlanTyped) -> Wish:
    """Return what is asked, in true mm: all bits unless one is named. Raises NotUnderstood
    (bad-choice) for figures of another joint.
    """
    for one in typed.given:
        raise NotUnderstood(
            "bad-choice",
            "--given {typed} is of another joint",
            "leave it out, or name that joint with --joint NAME",
            typed=one,
        )
    named, own = typed.named, laid_out(joint)
    stock, pin_stock = session.boards(named.stock, named.pin_stock)
    machine, board = session.machine(named.machine), typed.boards
    bits = [session.bits.get(named.bit)] if named.bit else session.bits.all(False)
    texts = {
        "width": one_width(typed),
        "thickness": board.thickness,
        "pin_thickness": board.pin_thickness,
        "half_pin": typed.half_pin,
        "pitch": typed.pitch,
        **typed.groove.texts(),
    }
    limits_of = {**_BOARDS, **own.SIZES}
    require_known(texts, limits_of, joint)
    return Wish(
        bits or [session.bits.only(None)],
        stock,
        pin_stock,
        machine,
        typed.spacer,
        session.reader.sizes(texts, limits_of),
        typed.tails,
        typed.middle and one_of(typed.middle, own.MIDDLES, "--middle"),
        typed.wide,
    )


def one_width(typed: PlanTyped) -> str | None:
    """Return the one width that is planned; raise NotUnderstood (too-many-sizes) for several."""
    if len(typed.widths) > 1:
        raise NotUnderstood(
            "too-many-sizes",
            "{count} sizes were given for {what}",
            "plan one width at a time, or several by a set-up's own pitch with --like N",
            count=len(typed.widths),
            what=limits.BOARD_WIDTH.what,
        )
    return typed.widths[0] if typed.widths else typed.boards.width


def require_known(texts: Mapping[str, object], known: Container[str], joint: str) -> None:
    """Refuse ("other-joint") a size that the layouts of a joint are not chosen by."""
    for name, text in texts.items():
        if text is not None and name not in known:
            raise Refused(
                "other-joint",
                "the layouts of the {joint} are not chosen by --{option}",
                "leave --{option} out",
                joint=joint,
                option=name.replace("_", "-"),
            )


def widths_of(session: Session, typed: PlanTyped) -> tuple[float, ...]:
    """Return the widths that are to take a set-up's pitch, true mm. Raises NotUnderstood
    (like-itself) for what the set-up says itself.
    """
    plain = PlanTyped(widths=typed.widths)
    if typed != plain:
        raise NotUnderstood(
            "like-itself",
            "with --like the set-up says the bit, the boards, the machine, the pitch and the kind "
            "of layout",
            "give --width alone beside it, or plan anew without --like",
        )
    return several(session.reader, typed.widths, limits.BOARD_WIDTH)


def batch_of(session: Session, setup: SetUp, typed: BatchTyped) -> Batch:
    """Return the boards that are meant, true mm. Raises NotUnderstood, Refused: two-lengths,
    too-many-sizes, and as `Boarded.boards_said`.
    """
    if not any(typed.options().values()):
        return Batch()
    also = ("boards_said",) if typed.boards else ()
    own, reader = batched(setup.plan.joint, *also), session.reader
    both = (
        _of_two(several(reader, typed.thickness, limits.TAIL_BOARD), limits.TAIL_BOARD),
        _of_two(several(reader, typed.pin_thickness, limits.PIN_BOARD), limits.PIN_BOARD),
    )
    said = own.boards_said(" ".join(typed.boards)) if typed.boards else None
    sizes = reader.sizes(typed.groove.texts(), own.SIZES)
    return Batch(reader.maybe(typed.width, limits.BOARD_WIDTH), *both, said, sizes)


def _of_two(found: tuple[float, ...], limit: Limit) -> tuple[float, ...]:
    if len(found) > 2:
        raise NotUnderstood(
            "too-many-sizes",
            "{count} sizes were given for {what}",
            "give one, or one for each of the two boards of a box",
            count=len(found),
            what=limit.what,
        )
    return found


def several(reader: Reader, texts: Sequence[str], limit: Limit) -> tuple[float, ...]:
    """Read sizes that may stand in one text, apart by commas, mm. Raises NotUnderstood
    (two-lengths) where a comma may be a decimal sign as well.
    """
    return tuple(reader.size(part, limit) for text in texts for part in _apart(text, reader.units))


def _apart(text: str, units: str) -> Iterator[str]:
    """The sizes of a text. A comma is a decimal sign between digits, as everywhere, where one digit
    of millimetres follows; three are another size.
    """
    for part in re.split(r"\s*;\s*|,\s+|\s+and\s+", text.strip()):
        pair = re.fullmatch(r"([0-9]+),([0-9]+)\s*([^0-9,]*)", part)
        if pair is None:
            yield from part.split(",")
        elif pair[1] == "0" or (units == "mm" and len(pair[2]) == 1):
            yield part
        elif units == "mm" and len(pair[2]) >= 3:
            yield from (pair[1] + pair[3], pair[2] + pair[3])
        else:
            raise NotUnderstood(
                "two-lengths",
                "{typed} may be one size or two",
                "write {one} for one, {first} and {second} for two",
                typed=quoted(part),
                one=f"{pair[1]}.{pair[2]}{pair[3].strip()}",
                first=f"{pair[1]}{pair[3].strip()}",
                second=f"{pair[2]}{pair[3].strip()}",
            )
