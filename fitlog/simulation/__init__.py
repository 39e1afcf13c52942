"""The simulated shop: a hidden truth, a person who judges, ways of working, and a season of
set-ups. Exact and seeded.

Nothing here prints or touches a log. All draws belong to their names, so that ways of working are
compared in pairs.
"""

from __future__ import annotations

from .comparison import METHODS, Comparison, compare
from .conditions import Conditions
from .methods import Advised, Knowing, Method, Undeterred
from .person import Person
from .plans import one_joint, plan_for, season_plans, year
from .rivals import Habit, Notebook
from .season import run
from .tally import MANY, MOST, Mean, Tally
from .truth import Truth

__all__ = [
    "MANY",
    "METHODS",
    "MOST",
    "Advised",
    "Comparison",
    "Conditions",
    "Habit",
    "Knowing",
    "Mean",
    "Method",
    "Notebook",
    "Person",
    "Tally",
    "Truth",
    "Undeterred",
    "compare",
    "one_joint",
    "plan_for",
    "run",
    "season_plans",
    "year",
]
