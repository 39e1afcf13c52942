"""Ways of working compared: many invented shops, each with one bit, one stock and one machine, a
few set-ups in a row.

The first set-up of a season is made with a bit that nobody has used before, the later ones are on
other days, otherwise set, or the same joint again. Every method meets the same
shops, days and pieces (see `draws`), so that they are compared in pairs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from ..domain import Plan
from ..families.names import first_joint
from .conditions import Conditions
from .methods import Advised, Method, Undeterred
from .plans import season_plans
from .season import Outcome, one_by_one
from .tally import MOST, Tally
from .tuned import BASE, rivals

_SHOPS = 1_000_000  # seeds set aside for the shops of one comparison

Ways = Mapping[str, Callable[[], Method]]


def ways(joint: str, words_only: bool = False) -> Ways:
    """Return the tool and its rivals by name, each to be made anew for a season; the rivals'
    options by what is read.
    """
    return {"fitlog": Advised, **rivals(joint, BASE, words_only)}


METHODS: Ways = ways(first_joint())


@dataclass(frozen=True, slots=True)
class Comparison:
    """What a comparison found. plan: what all set-ups have in common; under which conditions they
    were made.
    """

    plan: Plan
    setups: int
    in_a_row: int
    seed: int
    tallies: Mapping[str, Tally]
    conditions: Conditions = Conditions()  # noqa: RUF009  # frozen


def compare(
    plan: Plan,
    setups: int,
    in_a_row: int,
    seed: int,
    methods: Ways | None = None,
    done: Callable[[], object] = lambda: None,
    conditions: Conditions | None = None,
) -> Comparison:
    """Work `setups` set-ups by every method, `in_a_row` in each shop (fewer in the last one), and
    count the pieces.

    done: called after every set-up of every method.  Raises `Refused` where the boards allow no
    joint.
    """
    told = conditions or Conditions()
    plan = replace(plan, words_only=plan.words_only or told.words_only)
    chosen = ways(plan.joint, plan.words_only) if methods is None else methods
    seasons: dict[str, list[list[Outcome]]] = {name: [] for name in chosen}
    for shop, start in enumerate(range(0, setups, in_a_row)):
        own = seed * _SHOPS + shop
        plans = season_plans(plan, own, min(in_a_row, setups - start), told)
        truth, person = told.truth(own), told.person(own, plan.words_only)
        for name, make in chosen.items():
            worked = []
            for outcome in one_by_one(truth, person, Undeterred(make()), plans, MOST):
                worked.append(outcome)
                done()
            seasons[name].append(worked)
    return Comparison(
        plan,
        setups,
        in_a_row,
        seed,
        {name: tallied(found) for name, found in seasons.items()},
        told,
    )


def tallied(seasons: Iterable[Iterable[Outcome]]) -> Tally:
    """Count how the set-ups of one method's seasons went."""
    found = [list(season) for season in seasons]
    every = [outcome for season in found for outcome in season]
    return Tally(
        tuple(tuple(o.pieces for o in season) for season in found),
        sum(o.first_good for o in every),
        sum(not o.solved for o in every),
        sum(o.within for o in every),
    )
