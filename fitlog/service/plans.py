"""What is decided before the first cut of a joint: a set-up as `start` would begin it, its real
boards by the family's own code, and what its family makes of both. Nothing is logged.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from ..advice import advise
from ..advice.craft import craft_of
from ..domain import SetUp
from ..errors import Refused
from ..families.boards import Job, boards_of
from ..families.planning import Draft, Planned, planning_of, ranked
from ..families.typed import typed_of
from ..families.wanted import Wanted
from .bench import Workbench
from .boards import learnt_of


@dataclass(frozen=True)
class Laid:
    """A plan of a joint. wanted: what `start` would be asked; out: the bits that cannot cut these
    boards, each with why.
    """

    wanted: Wanted
    job: Job
    found: Planned
    out: Mapping[str, str]


def laid(
    bench: Workbench,
    wishes: Sequence[Wanted],
    sizes: Mapping[str, float],
    tails: int | None,
    several: Callable[[], object],
) -> Laid:
    """Return the plan with the bit that suits the boards best. wishes: the same with each bit that
    may be used; sizes: what was said for the plan alone; tails: how many fingers or housings;
    several: refuses to choose among bits.

    Raises Refused: no-layout, other-joint, and why none of the bits can cut these boards.
    """
    joint = wishes[0].joint
    own, rank = planning_of(joint), ranked(joint)
    made, out = list[tuple[Wanted, Job]](), dict[str, Refused]()
    for wanted in wishes:
        try:
            made.append((wanted, _job(bench, wanted, tails)))
        except Refused as error:
            out[wanted.bit.name] = error
    if not made:
        raise next(iter(out.values()))
    if len(made) > 1 and rank is None:
        several()
    made = sorted(made, key=lambda one: rank(one[1])) if rank is not None else made
    (wanted, job), *others = made

    def anew(figures: Mapping[str, float], tails: int | None) -> Job:
        return _job(bench, with_figures(wanted, figures), tails)

    rest = tuple(other for _, other in others)
    draft = Draft(job, sizes, {*wanted.figures}, bench.ruler, rest, anew)
    reasons = {name: error.message for name, error in out.items()} if len(wishes) > 1 else {}
    return Laid(wanted, job, own.planned(draft), reasons)


def with_figures(wanted: Wanted, figures: Mapping[str, float]) -> Wanted:
    """Return what is wanted with more figures, by the names that `start` has for them."""
    known = typed_of(wanted.joint).FIGURES
    more = {"board_width" if n == "width" else known[n].field: v for n, v in figures.items()}
    return replace(wanted, figures={**wanted.figures, **more})


def _job(bench: Workbench, wanted: Wanted, tails: int | None) -> Job:
    stocks = (wanted.stock, wanted.pin_stock)
    with bench.log.at_one_moment():
        past = learnt_of(bench, wanted.bit, wanted.machine, stocks)
    plan = bench.plan(wanted, (), past)
    first = craft_of(plan).first_settings(plan, past, bench.by).changed(**wanted.first)
    setup = SetUp(0, plan, first, first, bench.stamp(plan.machine).at, bench.by)
    advice = advise(setup, past)
    setup = replace(setup, shown=advice.settings)
    return boards_of(plan.joint).real_boards(setup, advice, past, tails)
