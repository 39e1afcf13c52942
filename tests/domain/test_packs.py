"""Stacks of papers, tapes, shims and blocks: every height that can be made, of the fewest pieces.

Outside check: every combination counted out one by one in exact rational arithmetic.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fitlog.domain import Pack, Shim, pack_of, set_adjuster
from fitlog.errors import Refused

STEADY = {"derandomize": True, "deadline": None, "database": None}
HUNDREDTHS = st.integers(1, 300)
PACKS = st.tuples(
    st.lists(st.tuples(HUNDREDTHS, st.integers(1, 4)), min_size=1, max_size=4),
    st.none() | st.integers(1, 5),
)
PLACES = st.integers(-200, 4500).map(lambda n: n / 1000)


def counted_out(shims: list[tuple[int, int]], most: int | None) -> dict[Fraction, int]:
    """Every height that can be made, mm, with the fewest pieces that make it."""
    found: dict[Fraction, int] = {}
    for counts in product(*[range(count + 1) for _, count in shims]):
        if most is None or sum(counts) <= most:
            pairs = zip(shims, counts, strict=True)
            height = sum((Fraction(size, 100) * n for (size, _), n in pairs), Fraction(0))
            found[height] = min(found.get(height, 99), sum(counts))
    return found


def pack_from(shims: list[tuple[int, int]], most: int | None) -> Pack:
    named = [Shim(f"shim {i}", size / 100, count) for i, (size, count) in enumerate(shims)]
    return Pack(tuple(named), most)


@settings(max_examples=150, **STEADY)
@given(PACKS)
def test_every_height_is_there_once_and_made_of_the_fewest(
    drawn: tuple[list[tuple[int, int]], int | None],
) -> None:
    shims, most = drawn
    stacks, expected = pack_from(shims, most).stacks(), counted_out(shims, most)
    assert [height for height, _ in stacks] == [float(h) for h in sorted(expected)]
    for height, names in stacks:
        made = sum(Fraction(shims[int(name.split()[1])][0], 100) for name in names)
        assert float(made) == height and len(names) == expected[Fraction(made)]
        assert all(names.count(f"shim {i}") <= count for i, (_, count) in enumerate(shims))


@settings(max_examples=200, **STEADY)
@given(PACKS, PLACES, st.integers(0, 1500).map(lambda n: n / 1000), st.booleans())
def test_neighbours_and_ranges_are_those_of_the_whole_list(
    drawn: tuple[list[tuple[int, int]], int | None], value: float, bare: float, positive: bool
) -> None:
    heights = counted_out(*drawn)
    values = sorted(float(Fraction(str(bare)) + h) for h in heights)
    values = [v for v in values if v > 0 or not positive]
    assume(values)
    can = set_adjuster(pack_from(*drawn), bare, positive=positive)
    under = [v for v in values if v <= value + 1e-9]
    over = [v for v in values if v >= value - 1e-9]
    assert can.below(value) == pytest.approx(under[-1] if under else values[0], abs=1e-6)
    assert can.above(value) == pytest.approx(over[0] if over else values[-1], abs=1e-6)
    least = min(abs(v - value) for v in values)
    assert abs(can.nearest(value) - value) == pytest.approx(least, abs=1e-6)
    found = list(can.within(value, value + 0.7))
    assert found == pytest.approx([v for v in values if value <= v <= value + 0.7], abs=1e-6)
    for v in found:
        thick = sum(drawn[0][int(name.split()[1])][0] for name in can.made_of(v)) / 100
        assert bare + thick == pytest.approx(v, abs=2e-6)
    assert can.coarse and can.made_of(value + 1e-4 + 5000) == ()
    assert can.above(-math.inf) == pytest.approx(values[0], abs=1e-6)


def test_the_step_is_the_gap_where_it_stands_or_the_widest() -> None:
    pack = pack_of("paper 0.1 x2, block 6", float)  # 0, .1, .2, 6, 6.1, 6.2
    assert set_adjuster(pack).step == pytest.approx(5.8)
    assert set_adjuster(pack, now=6.05).step == pytest.approx(0.1)
    assert set_adjuster(pack, now=0.2).step == pytest.approx(5.8)
    assert set_adjuster(pack, 3.0).below(8.9) == pytest.approx(3.2)


@pytest.mark.parametrize(
    ("text", "shims", "most"),
    [
        ("paper 0.1 x4", [("paper", 0.1, 4)], None),
        ("paper .1x4, thin tape 0.13 x 2", [("paper", 0.1, 4), ("thin tape", 0.13, 2)], None),
        ("one of block 6, thick block 8", [("block", 6.0, 1), ("thick block", 8.0, 1)], 1),
        ("At most 3 of  paper 0.1 x9, brass 1.5", [("paper", 0.1, 9), ("brass", 1.5, 1)], 3),
        ("one-off shim 2 * 2", [("one-off shim", 2.0, 2)], None),
    ],
)
def test_a_description_is_read(
    text: str, shims: list[tuple[str, float, int]], most: int | None
) -> None:
    assert pack_of(text, float) == Pack(tuple(Shim(*shim) for shim in shims), most)


def test_lengths_are_read_by_whoever_knows_the_unit() -> None:
    heard: list[str] = []

    def inches(text: str) -> float:
        heard.append(text)
        return 25.4 / 64

    assert pack_of("shim 1/64in x 3", inches).shims == (Shim("shim", 25.4 / 64, 3),)
    assert heard == ["1/64in"]
    assert set_adjuster(pack_of("shim 1/64in x3", inches)).above(0.5) == pytest.approx(25.4 / 32)


@pytest.mark.parametrize(
    ("text", "code", "told"),
    [
        ("", "bad-set", "'' is no name with a thickness"),
        ("paper", "bad-set", "'paper' is no name with a thickness"),
        ("0.1 x4", "bad-set", "'0.1 x4' is no name with a thickness"),
        ("paper 0.1, paper 0.2", "bad-set", "paper is named twice"),
        ("paper 0.1 x0", "bad-set", "paper cannot be there 0 times"),
        ("paper 0.1 x100", "bad-set", "paper cannot be there 100 times"),
        ("at most 0 of paper 0.1", "bad-set", "at most 0 stacked"),
        ("paper 0.0", "bad-size", "the thickness of paper must be a size above zero"),
        ("paper 300", "absurd-size", "paper of 300 mm is thicker than 200 mm"),
        (
            "a 0.01 x99, b 0.9901 x99, c 98.02 x99",
            "bad-set",
            "makes more than 5000 different stacks",
        ),
    ],
)
def test_what_is_no_set_is_refused_in_one_sentence(text: str, code: str, told: str) -> None:
    with pytest.raises(Refused, match=told) as refusal:
        pack_of(text, float)
    assert refusal.value.code == code
