"""A joint looked at between real boards: at what settings it was cut, what is doubted, what is
said of the run.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

from ..advice.run import Looked, looked, with_checks
from ..domain import SetUp, Status
from ..domain.setups import known
from ..domain.standing import ended, ended_at
from ..errors import Refused
from ..language.doubts import Doubt
from ..texts import tell
from .asked import Reported
from .bench import Workbench
from .ending import none_open


class InRun(NamedTuple):
    """A set-up while its real boards are cut. setup: as of those boards: their sizes and their
    stock, and `shown` is what they are set to; status: of the set-up; least: joints cut at the
    last look, 0 before it; scrap: what the stock is called where the set-up tests in another.
    """

    setup: SetUp
    status: Status
    least: int
    scrap: str
    sizes: dict[str, float]


def in_run(bench: Workbench, setup: SetUp) -> InRun:
    """Return a set-up as it is while its real boards are cut. Raises Refused (no-open-setup) for
    one that was abandoned or undone.

    They are set to what the last look left, or was to move; before the first one to what the
    advice says of them.
    """
    if setup.undone or setup.outcome == "abandoned":
        raise none_open(setup)
    plan, past = setup.plan, bench.past(setup)
    found, made = looked(setup, past), with_checks(setup, past)
    settings = found.settings if found is not None else made.real
    if found is None and ended(setup) == "as it is":
        settings = ended_at(setup) or settings
    # What was stopped and moves nothing is looked at again before anything else.
    stays = found is not None and found.settings == setup.pieces()[-1].settings
    boards = plan.boards()
    sizes = known(
        width=boards["width"] if plan.piece_width else None,
        thickness=boards["thickness"] if plan.piece_thickness else None,
    )
    own = replace(plan, piece_width=None, piece_thickness=None, scrap="")
    return InRun(
        replace(setup, plan=own, shown=settings, other=None),
        setup.outcome or ("ready" if made.ready or stays else "tuning"),
        max((piece.after or 0 for piece in setup.checks()), default=0),
        plan.stock.name if plan.scrap else "",
        dict(sizes),
    )


def last_look(bench: Workbench, setup: SetUp) -> Looked | None:
    """Return what the last joint that was looked at says; None where the last piece is none."""
    return looked(setup, bench.past(setup))


def as_joint(run: InRun, told: Reported) -> Reported:
    """Return what was told as that of a joint of the real boards: their stock, their sizes."""
    return replace(told, scrap=run.scrap, sizes=run.sizes)


def run_doubts(run: InRun, told: Reported) -> Iterator[Doubt]:
    """Yield what no shop would mean by a joint that was looked at: fewer joints than at the last
    look, real boards before the set-up was found good.
    """
    after = told.after or 0
    if after < run.least:
        refusal = Refused(
            "fewer-joints",
            "{after} joints are fewer than the {least} at an earlier look",
            "count all joints of this set-up's real boards, {least} or more; --yes takes it as "
            "typed",
            after=after,
            least=run.least,
        )
        yield Doubt(refusal)
    if run.status == "tuning":
        refusal = Refused(
            "not-yet-ready",
            "set-up {number} is set anew since joint {least}: try that on scrap first"
            if run.least
            else "set-up {number} is still tuned: no real boards are cut by it yet",
            "log a test piece with fitlog cut; --yes takes it as a joint of the real boards",
            number=run.setup.number,
            least=run.least,
        )
        yield Doubt(refusal, insist=tell("Is it a joint of the real boards all the same?"))
