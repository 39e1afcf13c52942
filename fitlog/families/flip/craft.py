"""The craft that parts cut from both faces share: see `advice.craft` for what each function
promises.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from ...advice.cautions import GENERAL, speed
from ...advice.decision import Decision
from ...advice.knowledge import Knowledge
from ...advice.laws import law_of, nominal_of
from ...domain import Aspect, Figures, Plan, Reading, Remark, Settings, Verdict, remark
from ...errors import Mm, Refused
from .names import FIT, HEIGHT, SHOULDER, STOP


def check_waste(kind: str, verdict: Verdict, readings: Sequence[Reading], later: bool) -> None:
    """Refuse what nobody can say of a hollow in waste: it has a width, and is no joint. kind: of
    its reading.
    """
    strange = [r.kind for r in readings if r.kind != kind]
    if not verdict.empty or later or strange or not readings:
        raise Refused(
            "bad-slot",
            "a {kind} in waste has a width and nothing else",
            "say how wide it is, measured in three places: fitlog cut --slot --read {kind}=WIDTH",
            "say how wide it is, measured in three places",
            kind=kind,
        )


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse a height at which nothing would be left between the faces."""
    thick = plan.figures(sizes)["thickness"]
    if settings[HEIGHT] >= thick:
        raise Refused(
            "beyond-limit",
            "a height of {height:.2f} is more than the board of {thick}",
            "check the unit, or give the piece's thickness with --thickness",
            "check the unit",
            height=Mm(settings[HEIGHT]),
            thick=Mm(thick),
        )


def always(plan: Plan, *own: Remark) -> tuple[Remark, ...]:
    """Return all cautions, for `start`. own: one joint's."""
    return (*GENERAL, remark("end-grain"), remark("narrow-rails"), *own, speed(plan))


def after(moves: Mapping[str, float]) -> tuple[Remark, ...]:
    """Return the cautions that a move makes new: no pass puts wood back."""
    back = any(moves.get(name, 0.0) < -1e-9 for name in (HEIGHT, STOP))
    return (remark("never-back"),) if back else ()


def height_from(known: Knowledge, aspect: Aspect, thick: float) -> Remark:
    """Return where the first height comes from. thick: of the board, mm."""
    law = law_of(known, aspect, known.about)
    at = nominal_of(known, aspect, known.about) + law.mean
    taught = known.past.taught(aspect, known.joint.terms(aspect, known.about))
    return remark("height-from", aspect, thick=thick, taught=taught, sd=law.sd, at=at)


def stop_from(known: Knowledge, depth: float) -> Remark:
    """Return where the first stop comes from. depth: what it is measured against, mm."""
    short = depth - known.about[STOP]
    taught = known.past.taught(SHOULDER, known.joint.terms(SHOULDER, known.about))
    sd = known.cold[SHOULDER].sd
    return remark("stop-from", SHOULDER, depth=depth, short=short, taught=taught, sd=sd)


def alone(made: Decision, hollow: str, solid: str) -> Iterable[Remark]:
    """Ask for the hollow beside what was measured alone on the last piece: only both show its play.
    hollow, solid: their readings.
    """
    read = {r.kind: r.value for r in made.pieces[-1].readings}
    if solid in read and not {hollow, "jaws", "feeler"} & read.keys():
        yield remark("solid-alone", FIT, hollow=hollow, solid=solid, wide=read[solid])


def raise_it(made: Decision) -> Iterable[Remark]:
    """Say on which end the next height is cut, and that both faces are."""
    if not made.pieces:
        return
    move = made.settings[HEIGHT] - made.pieces[-1].settings[HEIGHT]
    if move > 1e-6 and made.found.end is not None:
        yield remark("both-again", by=move)
