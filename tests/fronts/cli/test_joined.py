"""Lengths of several words behind an option: which words are one length."""

from __future__ import annotations

from typing import Any

import pytest
import typer.main

from fitlog.errors import NotUnderstood
from fitlog.fronts.cli import COMMANDS, app_of
from fitlog.fronts.cli.joined import ONE, TWO, joined

# `sheet` and `stops` write a file to the one, which moves the fence in `cut`; `page` is served at
# the other, where a groove lies elsewhere.
ANOTHER = {"--out", "--at"}


@pytest.mark.parametrize(
    ("typed", "lengths"),
    [
        ("--walls 2 41/64 2 37/64", ["2 41/64", "2 37/64"]),
        ("--walls 2 41/64 2 37/64 loose", ["2 41/64", "2 37/64", "loose"]),
        ("--walls=2 41/64 2 37/64 in", ["2 41/64", "2 37/64 in"]),
        ("--walls 41/64 37/64 loose", ["41/64", "37/64", "loose"]),
        ("--walls 2 41/64 37/64 --json", ["2 41/64", "37/64", "--json"]),
        ("--walls 2.5 in 2.6 in loose", ["2.5 in", "2.6 in", "loose"]),
        ("--walls 2\u00bd 2 \u00bc", ["2\u00bd", "2 \u00bc"]),
        ("--walls 2", ["2"]),
        ("--walls 2 41/64", ["2", "41/64"]),
        ("--walls", []),
        ("--between-rods 1/8 1 1/2", ["1/8", "1 1/2"]),
        ("--down 1/8 turn loose", ["1/8 turn", "loose"]),
        ('--height 3 1/64" loose', ['3 1/64"', "loose"]),
        ("--width 5 1/2 in --tails 5", ["5 1/2 in", "--tails", "5"]),
        ("--angle 7 deg", ["7 deg"]),
        ("--note --walls 2 1/2", ["--walls", "2", "1/2"]),
    ],
)
def test_the_words_of_a_length_are_one(typed: str, lengths: list[str]) -> None:
    assert joined(typed.split())[1:] == lengths


def test_what_can_be_put_together_in_two_ways_is_refused() -> None:
    """Walls of 2 and 37/64 and a step of 1/64, or walls of 2 37/64 and 1/64."""
    with pytest.raises(NotUnderstood) as caught:
        joined(["cut", "--walls", "2", "37/64", "1/64", "proud"])
    assert caught.value.code == "bad-length" and "2-41/64" in caught.value.hint


def test_nothing_behind_two_dashes_is_put_together() -> None:
    typed = ["cut", "--height", "1/2", "in", "--", "loose", "--depth", "1", "1/2"]
    assert joined(typed)[1:] == ["--height", "1/2 in", *typed[4:]]


def test_every_option_that_takes_lengths_is_known() -> None:
    found: dict[str, set[tuple[str, int]]] = {}

    def walk(command: Any) -> None:
        for each in command.params:
            for name in each.opts:
                found.setdefault(name, set()).add((str(each.metavar), each.nargs))
        for part in getattr(command, "commands", {}).values():
            walk(part)

    walk(typer.main.get_command(app_of(COMMANDS)))
    one = {n for n, kinds in found.items() if kinds & {("L", 1), ("L|none", 1), ("DEG", 1)}}
    assert one == ONE
    assert {n for n, kinds in found.items() if any(number == 2 for _, number in kinds)} == TWO
    assert {n for n in ONE if len(found[n]) > 1} <= ANOTHER
