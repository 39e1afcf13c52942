"""A part that is set by stacks, from the command that names its papers to the advice and back.

The pegs are invented. Outside check: every height of the stacks counted out one by one.
"""

from __future__ import annotations

import re
from itertools import combinations_with_replacement
from pathlib import Path
from typing import Any

import pytest
from shop import BIT, STOCK, Shop
from toy_family.joint import PEGS
from toy_family.known import make_known

from fitlog.domain import Settings
from fitlog.log import open_log

PACK = "at most 6 of block 8, paper 0.1 x4, tape 0.13 x2"
THICK = {"block": (8.0, 1), "paper": (0.1, 4), "tape": (0.13, 2)}
JOINT = ("--joint", PEGS.name, "--given", "spacing=24.6")


def heights() -> dict[float, list[tuple[str, ...]]]:
    """Every height of at most six pieces, mm, with all that make it."""
    found: dict[float, list[tuple[str, ...]]] = {}
    for many in range(1, 7):
        for names in combinations_with_replacement(THICK, many):
            if all(names.count(name) <= count for name, (_, count) in THICK.items()):
                found.setdefault(round(sum(THICK[n][0] for n in names), 6), []).append(names)
    return found


def stacked(text: str) -> tuple[str, ...]:
    """What the one line of a screen, or a reason, says to stack for the key gap."""
    (said,) = re.findall(r"The key gap: stack ([^.]*)\.", " ".join(text.split()))
    out: list[str] = []
    for one in said.split(", "):
        count, _, name = one.rpartition(" x ")
        out += [name] * int(count or 1)
    return tuple(sorted(out))  # as `heights` names them


@pytest.fixture
def jig(monkeypatch: pytest.MonkeyPatch, shop: Shop) -> Shop:
    """A shop whose machine has a key that is set by stacks."""
    make_known(monkeypatch)
    # Until a start asks each family's own craft for its steps, the pegs have none.
    monkeypatch.setattr("fitlog.service.bench.recipe", lambda *_: (), raising=False)
    return shop.built(_stock_up)


def _stock_up(shop: Shop) -> None:
    shop.run("bit", "add", "half", *BIT)
    shop.run("stock", "add", "elm", *STOCK)
    shop.run("machine", "add", "jig", "--part", f"key={PACK}", "--part", "stop=step 0.5")


def shown(jig: Shop) -> Settings:
    """The settings last shown of the first set-up, as the log has them, mm."""
    with open_log(str(jig.db), create=False) as log:
        return log.setup(1).shown


def test_every_advice_is_a_stack_that_can_be_made_and_says_which(jig: Shop) -> None:
    can, told, stacks = heights(), jig.run("start", *JOINT), set()
    for word in ("stuck", "stuck", "slack", "stiff", "sliding"):
        at = shown(jig)
        assert at["key_gap"] in can, "no stack makes it"
        assert stacked(told.out) in can[at["key_gap"]]
        assert at["reach"] % 0.5 == 0.0, "what is not stacked has its steps"
        stacks.add(stacked(told.out))
        told = jig.run("cut", word)
    assert stacked(told.out) in can[shown(jig)["key_gap"]] and len(stacks) > 2


def test_a_stack_counts_what_it_takes_more_than_once(jig: Shop) -> None:
    """A peg of 8.28 wants 8.33: the block with 2 papers and a tape, and nothing else makes it."""
    told = jig.run("start", "--joint", PEGS.name, "--given", "spacing=24.84")
    assert heights()[8.33] == [("block", "paper", "paper", "tape")]
    assert "The key gap: stack block, 2 x paper, tape." in " ".join(told.out.split())


def test_stacks_too_far_apart_want_something_thinner(jig: Shop) -> None:
    """With blocks of 8 and 9 alone the next stack is 1 mm off, and no mark lies between them."""
    jig.run("machine", "edit", "jig", "--part", "key=one of block 8, thick block 9")
    told = " ".join(jig.run("start", *JOINT).out.split())
    assert "From one stack to the next the key gap grows by 1.00 mm" in told
    assert "--part key=SPEC" in told and "--between key" not in told
    told = " ".join(jig.run("cut", "stuck").out.split())
    assert "no stack comes near enough to be good: add what is missing" in told


