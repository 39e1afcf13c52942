"""The craft of the lock mitre: see `advice.craft` for what each function promises."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from ...advice import plain
from ...advice.cautions import GENERAL, LEAST_LENGTH, speed
from ...advice.decision import Decision
from ...advice.history import History
from ...advice.knowledge import Knowledge, know
from ...advice.laws import law_of
from ...advice.notices import sizes
from ...advice.opening import first_from
from ...domain import Aspect, Figures, Piece, Plan, Remark, Settings, SetUp, remark
from ...errors import Mm, Refused
from ..moisture import Board, swelling
from ..wanted import Wanted
from . import figures, geometry
from .joint import LockMitre
from .names import CORNER, FENCE, FIT, HEIGHT, OFFSET, set_to
from .plan import MitrePlan, mitre

OWN = (remark("large-bit"), remark("tall-fence"), remark("short-pieces"), remark("last-pass"))


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> MitrePlan:
    """The plan as said; boards of one stock are as thick as the first."""
    plan = mitre(plain.plan_of(wanted, earlier, past, by))
    if wanted.size("pin_thickness") is None and plan.stock == plan.pin_stock:
        plan = replace(plan, pin_thickness=plan.tail_thickness)
    return plan


def first_settings(plan: Plan, past: History, by: str = "") -> Settings:
    """The profile's middle in that of the boards, and as much lower and further forward as keeps
    the ends blunt. Raises Refused for a board that the bit is not marked for.
    """
    own = mitre(plan)
    check_thickness(own)
    return first_from(plan, _printed(own), past, by)


def _printed(plan: MitrePlan) -> Settings:
    thick = plan.figures()
    return set_to(plan.middle + thick["thickness"] / 2, plan.middle + thick["upright"] / 2)


def check_thickness(plan: MitrePlan) -> None:
    """Refuse boards that the bit is not marked for."""
    for thick in sorted({plan.figures()["thickness"], plan.figures()["upright"]}):
        if not plan.thinnest <= thick <= plan.thickest:
            raise Refused(
                "no-room",
                "this bit is for boards of {thinnest} to {thickest}, not of {thick}",
                "take the bit that is marked for it, or say what this one is marked for with "
                "--given thinnest=L --given thickest=L",
                "take the bit that is marked for it, or say what this one is marked for, "
                "thinnest and thickest",
                thinnest=Mm(plan.thinnest),
                thickest=Mm(plan.thickest),
                thick=Mm(thick),
            )


def check(plan: Plan, settings: Settings, changed: Mapping[str, float], sizes: Figures) -> None:
    """Refuse a profile whose middle lies outside the board."""
    own, thick = mitre(plan), plan.figures(sizes)
    for name, figure in ((HEIGHT, "thickness"), (OFFSET, "upright")):
        at = settings[name] - own.middle
        if name in changed and not 0 < at < thick[figure]:
            raise Refused(
                "beyond-limit",
                "{setting} of {value:.2f} puts the profile's middle outside a board of {thick}",
                "measure to the bit's top and rim, {middle} from the profile's middle; or check "
                "the unit",
                setting=plan.family.setting(name).called,
                value=Mm(settings[name]),
                thick=Mm(thick[figure]),
                middle=Mm(own.middle),
            )


def start_at(plan: Plan, past: History, by: str = "") -> float:
    """The bit height that brings two flats flush, mm."""
    own = mitre(plan)
    known = know(own, (), past, _printed(own), by)
    return _printed(own)[HEIGHT] - law_of(known, HEIGHT, known.about).mean / 2


def first_reason(known: Knowledge, aspect: Aspect) -> Remark:
    """Where the first numbers come from."""
    plan, law = mitre(known.joint.plan), known.cold[aspect]
    figure = "thickness" if aspect == HEIGHT else "upright"
    return remark(
        "height-from" if aspect == HEIGHT else "fence-from",
        aspect,
        thick=plan.figures()[figure],
        middle=plan.middle,
        taught=known.past.taught(aspect, known.joint.terms(aspect, known.about)),
        sd=law.sd,
        by=plan.set_by,
    )


def recipe(
    plan: Plan, settings: Settings, shown_by: str | None = None, asked: Sequence[Aspect] = ()
) -> tuple[Remark, ...]:
    """Two flats and an upright show all; a fourth end shows the fence whatever the edge is. The
    height alone is shown by the flats.
    """
    own, dial = mitre(plan), settings.on_scale(plan.machine)
    thick, both = own.figures()["thickness"], FENCE in plan.in_play
    corner = (remark("mitre-corner", equal=own.equal),) if both else ()
    return (
        remark(
            "mitre-ends",
            thick=thick,
            upright=own.figures()["upright"] if both else None,
            long=LEAST_LENGTH,
        ),
        remark("mitre-cut", height=dial[HEIGHT], fence=dial[OFFSET], upright=both),
        remark("mitre-flats"),
        *corner,
        remark("mitre-saw", off=thick + figures.SAWN_OFF),
    )


def test_stock(plan: Plan, first: Settings, pieces: int) -> tuple[Remark, ...]:
    """Three scraps, two flats and an upright, of whose ends so much is sawn off for each piece."""
    thick = plan.figures()
    sawn = math.ceil(pieces / 2 - 1) * (thick["thickness"] + figures.SAWN_OFF)
    size = {name: thick[name] for name in ("width", "thickness")}
    long = LEAST_LENGTH + max(0.0, sawn)
    return (remark("stock-piece", count=3, ends=3 * pieces, **size, length=long),)


def cautions(plan: Plan, moves: Mapping[str, float] | None) -> tuple[Remark, ...]:
    """A large bit in a heavy cut: passes by the fence; after a move back the last one thin."""
    if moves is None:
        return (*GENERAL, *OWN, speed(plan))
    return (remark("last-pass"),) if moves.get(OFFSET, 0.0) > 1e-9 else ()


def _of_moisture(made: Decision) -> Iterable[Remark]:
    """Say when flats and uprights will not stay equally thick, or the scrap is not as the boards:
    a pair of ends stands proud by what they differ.
    """
    plan, half = mitre(made.known.joint.plan), made.known.joint.stated_window(HEIGHT).half
    board = Board(plan.stock.species, plan.stock.sawn, plan.moisture)
    told = {"boards": plan.moisture, "thick": plan.tail_thickness}
    apart = swelling(board, plan.tail_thickness, plan.pin_moisture)
    if apart > half:
        yield remark("moisture-uprights", CORNER, other=plan.pin_moisture, apart=apart, **told)
    apart = swelling(board, plan.tail_thickness, plan.scrap_moisture)
    if apart > half:
        yield remark("moisture-scrap-ends", other=plan.scrap_moisture, apart=apart, **told)


def first_words(plan: Plan, first: Settings, past: History, by: str) -> Iterable[Remark]:
    """Boards of two thicknesses leave a butt line."""
    own = mitre(plan)
    if not own.equal:
        apart = abs(own.tail_thickness - own.pin_thickness)
        yield remark("two-thicknesses", line=apart / 2, apart=apart)


def notices(made: Decision) -> tuple[Remark, ...]:
    """What corner and fit say, which have no setting of their own; and boards of two moistures."""
    last = made.pieces[-1] if made.pieces else None
    said = _last(made, last) if last is not None else ()
    return (*said, *_of_moisture(made), *sizes(made))


def _last(made: Decision, last: Piece) -> Iterable[Remark]:
    joint = made.known.joint
    assert isinstance(joint, LockMitre)
    over, height = joint.step(CORNER, last), joint.step(HEIGHT, last)
    paired = last.verdict.of(FENCE) is not None
    flats = any(joint.step(HEIGHT, piece) is not None for piece in made.pieces)
    if over is not None and not flats and not paired:
        yield remark("corner-alone", CORNER)
    elif over is not None and height is not None and joint.mitre.equal and not paired:
        uprights = geometry.fence_from_corner(over[0], height[0])
        yield remark(
            "corner-told",
            CORNER,
            over=over[0],
            fence=uprights / 2,
            height=height[0] / 2,
            edge=(uprights + height[0]) / 2,
        )
    fit = last.verdict.of(FIT)
    if fit is not None and not fit.settles:
        yield remark("fit-not-set", FIT, loose=fit.side > 0)
