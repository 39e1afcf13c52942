"""What is decided before the first cut of a tongue and groove: which bit, how many boards fill a
width and how wide they are sawn, what room they need to move; see `families.planning`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from ...texts import tell
from .. import wood
from ..boards import Job
from ..flip import geometry
from ..flip import planning as flip
from ..flip.names import STOP
from ..planning import Draft, Planned, size, up
from ..tables import Table
from ..typed import Figure
from .names import FENCE
from .plan import TonguePlan, tongue

FIGURES: Mapping[str, Figure] = {"fills": size("fills", "the width to fill", 20000.0, "any floor")}
SEASON = 4.0  # % of moisture from a dry winter to a damp summer indoors; common practice, no source
COLUMNS: Mapping[str, str] = {
    "boards": "boards",
    "covers": "each covers",
    "width": "saw to, with the tongue",
    "last": "the last covers",
}


def rank(job: Job) -> float:
    """A groove a third as wide as the board is thick."""
    return flip.off_a_third(_groove(job), job.setup.plan)


def planned(draft: Draft) -> Planned:
    """The bits, the boards that fill a width, and how each of them moves."""
    job, plan, ruler = draft.job, tongue(draft.plan), draft.ruler
    long = job.settings[STOP]
    covers = plan.clear or plan.board_width - long
    tables = [flip.bits(draft, tell("Grooves by the bits at hand"), _groove)]
    figures, notes = {"covers": covers}, [flip.rule(draft, tell("tongue"))]
    if (fills := draft.sizes.get("fills")) is not None:
        count = math.ceil(fills / covers - 1e-9)
        alike = fills / count
        rows = [(count, alike, up(alike + long, ruler), alike)]
        if alike < covers - 0.05:
            rest = fills - (count - 1) * covers
            rows.append((count, covers, up(covers + long, ruler), rest))
        tables.append(Table("boards", "Boards that fill the width", dict(COLUMNS), tuple(rows)))
        covers = alike
        figures |= {"covers": alike, "width": up(alike + long, ruler)}
    else:
        notes.append(tell("How many boards fill a width: --given fills=L."))
    notes.append(_moves(draft, plan, covers, plan.depth - long))
    return Planned(
        tuple(tables), {"board, its tongue included": covers + long}, tuple(notes), figures
    )


def _moves(draft: Draft, plan: TonguePlan, covers: float, room: float) -> str:
    """How a board moves over the year, and what room is behind its tongue."""
    found = wood.coefficient(plan.stock.species, plan.stock.sawn)
    if found is None:
        return tell("{wood} does not move with moisture enough to matter.", wood=plan.stock.name)
    by = found.value * SEASON * covers
    return tell(
        "Over {season:g} % of moisture, about a year indoors, a board that covers {covers} moves "
        "{by}: lay dry boards apart by so much, damp ones close; behind the tongue there are "
        "{room}.",
        season=SEASON,
        covers=draft.ruler.length(covers),
        by=draft.ruler.length(by),
        room=draft.ruler.length(room),
    )


def _groove(job: Job) -> float:
    plan = tongue(job.setup.plan)
    return geometry.groove(plan.bit.diameter, job.settings[FENCE], plan.boards()["grooved"])
