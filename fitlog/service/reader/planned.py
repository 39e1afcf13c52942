"""What `plan --joint` was told, as typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ...errors import Refused
from ...families.planning import planning_of
from ...families.typed import typed_of
from ...families.wanted import Wanted
from ...texts import tell
from ..session import Session
from .choices import named, pair_of
from .figures import read_figure
from .layouts import PlanTyped, one_width, require_known
from .start import StartTyped, anew


@dataclass(frozen=True, slots=True)
class Wished:
    """What was asked. wishes: as `start` would be asked, with each bit that may be used; sizes:
    what was said for the plan alone, mm or a number by name; given: figures of the joint, as typed.
    """

    wishes: list[Wanted]
    sizes: dict[str, float]
    given: Mapping[str, str] = field(default_factory=dict)


def wished(session: Session, joint: str, typed: PlanTyped) -> Wished:
    """Return what is asked of a joint that is chosen by no layouts. Raises NotUnderstood, Refused:
    other-joint for what the joint has not.
    """
    start, own = typed_of(joint).FIGURES, planning_of(joint).FIGURES
    texts = {"pitch": typed.pitch, "spacer": "yes" if typed.spacer else None}
    rest = {"middle": typed.middle, "wide": typed.wide, "half-pin": typed.half_pin}
    bottom = {n.replace("_", "-"): text for n, text in typed.groove.texts().items()}
    require_known({**texts, **rest, **bottom}, start, joint)
    said = {name: text for name, text in texts.items() if text is not None}
    apart = dict[str, str]()
    for one in typed.given:
        name, text = pair_of(one, "--given")
        known = named(name, (*start, *own), tell("figure of the {joint}", joint=joint))
        (apart if known in own else said)[known] = text
    bits: list[str | None] = [typed.named.bit]
    if typed.named.bit is None:
        bits = [bit.name for bit in session.bits.all(False)] or [None]
    wishes, refused = list[Wanted](), list[Refused]()
    for bit in bits:
        by = replace(typed.named, bit=bit, joint=joint)
        boards = replace(typed.boards, width=one_width(typed))
        try:
            wishes.append(anew(session, StartTyped(by, None, joint, said, (), boards)))
        except Refused as error:
            refused.append(error)
    if not wishes:
        raise refused[0]
    sizes = dict[str, float]()
    for name, text in apart.items():
        found = read_figure(session.reader, own[name], name, text, wishes[0].bit)
        assert isinstance(found, int | float)
        sizes[own[name].field] = found
    return Wished(wishes, sizes, said)
