"""The matrix's cells: two base shops, one factor at a time around each, and twenty bad pairs with
the reason for each.

All of it was written down before any of it was run. Lengths are mm.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, Literal

from tables import table

from fitlog.domain import Aspect, Machine, Plan
from fitlog.families.half_blind.names import ASPECTS
from fitlog.simulation import Conditions, one_joint

USUAL = Conditions(slips=0.0, readings=0.05)
INCH = 25.4
LIFT_TURN = 1.5  # mm of travel per turn of the lift


@dataclass(frozen=True)
class Cell:
    """One shop. base: whose rivals' options it takes; None for an adjuster: free.  between: set
    between marks by eye.

    again: the set-up that counts is the season's second, on another day: "repeat" the same joint,
    "later" at another height. why: what is bad about a pair.
    """

    name: str
    base: str
    in_play: tuple[Aspect, ...] = ASPECTS
    again: Literal["", "repeat", "later"] = ""
    fence: float | None = None
    lift: float | None = None
    depth: float | None = None
    between: tuple[str, ...] = ()
    conditions: Conditions = USUAL
    why: str = ""

    @property
    def machine(self) -> Machine:
        """The router table of this shop."""
        return table(
            "invented table",
            height_step=self.lift,
            fence_step=self.fence,
            depth_step=self.depth,
            between=self.between,
        )

    def plans(self, seed: int) -> list[Plan]:
        """Return the set-ups of one season: the last one counts."""
        told = self.conditions
        first, other = (
            one_joint(seed, self.machine, self.in_play, told.words_only, told.bias, nth)
            for nth in (1, 2)
        )
        return {"": [first], "repeat": [first, first], "later": [first, other]}[self.again]

    def but(self, name: str, why: str = "", **changes: Any) -> Cell:
        """Return this cell with some factors changed, those of the conditions too."""
        own = {k: v for k, v in changes.items() if k in Cell.__dataclass_fields__}
        told = replace(self.conditions, **{k: v for k, v in changes.items() if k not in own})
        return replace(self, name=f"{self.base}: {name}", why=why, conditions=told, **own)


FINE = Cell("fine mm", "fine mm", fence=0.02)
COARSE = Cell("1/64 in", "1/64 in", fence=INCH / 64, lift=LIFT_TURN / 16, depth=0.5)
NONE = {"readings": None}

FACTORS: dict[str, dict[str, Any]] = {
    "fit": {"in_play": ("fit",)},
    "centre": {"in_play": ("centre",)},
    "seat": {"in_play": ("seat",)},
    "repeat": {"again": "repeat"},
    "repeat, fit": {"again": "repeat", "in_play": ("fit",)},
    "repeat, centre": {"again": "repeat", "in_play": ("centre",)},
    "repeat, seat": {"again": "repeat", "in_play": ("seat",)},
    "later": {"again": "later"},
    "later, seat": {"again": "later", "in_play": ("seat",)},
    "fence free": {"fence": None},
    "fence 0.02": {"fence": 0.02},
    "fence 0.05": {"fence": 0.05},
    "fence 0.1": {"fence": 0.1},
    "fence 0.25": {"fence": 0.25},
    "fence 1/128 in": {"fence": INCH / 128},
    "fence 1/64 in": {"fence": INCH / 64},
    "lift free": {"lift": None},
    "lift 1/16 turn": {"lift": LIFT_TURN / 16},
    "lift 0.1": {"lift": 0.1},
    "depth free": {"depth": None},
    "depth 0.1": {"depth": 0.1},
    "depth 0.5": {"depth": 0.5},
    "readings to 0.1": {"readings": 0.1},
    "words alone": NONE,
    "sds x 0.5": {"sds": 0.5},
    "sds x 2": {"sds": 2.0},
    "fence zero 3 off": {"zeros_off": {"fence": 3.0}},
    "height zero 0.3 off": {"zeros_off": {"height": 0.3}},
    "edges 0.05 off": {"edges_off": 0.05},
    "slips 3 %": {"slips": 0.03},
    "slips 10 %": {"slips": 0.10},
    "swaps 5 %": {"swaps": 0.05},
}

PAIRS: tuple[Cell, ...] = (
    FINE.but(
        "fence 0.1, centre",
        "marks that hit the window of +-0.05 only just",
        fence=0.1,
        in_play=("centre",),
    ),
    FINE.but(
        "fence 1/64 in, centre, words",
        "no mark need be centred, and no number says how far",
        fence=INCH / 64,
        in_play=("centre",),
        **NONE,
    ),
    FINE.but(
        "fence 0.25, words",
        "three aspects by words on marks five windows apart",
        fence=0.25,
        **NONE,
    ),
    FINE.but(
        "depth 0.5, seat, words",
        "a stop coarser than the window, and nothing to measure the step",
        depth=0.5,
        in_play=("seat",),
        **NONE,
    ),
    FINE.but(
        "sds x 2, words", "a prior that is too sure, and only words against it", sds=2.0, **NONE
    ),
    FINE.but(
        "sds x 2, fence zero 3 off",
        "far off where the prior is too sure already",
        sds=2.0,
        zeros_off={"fence": 3.0},
    ),
    FINE.but("slips 10 %, words", "wrong words that no number contradicts", slips=0.10, **NONE),
    FINE.but("swaps 5 %, words", "wrong sides that no number contradicts", swaps=0.05, **NONE),
    FINE.but(
        "swaps 5 %, fence zero 3 off",
        "a zero that is far off looks like a swapped side",
        swaps=0.05,
        zeros_off={"fence": 3.0},
    ),
    FINE.but("slips 10 %, swaps 5 %", "lapses of both kinds", slips=0.10, swaps=0.05),
    FINE.but(
        "edges 0.05 off, words",
        "the person's own good is not the stated window, and nothing tells",
        edges_off=0.05,
        **NONE,
    ),
    FINE.but(
        "height zero 0.3 off, sds x 0.5",
        "off where all else is better than assumed",
        zeros_off={"height": 0.3},
        sds=0.5,
    ),
    FINE.but(
        "repeat, swaps 5 %",
        "what was settled is remembered, then said of the wrong side",
        again="repeat",
        swaps=0.05,
    ),
    FINE.but("repeat, slips 10 %", "what is remembered rests on slips", again="repeat", slips=0.10),
    FINE.but("repeat, words", "the day's change has to show in words", again="repeat", **NONE),
    COARSE.but(
        "between marks",
        "every setting by eye between marks lies a little off",
        between=("height", "fence", "depth"),
        fence=INCH / 32,
        lift=0.5,
        depth=1.0,
    ),
    COARSE.but("slips 10 %, words", "marks apart and wrong words", slips=0.10, **NONE),
    COARSE.but(
        "repeat, words", "what was good last time lies between two marks", again="repeat", **NONE
    ),
    COARSE.but(
        "sds x 2, readings to 0.1", "coarse in all: truth, readings, marks", sds=2.0, readings=0.1
    ),
    COARSE.but(
        "swaps 5 %, words",
        "two marks either side of the zero, and the sides swapped",
        swaps=0.05,
        **NONE,
    ),
)


def cells() -> tuple[Cell, ...]:
    """Return every cell: the two shops, each factor that differs from them, the pairs."""
    single = [
        base.but(name, **change) for base in (FINE, COARSE) for name, change in FACTORS.items()
    ]
    return (
        FINE,
        COARSE,
        *(c for c in single if replace(c, name=c.base) not in (FINE, COARSE)),
        *PAIRS,
    )
