"""What was logged twice: the same piece again, or another word on it in the place of the first.
Asked, never undone unasked.
"""

from __future__ import annotations

from collections.abc import Iterator

from ..domain import Remark, SetUp, remark


def doubles(setup: SetUp) -> tuple[Remark, ...]:
    """Return what the newest entry of a set-up repeats or replaces."""
    return (*_twice(setup), *_replaced(setup))


def _twice(setup: SetUp) -> Iterator[Remark]:
    """The last piece in the words of the one before, so soon that no other can have been cut."""
    pieces = setup.pieces()
    if len(pieces) < 2 or not pieces[-1].again:
        return
    newest, before = (
        [c for c in setup.cuts if c.piece == p.number and not c.slot][-1]
        for p in (pieces[-1], pieces[-2])
    )
    assert newest.at is not None and before.at is not None  # else it were not `again`
    seconds = max(1, round((newest.at - before.at).total_seconds()))
    yield remark("piece-twice", piece=newest.piece, before=before.piece, seconds=seconds)


def _replaced(setup: SetUp) -> Iterator[Remark]:
    """A word of the newest entry that stands where another one stood."""
    if not setup.cuts or setup.cuts[-1].slot:
        return
    newest = setup.cuts[-1]
    earlier = [c for c in setup.cuts[:-1] if c.piece == newest.piece and not c.slot]
    for aspect in setup.plan.family.aspects:
        said = [s for c in earlier if (s := c.verdict.of(aspect)) is not None]
        new, old = newest.verdict.of(aspect), said[-1] if said else None
        if new is None or old is None or new == old or (new.word == old.word and old.size is None):
            continue  # a number added to its own word replaces nothing
        yield remark(
            "word-replaced",
            aspect,
            piece=newest.piece,
            new=(new.word, new.size),
            old=(old.word, old.size),
        )
