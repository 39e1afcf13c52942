"""What `recover` was told, as typed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ...families.recovering import Asked
from .. import limits
from ..again import Named
from ..session import Session
from .choices import joint_of
from .figures import read_figures
from .readings import Numbers, named_readings, readings

_SAMPLE = "anything on a sample"


@dataclass(frozen=True, slots=True)
class SampleTyped:
    """The kept sample. bit: which cut it; readings: kind and number of each that was taken, in the
    order in which they are weighed; None: not given; read: more of them, each as NAME=VALUE.
    """

    bit: str | None = None
    pitch: str | None = None
    readings: Sequence[tuple[str, Numbers | None]] = ()
    read: Sequence[str] = ()


@dataclass(frozen=True, slots=True)
class TodayTyped:
    """Today's joint. height: one that is remembered; None: not given."""

    height: str | None = None
    thickness: str | None = None
    pin_thickness: str | None = None
    spacer: bool | None = None
    many_tails: bool = False


@dataclass(frozen=True, slots=True)
class RecoverTyped:
    """All that `recover` takes. origin: the set-up that the joint comes from; joint: of which it is
    where none was named.
    """

    named: Named = field(default_factory=Named)
    origin: int | None = None
    joint: str | None = None
    sample: SampleTyped = field(default_factory=SampleTyped)
    today: TodayTyped = field(default_factory=TodayTyped)


def asked_of(session: Session, typed: RecoverTyped) -> Asked:
    """Return what is asked, in true mm: what is not named is that of the set-up that the joint
    comes from, or alone in the catalogue.
    """
    named, sample, today, reader = typed.named, typed.sample, typed.today, session.reader
    origin = session.bench().current(typed.origin) if typed.origin is not None else None
    old = origin.plan if origin else None
    bit = session.bits.only(named.bit or (old.bit.name if old else named.bit))
    stock = session.stocks.only(named.stock or (old.stock.name if old else named.stock))
    pin = named.pin_stock or (old.pin_stock.name if old and not named.stock else stock.name)
    here = old.machine.name if old and old.machine and not named.machine else named.machine
    machine = session.machine(here)
    joint = old.joint if old else joint_of(typed.joint)
    texts = {"height": today.height, "pitch": sample.pitch}
    given = {name: text for name, text in texts.items() if text is not None}
    figures, first = read_figures(reader, joint, given, bit, machine)
    sizes = {name: size for name, size in figures.items() if isinstance(size, float)}
    cut_by = session.bits.get(sample.bit) if sample.bit else None
    return Asked(
        joint,
        bit,
        stock,
        session.stocks.get(pin),
        machine,
        origin,
        cut_by,
        pitch=sizes.get("pitch"),
        readings=readings(
            reader, joint, [*sample.readings, *named_readings(joint, sample.read)], _SAMPLE
        ),
        remembered=next(iter(first.values()), None),
        thickness=reader.maybe(today.thickness, limits.TAIL_BOARD),
        pin_thickness=reader.maybe(today.pin_thickness, limits.PIN_BOARD),
        spaced=today.spacer,
        many_tails=today.many_tails,
    )
