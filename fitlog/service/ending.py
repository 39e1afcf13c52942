"""How a set-up may end: short of ready only by the user's own word, and named so ever after."""

from __future__ import annotations

from collections.abc import Iterator

from ..domain import Advice, Bit, Remark, SetUp, remark
from ..domain.standing import ended
from ..errors import Refused
from ..language.numbers import together
from ..texts import tell
from .asked import Bench


def short_of_ready(setup: SetUp, advice: Advice) -> Refused | None:
    """Return why a set-up is not to be taken for finished, as a refusal; None where it is ready."""
    if advice.status == "ready":
        return None
    open_ = [aspect for aspect in setup.plan.in_play if aspect not in advice.settled]
    named = [tell("the {aspect}", aspect=one) for one in open_ or [setup.plan.family.lead]]
    why = "{aspects} are still open" if len(named) > 1 else "{aspects} is still open"
    why = tell(why, aspects=together(named)) if setup.cuts else "no piece of it is logged"
    return Refused(
        "not-ready",
        "set-up {number} is not ready: {why}",
        "tune on, or end it with fitlog finish --as-it-is (kept, but never taken for good) or "
        "fitlog finish --abandon",
        "tune on, or end it as it is (kept, but never taken for good), or abandon it",
        number=setup.number,
        why=why,
    )


def closable(bench: Bench, bit: Bit) -> SetUp | None:
    """Return the bit's ready set-up, None without an open one; raises Refused while one is
    tuning.
    """
    for setup in bench.log.open_setups(bit.name):
        if bench.status(setup) == "ready":
            return setup
        raise Refused(
            "still-tuning",
            "set-up {number}{titled} with bit {bit} is still tuning",
            "go on with it (fitlog use {number}), or end it with fitlog finish --as-it-is "
            "--setup {number} or fitlog finish --abandon --setup {number}",
            "go on with it, or end it first",
            number=setup.number,
            titled=setup.titled,
            bit=bit.name,
        )
    return None


def not_a_good_base(setup: SetUp | None) -> Iterator[Remark]:
    """Yield a word about an earlier set-up that is built on though it was never found good."""
    how = None if setup is None else ended(setup)
    if setup is not None and how in ("as it is", "abandoned"):
        yield remark("not-good", setup=setup.number, ended=how)


def undone(number: int) -> Refused:
    """Return the refusal of a set-up whose start was taken back."""
    return Refused(
        "undone-setup",
        "set-up {number} was undone",
        "bring it back with fitlog redo --setup {number}, or start a new one with fitlog start",
        "bring it back under Take back, or start another",
        number=number,
    )


def none_open(setup: SetUp) -> Refused:
    """Return the refusal of a set-up that has ended or was undone."""
    return Refused(
        "no-open-setup",
        "no set-up is open: set-up {number}{titled} is {how}",
        "begin with fitlog start, choose another with fitlog use N, or bring it back with fitlog "
        "redo --setup {number}"
        if setup.undone
        else "begin with fitlog start, choose another with fitlog use N, or reopen it with fitlog "
        "undo --setup {number}",
        "bring it back under Take back, or start another"
        if setup.undone
        else "take its end back under Take back, or start another",
        number=setup.number,
        titled=setup.titled,
        how=setup.outcome or "undone",
    )
