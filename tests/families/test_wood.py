"""How wood takes up water and moves, against the published figures, and that it behaves as it must.

Source where nothing else is said: USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190
(2010).
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitlog.domain import Stock
from fitlog.families.wood import (
    SHEETS,
    WOODS,
    Wood,
    coefficient,
    content_of,
    equilibrium,
    rough,
)

TEMPERATURES = st.floats(-20, 60)
HUMIDITIES = st.floats(1, 99)
CONTENTS = st.floats(1, 40)
SPECIES = st.sampled_from(
    ["red oak", "hard maple", "white fir", "oak", "rosewood (invented)", "ash"]
)
SAWN = st.sampled_from(["", "flat", "quarter"])

# Table 4-2 at 21.1 deg C (70 deg F), relative humidity 5 to 95 % by 5. Status: read.
AT_70F = (
    1.3,
    2.5,
    3.5,
    4.5,
    5.4,
    6.2,
    6.9,
    7.7,
    8.5,
    9.2,
    10.1,
    11.0,
    12.0,
    13.1,
    14.4,
    16.0,
    17.9,
    20.5,
    23.9,
)
# Shrinkage from green to oven-dry, %, radial and tangential (table 4-3). Status: the first five
# read, the others memory.
SHRINKAGE = {
    "black cherry": (3.7, 7.1),
    "black walnut": (5.5, 7.8),
    "sugar maple": (4.8, 9.9),
    "American beech": (5.5, 11.9),
    "yellow birch": (7.3, 9.5),
    "white ash": (4.9, 7.8),
    "red maple": (4.0, 8.2),
    "American elm": (4.2, 9.5),
    "basswood": (6.6, 9.3),
    "red alder": (4.4, 7.3),
    "sweetgum": (5.3, 10.2),
    "quaking aspen": (3.5, 6.7),
    "yellow poplar": (4.6, 8.2),
    "ponderosa pine": (3.9, 6.2),
    "Douglas fir": (4.8, 7.6),
    "eastern white pine": (2.1, 6.1),
    "white fir": (3.3, 7.0),
}


def named(name: str) -> Wood:
    """The line of the table that is called `name`."""
    return next(wood for wood in WOODS if wood.names[0] == name)


def value(species: str, sawn: str = "flat") -> float:
    """The coefficient of what must be in the table or near it."""
    found = coefficient(species, sawn)
    assert found is not None
    return found.value


# --- moisture and air -----------------------------------------------------------------------------


@pytest.mark.parametrize(("humidity", "content"), list(zip(range(5, 100, 5), AT_70F, strict=True)))
def test_the_moisture_that_air_leads_to_is_the_tables(humidity: int, content: float) -> None:
    """Equation 4-5 against table 4-2, which is rounded to 0.1."""
    assert equilibrium(21.1, humidity) == pytest.approx(content, abs=0.06)


@given(temperature=TEMPERATURES, humidity=HUMIDITIES, more=st.floats(0.1, 10))
def test_damper_air_makes_damper_wood(temperature: float, humidity: float, more: float) -> None:
    damper = min(99.5, humidity + more)
    assert equilibrium(temperature, damper) > equilibrium(temperature, humidity) > 0


@given(temperature=TEMPERATURES, humidity=HUMIDITIES)
def test_air_never_makes_wood_wetter_than_its_fibres_hold(
    temperature: float, humidity: float
) -> None:
    """The fibre saturation point is about 30 % (Wood Handbook, chapter 4; status: memory)."""
    assert equilibrium(temperature, humidity) < 30


@given(humidity=st.floats(20, 80))
def test_warmer_air_of_the_same_humidity_makes_drier_wood(humidity: float) -> None:
    """Down every column of table 4-2 from 21 deg C on (status: memory)."""
    found = [equilibrium(t, humidity) for t in (21, 30, 40, 50, 60)]
    assert found == sorted(found, reverse=True)


def test_a_meter_comes_before_the_air() -> None:
    plain = ("invented", "ash (invented)", 17.0, 150.0)
    assert content_of(Stock(*plain)) is None
    assert content_of(Stock(*plain, moisture=9.5)) == 9.5
    assert content_of(Stock(*plain, temperature=21.1, humidity=50)) == pytest.approx(
        9.2, abs=0.06
    )  # table 4-2, read
    assert content_of(Stock(*plain, moisture=11.0, temperature=21.1, humidity=50)) == 11.0
    assert (
        content_of(Stock(*plain, temperature=21.1, humidity=1)) == 1.0
    )  # the least a plan can have


# --- the table ------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SHRINKAGE)
def test_the_table_follows_from_the_shrinkage(name: str) -> None:
    """C = S / (3000 - 20 S), as the book makes table 13-5 (30 % to 0, of the width at 10 %), to its
    last digit.
    """
    wood = named(name)
    for shrinkage, found in zip(SHRINKAGE[name], (wood.radial, wood.tangential), strict=True):
        assert found == pytest.approx(shrinkage / (3000 - 20 * shrinkage), abs=0.0000051)


def test_every_wood_moves_less_when_quarter_sawn() -> None:
    """The rule of the book's chapter 4: tangential shrinkage is about twice the radial, 1.1 to 3
    times in the table.
    """
    assert all(1.1 < wood.tangential / wood.radial < 3.1 for wood in WOODS)
    names = [name for wood in WOODS for name in wood.names]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("species", "flat", "quarter"),
    [
        ("hard maple", 0.00353, 0.00165),
        ("White Ash", 0.00274, 0.00169),
        ("red oak", 0.00369, 0.00158),
        ("white oak boards", 0.00365, 0.00180),
        ("Soft Maple", 0.00289, 0.00137),
        ("  CHERRY, black ", 0.00248, 0.00126),
        ("American walnut", 0.00274, 0.00190),
        ("eastern white pine", 0.00212, 0.00071),
        ("pecan", 0.00315, 0.00169),
    ],
)
def test_a_whole_name_is_found_however_it_is_written(
    species: str, flat: float, quarter: float
) -> None:
    """Table 13-5; status: read, white pine second hand."""
    assert (value(species), value(species, "quarter")) == (flat, quarter)
    found = coefficient(species, "flat")
    assert found is not None and found.taken == ()


@pytest.mark.parametrize(
    ("species", "sawn", "expected", "taken"),
    [
        ("oak", "flat", 0.00369, "red oak"),
        ("oak", "quarter", 0.00180, "white oak"),
        ("oaks", "flat", 0.00369, "red oak"),
        ("maple", "flat", 0.00353, "sugar maple"),
        ("ash", "flat", 0.00274, "white ash"),
        ("beech", "flat", 0.00431, "American"),
        ("Douglas-fir", "", 0.00267, "flat-sawn"),
        ("elm (invented)", "flat", 0.00338, "American elm"),
    ],
)
def test_what_the_words_leave_open_is_the_worse_case_and_said(
    species: str, sawn: str, expected: float, taken: str
) -> None:
    found = coefficient(species, sawn)
    assert found is not None and found.value == expected
    assert taken in "; ".join(found.taken)


def movement(species: str, sawn: str, dimension: float, start: float, end: float) -> float | None:
    """By how much a width of `dimension` mm grows from `start` to `end` % moisture, mm (equation
    13-2); None for sheet goods.
    """
    found = coefficient(species, sawn)
    return None if found is None else dimension * found.value * (end - start)


def test_an_unknown_wood_is_a_typical_one_and_sheets_are_none() -> None:
    found = coefficient("rosewood (invented)", "flat")
    assert found is not None and "typical" in found.taken[0]
    tangential = sorted(wood.tangential for wood in WOODS)
    assert len(WOODS) % 2 == 1 and found.value == tangential[len(WOODS) // 2]
    for sheet in (*SHEETS, "birch plywood", "MDF, oak veneer"):
        assert coefficient(sheet) is None and movement(sheet, "flat", 100, 8, 12) is None


# --- how a board moves ----------------------------------------------------------------------------


def test_the_books_own_example() -> None:
    """Equation 13-2: a flat-grained white fir board 232 mm wide goes from 8 to 11 %: 233.7 mm.
    Status: read.
    """
    moved = movement("white fir", "flat", 232, 8, 11)
    assert moved is not None
    assert 232 + moved == pytest.approx(233.7, abs=0.05)


def test_one_per_cent_of_maple() -> None:
    """150 mm of flat-sawn sugar maple: 0.53 mm for 1 %. Independent arithmetic: 150 x 0.00353."""
    assert movement("hard maple", "flat", 150, 9, 10) == pytest.approx(0.53, abs=0.005)


@given(species=SPECIES, sawn=SAWN, width=st.floats(10, 2000), one=CONTENTS, other=CONTENTS)
def test_there_and_back_again(
    species: str, sawn: str, width: float, one: float, other: float
) -> None:
    out, back = (
        movement(species, sawn, width, one, other),
        movement(species, sawn, width, other, one),
    )
    assert out is not None and back is not None
    assert out == -back and movement(species, sawn, width, one, one) == 0
    assert out == 0 or math.copysign(1, out) == math.copysign(1, other - one)


@given(species=SPECIES, width=st.floats(10, 2000), one=CONTENTS, other=CONTENTS)
def test_not_said_how_it_was_sawn_moves_as_the_worse(
    species: str, width: float, one: float, other: float
) -> None:
    sizes = {
        sawn: abs(movement(species, sawn, width, one, other) or 0.0)
        for sawn in ("", "flat", "quarter")
    }
    assert sizes[""] == sizes["flat"] >= sizes["quarter"]


def test_the_range_of_the_formula() -> None:
    """6 to 14 % (Wood Handbook at equation 13-2). Status: read."""
    assert not rough(6, 10, 14)
    assert rough(5.9, 10) and rough(10, 14.1)
