"""Pieces over the months: counted by hand on an invented log, and the bars of characters."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from building import BIT, STARTED, STOCK, make_cut, make_plan, make_setup
from hypothesis import given, settings
from hypothesis import strategies as st

from fitlog.advice.months import Months, Split, Taken, by_month
from fitlog.domain import Bit, SetUp, Stock
from fitlog.families.half_blind.names import set_to
from fitlog.render import months as month_table

FIRST = set_to(8.41, 75.2, 11.2)
STEADY = {"derandomize": True, "deadline": None, "database": None}
GOOD: tuple[str | None, ...] = ("good", "centred", "flush")
OAK, ELM = STOCK, Stock("invented elm", "elm (invented)", 16.0, 140.0)
OTHER = Bit("invented 12", 14.0, 12.0, 16.0)


def done(
    number: int,
    when: tuple[int, int],
    pieces: int,
    bit: Bit = BIT,
    stock: Stock = OAK,
    first: bool = False,
) -> SetUp:
    """A finished set-up of so many pieces; first: good at once, whatever was cut after."""
    words = [
        GOOD if first or n == pieces else ("tight", "centred", "flush")
        for n in range(1, pieces + 1)
    ]
    cuts = [make_cut(n, FIRST, *said) for n, said in enumerate(words, 1)]
    ended = datetime(*when, 17, 20, 0, tzinfo=UTC)
    return make_setup(
        make_plan(bit, stock=stock, pin_stock=stock),
        FIRST,
        cuts,
        number,
        outcome="finished",
        ended=ended,
    )


BY_HAND = [
    done(1, (2031, 11), 4),
    done(2, (2031, 11), 1),
    done(3, (2031, 11), 3, stock=ELM),
    done(4, (2032, 2), 2, first=True),
    done(5, (2032, 2), 3, OTHER),
    done(6, (2032, 3), 1, OTHER),
    done(7, (2032, 3), 0),
    done(8, (2032, 3), 2, stock=ELM),
]


def test_months_counted_by_hand() -> None:
    """November: 4 + 1 + 3 pieces in 3, of which the 1st and 3rd are first ones; December and
    January: nothing; and so on.
    """
    found = by_month(BY_HAND)
    nothing = Split()
    assert found.rows == (
        ((2031, 11), Split(Taken(2, 7, 0), Taken(1, 1, 1))),
        ((2031, 12), nothing),
        ((2032, 1), nothing),
        ((2032, 2), Split(Taken(1, 3, 0), Taken(1, 2, 1))),
        ((2032, 3), Split(Taken(0, 0, 0), Taken(2, 3, 1))),
    )
    assert found.total == Split(Taken(3, 10, 0), Taken(4, 6, 3)) and found.pieceless == 1
    assert found.rows[0][1].every.mean == pytest.approx(8 / 3) and found.rows[0][
        1
    ].every.share == pytest.approx(1 / 3)
    assert nothing.every.mean is None and nothing.every.share is None


def test_narrowed_months_still_know_what_came_before() -> None:
    found = by_month(BY_HAND, lambda s: s.number in (2, 6))
    assert (
        found.total == Split(later=Taken(2, 2, 2)) and len(found.rows) == 5 and found.pieceless == 0
    )
    assert by_month([]) == Months((), Split(), 0)
    years = by_month([done(1, (2029, 12), 1), done(2, (2034, 1), 1)])
    assert len(years.rows) == 50 and [w for w, s in years.rows if s.every.setups] == [
        (2029, 12),
        (2034, 1),
    ]


def test_a_piece_that_was_not_judged_is_not_good_at_once_but_took_its_wood() -> None:
    cuts = [make_cut(1, FIRST), make_cut(2, FIRST, *GOOD)]
    setup = make_setup(make_plan(), FIRST, cuts, outcome="finished", ended=STARTED)
    assert by_month([setup]).total.every == Taken(1, 2, 0)
    part = make_setup(
        make_plan(in_play=("fit",)),
        FIRST,
        [make_cut(1, FIRST, "good")],
        outcome="finished",
        ended=STARTED,
    )
    assert by_month([part]).total.every == Taken(1, 1, 1)


def test_an_empty_month_is_a_gap_and_a_long_gap_one_line() -> None:
    lines = month_table.lines(by_month(BY_HAND), 80, blocks=False)
    assert [line.split()[:2] for line in lines[1:]] == [
        ["2031-11", "3"],
        ["2031-12", "-"],
        ["2032-01", "-"],
        ["2032-02", "2"],
        ["2032-03", "2"],
    ]
    assert lines[1].split()[2:] == [
        "2.67",
        "33%",
        "3.50",
        "of",
        "2",
        "1.00",
        "of",
        "1",
        "#" * lines[1].count("#"),
    ]
    bars = [line.count("#") for line in lines[1:]]
    assert bars[1] == bars[2] == 0 and bars[3] / bars[0] == pytest.approx(2.5 / (8 / 3), abs=0.05)
    long = month_table.lines(
        by_month([done(1, (2029, 12), 1), done(2, (2034, 1), 1)]), 80, blocks=False
    )
    assert len(long) == 4 and long[2].split() == ["...", "-", "for", "48", "months"]
    assert (
        month_table.totals(by_month(BY_HAND))[0]
        == "All: 2.29 pieces, 43% good at the first piece (of 7 set-ups)."
    )


@settings(max_examples=100, **STEADY)
@given(
    width=st.integers(40, 120),
    blocks=st.booleans(),
    counts=st.lists(
        st.tuples(st.integers(0, 400), st.integers(0, 400), st.integers(1, 90)),
        min_size=1,
        max_size=30,
    ),
)
def test_no_month_is_wider_than_the_screen(
    width: int, blocks: bool, counts: list[tuple[int, int, int]]
) -> None:
    rows = tuple(
        ((2030 + i // 12, i % 12 + 1), Split(Taken(a, a * most, 0), Taken(b, b, b)))
        for i, (a, b, most) in enumerate(counts)
    )
    lines = month_table.lines(Months(rows, Split(), 0), width, blocks=blocks)
    assert max(map(len, lines)) <= width - 1 and (blocks or all(map(str.isascii, lines)))
