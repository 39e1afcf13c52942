"""The real boards of joints cut from both faces: what is measured off, and in which order all of it
is cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ...domain import Advice, Plan, Remark, Settings, SetUp, remark
from ...domain.standing import Standing, for_real_boards, standing
from ...errors import Refused
from .. import boards, joint_of
from .names import FACES, FIT, HEIGHT, STOP

Section = tuple[str, tuple[Remark, ...]]  # a heading and what to do under it


@dataclass(frozen=True)
class FlipJob(boards.Job):
    """The real boards of a set-up. lengths: what is measured off, by name, mm. sections: what to do
    before each part.
    """

    lengths: Mapping[str, float]
    sections: tuple[Section, ...]


def settings_for(setup: SetUp, advice: Advice, tails: int | None) -> Settings:
    """Return the settings for the real boards, true mm. tails: there are none to count."""
    if tails is not None:
        hint = "leave --tails out"
        raise Refused("no-layout", "a {joint} has no tails to count", hint, joint=setup.plan.joint)
    return for_real_boards(setup, advice)


def job(
    setup: SetUp,
    advice: Advice,
    settings: Settings,
    lengths: Mapping[str, float],
    sections: tuple[Section, ...],
    care: tuple[Remark, ...],
) -> FlipJob:
    """Return what is handed back for real boards."""
    how = standing(setup, advice)
    notices = tuple(_doubts(how))
    return FlipJob(setup, advice.status, settings, notices, care, how, lengths, sections)


def cut_all(plan: Plan, settings: Settings) -> tuple[Remark, ...]:
    """How all parts are cut from both faces, and how alike they have to be for that."""
    dial, joint = settings.on_scale(plan.machine), joint_of(plan)
    aspect = FIT if FIT in plan.family.by_aspect else FACES
    sizes = plan.boards()
    thicker = {name: sizes[name] + 1.0 for name in ("thickness", "grooved") if name in sizes}
    other, same = (joint.nominal(aspect, settings, each) for each in ({**sizes, **thicker}, sizes))
    spread = 2 * joint.stated_window(aspect).half / abs(other - same)
    return (
        remark("mark-faces"),
        remark("all-both-faces", height=dial[HEIGHT], stop=dial[STOP]),
        remark("sort-parts", most=spread),
    )


def _doubts(how: Standing) -> Iterator[Remark]:
    """What speaks against cutting real boards at these settings."""
    if how.ended in ("abandoned", "as it is") or how.code in ("tuning", "doubted"):
        yield remark("boards-unsure", ended=how.ended, code=how.code)
