"""Set-ups as the dialogue logs them, without a log."""

from __future__ import annotations

from collections.abc import Sequence

import beside  # noqa: F401
from building import make_cut, make_plan, make_setup
from tables import table

from fitlog.domain import Aspect, Reading, SetUp, TrialCut
from fitlog.families.half_blind.names import ASPECTS, WORDS, set_to

FIRST = set_to(8.41, 75.2, 11.2)
LIFT = table("turns", height_turn=1.5, fence_step=0.05, backlash=0.1)
STEADY = {"derandomize": True, "deadline": None, "database": None}
ALL = ("cut", "very tight", "very proud", "gap far")


def at_the_bench(
    *entries: str | Reading, in_play: Sequence[Aspect] = ASPECTS, ended: bool = False
) -> SetUp:
    """A set-up of these entries: "cut" a new piece, a word, "gap ...", a note ("fit not judged") or
    a reading.
    """
    cuts: list[TrialCut] = []
    for entry in entries:
        number = len([c for c in cuts if c.verdict.empty and not c.note and not c.readings])
        aspect = next((a for a in ASPECTS if entry in WORDS[a]), None)
        if entry == "cut":
            cuts.append(make_cut(number + 1, FIRST))
        elif isinstance(entry, Reading):
            cuts.append(make_cut(number, FIRST, readings=[entry]))
        elif aspect is None:
            cuts.append(make_cut(number, FIRST, note=entry))
        else:
            cuts.append(make_cut(number, FIRST, **{aspect: entry}))
    plan = make_plan(machine=LIFT, in_play=tuple(in_play))
    return make_setup(plan, FIRST, cuts, outcome="finished" if ended else None)
