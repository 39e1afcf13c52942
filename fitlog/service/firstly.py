"""What is worth saying before the first test piece is cut."""

from __future__ import annotations

from collections.abc import Iterator

from ..advice.became import of_earlier
from ..advice.craft import craft_of
from ..advice.history import History
from ..domain import Remark, SetUp
from .ending import not_a_good_base


def before_the_first(setup: SetUp, past: History, by: str) -> Iterator[Remark]:
    """Yield what is to be minded before the first piece of a set-up; nothing once one is logged."""
    if not setup.pieces():
        yield from not_a_good_base(past.like(setup.plan))
        if setup.outcome is None and not setup.undone:
            yield from of_earlier(setup.plan, past, by)
        yield from craft_of(setup.plan).first_words(setup.plan, setup.first, past, by)
