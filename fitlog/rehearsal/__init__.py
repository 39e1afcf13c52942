"""The simulated shop: a hidden truth, a person who judges, ways of working, and a season of set-ups. Exact and seeded.

Nothing here prints or touches a log. All draws belong to their names, so that ways of working are compared in pairs.
"""

from __future__ import annotations

from .comparison import METHODS, Comparison, Mean, Tally, compare, plan_for, season_plans
from .methods import Advised, Habit, Method, Notebook
from .person import Person
from .season import Outcome, one_by_one, run
from .shops import year
from .truth import Truth

__all__ = [
    "METHODS", "Advised", "Comparison", "Habit", "Mean", "Method", "Notebook", "Outcome", "Person", "Tally", "Truth",
    "compare", "one_by_one", "plan_for", "run", "season_plans", "year",
]  # fmt: skip
