"""The simulated shop: a hidden truth, a person who judges, ways of working, and a season of set-ups. Exact and seeded.

Nothing here prints or touches a log. All draws belong to their names, so that ways of working are compared in pairs.
"""

from __future__ import annotations

from .methods import Advised, Habit, Method, Notebook
from .person import Person
from .season import Outcome, run
from .shops import year
from .truth import Truth

__all__ = ["Advised", "Habit", "Method", "Notebook", "Outcome", "Person", "Truth", "run", "year"]
