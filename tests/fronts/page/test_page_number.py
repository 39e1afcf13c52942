"""The six-digit number that lets a phone in: short-lived, good once and hard to guess."""

from __future__ import annotations

import re

import pytest
from house import Screen

from fitlog.errors import FitlogError
from fitlog.fronts.page.pairing import HOLDS, TRIES, TRIES_EACH


@pytest.fixture
def screen() -> Screen:
    made = Screen()
    made.pairing.ask()
    return made


def test_a_number_holds_for_a_while_and_once(screen: Screen) -> None:
    screen.now = HOLDS - 1
    screen.pairing.ask()
    (number,) = screen.numbers
    assert re.fullmatch("[0-9]{6}", number)
    assert screen.spend(number) == ""
    assert screen.spend(number) == "old-number"
    assert len(screen.numbers) == 2 and screen.spend(screen.numbers[-1]) == ""


def test_an_expired_number_lets_nobody_in(screen: Screen) -> None:
    (number,) = screen.numbers
    screen.now = HOLDS
    assert screen.spend(number) == "old-number"
    assert len(screen.numbers) == 2


def test_an_address_has_a_few_tries_and_leaves_the_number_to_others(screen: Screen) -> None:
    codes = [screen.spend(screen.wrong()) for _ in range(TRIES_EACH)]
    assert codes == ["wrong-number"] * TRIES_EACH
    assert screen.spend(screen.numbers[-1]) == "too-many-tries"
    assert screen.spend(screen.numbers[-1], "192.0.2.8") == ""
    screen.now = HOLDS + 1
    screen.pairing.ask()
    assert screen.spend(screen.numbers[-1]) == ""


def test_wrong_numbers_from_anywhere_end_the_number(screen: Screen) -> None:
    for n in range(TRIES):
        assert screen.spend(screen.wrong(), f"192.0.2.{n}") == "wrong-number"
    assert screen.spend(screen.numbers[-1], "192.0.2.99") == "too-many-tries"
    screen.now = 59
    assert screen.spend(screen.numbers[-1], "192.0.2.99") == "too-many-tries"
    screen.now = 61
    screen.pairing.ask()
    assert len(screen.numbers) == 2 and screen.spend(screen.numbers[-1], "192.0.2.99") == ""


def test_a_day_of_guessing_from_everywhere_tries_few_numbers(screen: Screen) -> None:
    """Each from an address of its own; 160 of a million is one chance in 6000."""
    tried = 0
    for second in range(0, 86_400, 7):
        screen.now = float(second)
        address = f"10.{second >> 16}.{(second >> 8) & 255}.{second & 255}"
        try:
            screen.pairing.spend("none", address)
        except FitlogError as error:
            tried += error.code == "wrong-number"
    assert 100 < tried <= 160