def test_no_stack_is_advised_from_below(jig: Shop) -> None:
    """The key is come to from below for its play, and a stack has none."""
    jig.run("start", *JOINT)
    assert "come up" not in jig.run("cut", "stuck").out
    jig.run("machine", "edit", "jig", "--part", "key=step 0.05")
    assert "stack" not in jig.run("cut", "stuck").out


def test_a_machine_keeps_and_shows_its_own_parts(jig: Shop) -> None:
    found = jig.json("machine show jig")["machine"]
    assert found["height_step"] is None and found["between"] == []
    assert list(found["parts"]) == ["key", "stop"]
    assert found["parts"]["key"] == {
        **dict.fromkeys(("step", "turn", "dial", "backlash")),
        "zero": 0.0,
        "between": False,
        "pack": "at most 6 of block 8.0, paper 0.1 x4, tape 0.13 x2",
    }
    assert found["parts"]["stop"]["step"] == 0.5
    told = " ".join(jig.words("machine list").out.split())
    assert "other parts" in told and "stop: step 0.5 mm" in told


@pytest.mark.parametrize(
    ("spec", "known"),
    [
        ("zero 0.2", {"zero": 0.2, "pack": "at most 6 of block 8.0, paper 0.1 x4, tape 0.13 x2"}),
        ("Step 1/64in, zero -0.2mm, between", {"step": 0.396875, "zero": -0.2, "between": True}),
        ("turn 1.5, backlash 0.1", {"turn": 1.5, "backlash": 0.1}),
        ("one of wide block 1/2in, block 6", {"pack": "one of wide block 12.7, block 6.0"}),
        ("paper 0.1", {"pack": "paper 0.1"}),
    ],
)
def test_a_part_is_changed_by_what_is_said_of_it(
    jig: Shop, spec: str, known: dict[str, Any]
) -> None:
    """A step takes the place of a pack and a pack that of a step; a zero leaves either."""
    jig.run("machine", "edit", "jig", "--part", f"KEY = {spec}")
    found = jig.json("machine show jig")["machine"]["parts"]
    usual = {"zero": 0.0, "between": False}
    assert {k: v for k, v in found["key"].items() if v != usual.get(k)} == known
    assert found["stop"]["step"] == 0.5
    jig.run("machine", "edit", "jig", "--part", "key=none", "--part", "stop=none")
    assert "parts" not in jig.json("machine show jig")["machine"]


@pytest.mark.parametrize(
    ("spec", "code", "said"),
    [
        ("key", 2, '--part "key" names no part as set: write it like --part "key=step 0.05'),
        ("key=step", 2, '"step" is no figure of the key'),
        ("key=step 0.1, paper 0.1", 2, '"paper 0.1" is no figure of the key'),
        ("key=between 3", 2, '"between 3" is no figure of the key'),
        ("key=step 9", 1, "the key step"),
        ("key=paper", 1, "'paper' is no name with a thickness"),
        ("key=paper 0.1 x0", 1, "paper cannot be there 0 times"),
        ("-key=step 0.1", 1, "would be read as an option"),
    ],
)
def test_what_no_part_is_like_is_refused(jig: Shop, spec: str, code: int, said: str) -> None:
    for line in (("edit", "jig"), ("add", "other")):
        assert said in " ".join(jig.refused("machine", *line, f"--part={spec}", code=code).split())


def test_stacks_and_steps_at_once_are_refused(jig: Shop) -> None:
    told = jig.refused("machine", "edit", "jig", "--part", f"key={PACK}", "--part", "key=step 0.1")
    assert "stacks" in told


def test_a_zero_with_which_no_stack_is_left_is_refused_before_a_start(jig: Shop) -> None:
    jig.run("machine", "edit", "jig", "--part", "key=zero 20")
    assert "above zero" in jig.refused("start", *JOINT)


def test_other_parts_go_out_and_come_in(jig: Shop, tmp_path: Path) -> None:
    """Into a log that has a jig of its own with another pack: two machines of one name."""
    jig.run("start", *JOINT)
    jig.run("log", "export", str(tmp_path / "all.json"))
    before = jig.json("machine list")["machines"]
    other = str(tmp_path / "other.db")
    jig.run("--db", other, "machine", "add", "jig", "--part", "key=paper 0.2")
    jig.run("--db", other, "log", "import", str(tmp_path / "all.json"))
    found = jig.run("--db", other, "machine", "list", "--json").document["machines"]
    assert [m["name"] for m in found] == ["jig", "jig (2)"]
    assert found[1]["parts"] == before[0]["parts"]
