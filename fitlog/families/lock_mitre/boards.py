"""The real boards of a lock mitre: how long its parts are cut, and in which order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...advice.decision import decide
from ...advice.history import History
from ...advice.laws import law_of
from ...domain import Advice, Remark, Settings, SetUp, remark
from ...domain.standing import for_real_boards, standing
from ...errors import Refused
from ...language.limits import Limit
from .. import boards
from ..boards import Batch
from . import figures
from .craft import cautions, check_thickness, first_words
from .joint import LockMitre
from .names import FENCE, HEIGHT, OFFSET
from .plan import MitrePlan, mitre

SIZES: dict[str, Limit] = {}
Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class MitreJob(boards.Job):
    """The real boards of a set-up, mm. edge: by how much each end is shortened by what is expected,
    below 0 how much of it is left blunt; longer: what each part is cut longer than it is wanted
    from outside to outside.
    """

    edge: float
    longer: float
    sections: tuple[Section, ...]


def boards_said(text: str) -> object:
    """All flats are alike, and all uprights."""
    raise Refused(
        "no-layout",
        "a lock mitre has no layout to choose",
        "leave --boards out: all flats are cut alike, and all uprights",
        "leave the boards out: all flats are cut alike, and all uprights",
    )


def taking(setup: SetUp, advice: Advice, widths: Sequence[float]) -> object:
    """Every width takes it."""
    raise Refused(
        "no-layout",
        "a lock mitre has no layout to choose",
        "every width takes its settings: fitlog stops",
    )


def real_boards(
    setup: SetUp, advice: Advice, past: History, tails: int | None, batch: Batch = Batch()
) -> MitreJob:
    """See `families.boards.Boarded`. tails: there are none. batch: of boards of another thickness
    both settings move by half of what they differ.
    """
    if tails is not None:
        raise Refused("no-layout", "a lock mitre has no tails to count", "leave --tails out")
    plan, old = _of_batch(mitre(setup.plan), batch), mitre(setup.plan)
    settings = _moved(for_real_boards(setup, advice), old, plan)
    edge = _edge(setup, past, settings, old, plan)
    dial = settings.on_scale(plan.machine)
    longer = 2 * edge if edge > figures.EDGE_SEEN else 0.0
    sections = (
        ("Parts", (remark("parts-planed"), remark("parts-length", edge=edge, longer=longer))),
        ("Flats", (remark("all-flats", height=dial[HEIGHT], fence=dial[OFFSET]),)),
        ("Uprights", (remark("all-uprights"), remark("keep-ends"))),
    )
    return MitreJob(
        replace(setup, plan=plan),
        advice.status,
        settings,
        tuple(first_words(plan, settings, past, setup.by)),
        cautions(plan, None),
        standing(setup, advice),
        edge,
        longer,
        sections,
    )


batch_of_boards = real_boards


def _of_batch(plan: MitrePlan, batch: Batch) -> MitrePlan:
    thick = batch.thicknesses[:1] or (plan.tail_thickness,)
    upright = batch.pin_thicknesses[:1] or (thick if plan.equal else (plan.pin_thickness,))
    width = batch.width or plan.board_width
    new = replace(
        plan, board_width=width, tail_thickness=thick[0], pin_thickness=upright[0], scrap=""
    )
    check_thickness(replace(new, piece_thickness=None))
    return new


def _moved(settings: Settings, old: MitrePlan, new: MitrePlan) -> Settings:
    """Settings for boards of another thickness, mm."""
    return settings.changed(
        **{
            HEIGHT: settings[HEIGHT] + (new.tail_thickness - old.tail_thickness) / 2,
            OFFSET: settings[OFFSET] + (new.pin_thickness - old.pin_thickness) / 2,
        }
    )


def _edge(setup: SetUp, past: History, settings: Settings, old: MitrePlan, new: MitrePlan) -> float:
    """By how much the ends are expected to be shortened, half the sum of both pairs, mm."""
    known = decide(setup, past).known
    joint, here = known.joint, _moved(settings, new, old)
    assert isinstance(joint, LockMitre)
    pairs = (
        joint.nominal(aspect, here, old.boards()) + law_of(known, aspect, here).mean
        for aspect in (HEIGHT, FENCE)
    )
    return sum(pairs) / 2 + (new.pin_thickness - new.tail_thickness) / 2
