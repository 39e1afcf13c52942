"""A joint at work by the command line, from the start of its own example: what the tests of every
joint's house share; all invented.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from shop import Shop, by_code

from fitlog.families.example import example_of


def start(joint: str, *, given: bool = True) -> tuple[str, ...]:
    """How a set-up of it begins; without what is `given`, if it is."""
    line = example_of(joint).EXAMPLE
    return line if given or "--given" not in line else line[: line.index("--given")]


def stocked(shop: Shop, joint: str) -> Shop:
    """The catalogue of the joint's example, without its coarse machine."""
    return shop.built(_stock_up, joint)


def _stock_up(shop: Shop, joint: str) -> None:
    for command in example_of(joint).BEFORE:
        if command[0] != "machine":
            shop.run(*command)


def started(shop: Shop, joint: str) -> Shop:
    """All of the example's catalogue, and a set-up before its first piece."""
    return shop.built(_start, joint)


def _start(shop: Shop, joint: str) -> None:
    for command in (*example_of(joint).BEFORE, start(joint)):
        shop.run(*command)


def document(shop: Shop, *args: str) -> Any:
    return shop.run(*args, "--json").document


def plain(others: tuple[str, ...], text: str) -> str:
    """What a screen says, which has no words of other joints."""
    flat = " ".join(text.split())
    assert not [word for word in others if word in flat.casefold()], flat
    return flat


def tuned(
    shop: Shop,
    start: tuple[str, ...],
    say: Callable[[dict[str, float]], str],
    *,
    most: int = 12,
    again: bool = False,
) -> list[dict[str, Any]]:
    """The advices of a whole set-up of fewer than `most` pieces, finished; say: what is said of a
    piece cut at settings; again: what can be is cut on the same end.
    """
    told = [document(shop, *start)]
    while told[-1]["status"] == "tuning":
        assert len(told) < most
        same = again and "same-end" in by_code(told[-1]["reasons"])
        said = say(told[-1]["settings"])
        told.append(document(shop, "cut", said, *["--same-end"] * same))
    shop.words("finish")
    return told
