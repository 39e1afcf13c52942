"""What a refusal advises of a set-up that has ended or was undone is carried out as it is told, and
works.
"""

from __future__ import annotations

import re
import shlex

import pytest
from shop import Shop

HINTED = re.compile(r"fitlog ((?:redo|undo|use|start)(?: --setup)?(?: (?:\d+|N))?)")
LINES = ("cut good", "finish", "finish --abandon", "use 1", "found --height 12")
BESIDE = "start --bit other --stock elm --tails 5"  # another set-up: the current one


@pytest.fixture
def shop(shop: Shop) -> Shop:
    """Set-up 1 with one piece, and a bit for another one."""
    return shop.built(_work)


def _work(shop: Shop) -> None:
    shop.started("--tails 5")
    shop.words("bit add other --diameter 13.1 --angle 9 --cutting-length 14")
    shop.words("cut good, centred, flush")


def undone(shop: Shop) -> None:
    """Take back the whole of set-up 1."""
    shop.words("undo --setup 1")
    shop.words("undo --setup 1 --yes")


def ended(shop: Shop) -> None:
    """End set-up 1."""
    shop.words("finish --setup 1 --as-it-is")


def carried_out(shop: Shop, hint: str) -> int:
    """Carry out every command that a hint names, each on the log as it was; return how many."""
    found, before = HINTED.findall(hint), shop.db.read_bytes()
    for command in found:
        shop.db.write_bytes(before)
        line = command.replace("use N", "use 2")
        if line == "start":  # of the bit and stock that a shop of several must name
            line = "start --bit marsh --stock elm --tails 5"
        shop.run(*shlex.split(line))
        if "--setup 1" in line:
            assert shop.json("show 1")["setup"]["status"] in ("tuning", "ready"), line
    shop.db.write_bytes(before)
    return len(found)


@pytest.mark.parametrize("line", LINES)
@pytest.mark.parametrize("beside", [False, True])
@pytest.mark.parametrize("state", [undone, ended])
def test_the_hints_of_a_set_up_that_is_over_work(
    shop: Shop, line: str, beside: bool, state: object
) -> None:
    """Beside: another set-up is the current one, which no hint may touch."""
    assert callable(state)
    state(shop)
    if beside:
        shop.words(BESIDE)
    if not line.startswith("use"):
        line = f"{line} --setup 1"
    result = shop.words(f"{line} --json", None)
    if state is ended and line.startswith(("use", "finish")) and "--abandon" not in line:
        assert result.code == 0  # it is looked at, and left as it ended
        return
    refusal = result.document["error"]
    known = ("undone-setup", "no-open-setup", "already-ended")  # the last: it ended the other way
    assert result.code == 1 and refusal["code"] in known, refusal
    hint = refusal["hint"] if beside else refusal["hint"].replace("fitlog use N", "")
    assert carried_out(shop, hint) >= 2


def test_finish_on_an_undone_set_up_is_refused(shop: Shop) -> None:
    """It said nothing and did nothing, as if it were done."""
    undone(shop)
    told = shop.refused("finish", "--setup", "1")
    assert "set-up 1 was undone" in told and "fitlog redo --setup 1" in told
