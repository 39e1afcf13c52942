"""How wood takes up water from the air, and how a board moves with it. Moisture is in % of the dry
weight.

Source: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010): equation 4-5 and table
4-2 for the moisture that wood comes to, equation 13-2 and table 13-5 for how it moves across the
grain. Along the grain it hardly does.
"""

from __future__ import annotations

import re
from statistics import median
from typing import NamedTuple

from ..domain import MOISTURES, Stock

RELIABLE = (
    6.0,
    14.0,
)  # % moisture between which equation 13-2 is said to hold; outside it is rough


class Wood(NamedTuple):
    """One line of table 13-5. radial, tangential: change per 1 % moisture, of quarter-sawn and of
    flat-sawn width.

    names: as the table has it first, then what else makers call it; the last word of a name is its
    kind.
    """

    names: tuple[str, ...]
    radial: float
    tangential: float


# "Read": the figure was read in the book. Every single species but sycamore agrees with S / (3000 -
# 20 S) of its shrinkage S.
WOODS = (
    Wood(("red oak",), 0.00158, 0.00369),  # read
    Wood(("white oak",), 0.00180, 0.00365),  # read
    Wood(("sugar maple", "hard maple", "rock maple"), 0.00165, 0.00353),  # read
    Wood(("red maple", "soft maple"), 0.00137, 0.00289),  # read
    Wood(("black cherry", "american cherry"), 0.00126, 0.00248),  # read
    Wood(("black walnut", "american walnut"), 0.00190, 0.00274),  # read
    Wood(("white ash", "american ash"), 0.00169, 0.00274),  # read
    Wood(("American beech",), 0.00190, 0.00431),  # read
    Wood(("yellow birch",), 0.00256, 0.00338),  # read
    Wood(("basswood",), 0.00230, 0.00330),  # read
    Wood(("red alder",), 0.00151, 0.00256),  # read
    Wood(("American elm", "white elm"), 0.00144, 0.00338),  # read
    Wood(("pecan hickory", "pecan", "hickory"), 0.00169, 0.00315),  # read
    Wood(("sweetgum", "sweet gum"), 0.00183, 0.00365),  # read
    Wood(("American sycamore",), 0.00172, 0.00296),  # read
    Wood(("quaking aspen",), 0.00119, 0.00234),  # read
    Wood(("eastern white pine", "white pine"), 0.00071, 0.00212),  # second hand
    Wood(
        ("white fir",), 0.00112, 0.00245
    ),  # tangential read, in the worked example; radial from memory
    Wood(("yellow poplar", "tulip poplar", "tulipwood"), 0.00158, 0.00289),  # memory
    Wood(("ponderosa pine",), 0.00133, 0.00216),  # memory
    Wood(("Douglas fir",), 0.00165, 0.00267),  # memory
)
# Glued across the grain or of fibres: the table is of solid wood, and their moisture is not
# comparable with a board's.
SHEETS = (
    "mdf",
    "hdf",
    "hardboard",
    "plywood",
    "ply",
    "multiplex",
    "chipboard",
    "particleboard",
    "osb",
)


class Coefficient(NamedTuple):
    """How much of its width a board moves per 1 % moisture. taken: what was assumed where the words
    left it open.
    """

    value: float
    taken: tuple[str, ...] = ()


def equilibrium(temperature: float, humidity: float) -> float:
    """Return the moisture, %, that wood comes to in air of `temperature` deg C and `humidity` %
    (equation 4-5).
    """
    t, h = temperature, humidity / 100
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    return (
        1800
        / w
        * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh))
    )


def content_of(stock: Stock) -> float | None:
    """Return a stock's moisture, %: by a meter, else what its air brings it to, else None.

    Air drier than any shop's (below 4 %) counts as giving the least moisture that a board can have.
    """
    if stock.moisture is not None or stock.temperature is None or stock.humidity is None:
        return stock.moisture
    return max(MOISTURES[0], equilibrium(stock.temperature, stock.humidity))


def coefficient(species: str, sawn: str = "") -> Coefficient | None:
    """Return how a board moves; None for sheet goods, which the table does not cover.

    sawn: "flat", "quarter" or "" (not said: flat, the worse case). A kind without its species
    ("oak") is taken as the one that moves most, a wood that is not in the table as a typical one;
    `taken` says so.
    """
    words = _words(species)
    if words & set(SHEETS):
        return None
    unsaid = () if sawn else ("flat-sawn, the worse case, since it was not said",)
    found, whole = _woods(words)
    if not found:
        return Coefficient(
            median(_of(wood, sawn) for wood in WOODS),
            ("a typical wood for one not in the table", *unsaid),
        )
    most = max(found, key=lambda wood: _of(wood, sawn))
    moves = ", which moves most of its kind" if len(found) > 1 else ""
    return Coefficient(_of(most, sawn), (() if whole else (most.names[0] + moves,)) + unsaid)


def through(species: str, sawn: str = "") -> Coefficient | None:
    """Return how a board moves in thickness: a flat-sawn one is as thick as a quarter-sawn one is
    wide.
    """
    return coefficient(species, {"flat": "quarter", "quarter": "flat"}.get(sawn, ""))


def rough(*contents: float) -> bool:
    """Tell whether a moisture lies where equation 13-2 is only rough."""
    return any(not RELIABLE[0] <= content <= RELIABLE[1] for content in contents)


def _woods(words: frozenset[str]) -> tuple[list[Wood], bool]:
    """Return the woods that a species' words may mean, and whether they are the whole name, not
    only the kind.
    """
    named = [wood for wood in WOODS if any(_words(name) <= words for name in wood.names)]
    if named:
        return named, True
    return [wood for wood in WOODS if any(name.split()[-1] in words for name in wood.names)], False


def _of(wood: Wood, sawn: str) -> float:
    return wood.radial if sawn == "quarter" else wood.tangential


def _words(text: str) -> frozenset[str]:
    """The words of a species' name, plurals as the singular."""
    found = re.findall(r"[^\W\d_]+", text.casefold())
    return frozenset(word.removesuffix("s") if len(word) > 3 else word for word in found)
