"""Where the lines of a table go: to the set-up that they are of, each once, all or none."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from shop import BIT, STOCK, Shop

from fitlog.service import cuts

HEAD = "set-up,bit,date,said\n"


def table(path: Path, *lines: str, head: str = HEAD) -> Path:
    file = path / "table.csv"
    file.write_text(head + "".join(f"{line}\n" for line in lines))
    return file


def two_bits(shop: Shop) -> Shop:
    """Set-up 1 with the bit marsh, set-up 2 with another one."""
    return shop.built(_two_bits)


def _two_bits(shop: Shop) -> None:
    shop.started("--pitch 22.6")
    shop.run("bit", "add", "other", *BIT)
    shop.words("start --bit other --stock elm --pitch 22.6")


def said(shop: Shop, setup: int) -> list[Any]:
    return [cut["said"] for cut in shop.json(f"show {setup}")["cuts"]]


def test_a_line_of_another_bit_is_refused_and_nothing_is_written(
    shop: Shop, tmp_path: Path
) -> None:
    two_bits(shop)
    file = table(
        tmp_path,
        "1,marsh,2025-03-04 08:00,tight",
        "1,Other,2025-03-04 09:00,loose",
    )
    for where in ("--setup 1", "--bit marsh", ""):
        before = shop.everything()
        found = shop.json(f"log import {file} {where}", code=1)
        if where != "--bit marsh":
            told = [(p["line"], p["message"]) for p in found["problems"]]
            assert told == [(3, 'its bit is "Other", that of set-up 1 is "marsh"')]
        assert shop.everything() == before
    assert shop.json(f"log import {file} --setup 1 --skip-bad")["logged"] == 1
    assert len(said(shop, 1)) == 1


@pytest.mark.parametrize("what", ["stock", "pin stock", "machine"])
def test_a_line_of_another_board_or_machine_is_refused(
    shop: Shop, tmp_path: Path, what: str
) -> None:
    shop.started("--pitch 22.6")
    file = table(tmp_path, "something else,tight", head=f"{what},said\n")
    found = shop.json(f"log import {file} --setup 1", code=1)["problems"]
    assert [p["line"] for p in found] == [2] and what in found[0]["message"]


def test_lines_of_two_set_ups_are_not_mixed_in_one(shop: Shop, tmp_path: Path) -> None:
    two_bits(shop)
    file = table(tmp_path, "4,,,tight", "5,,,loose", ",,,good")
    before = shop.everything()
    found = shop.json(f"log import {file} --setup 1", code=1)["problems"]
    assert [p["line"] for p in found] == [3] and "set-up 5" in found[0]["message"]
    assert shop.everything() == before


def test_lines_go_to_the_set_ups_that_they_name(shop: Shop, tmp_path: Path) -> None:
    two_bits(shop)
    lines = (
        "1,marsh,2025-03-04 08:00,tight",
        "2,other,2025-03-04 09:00,loose",
        "1,marsh,2025-03-04 10:00,good",
    )
    found = shop.json(f"log import {table(tmp_path, *lines)}")
    assert (found["setups"], found["logged"]) == ([1, 2], 3)
    assert (len(said(shop, 1)), len(said(shop, 2))) == (2, 1)
    before = shop.everything()
    more = table(tmp_path, *lines, ",,2025-03-05,good", "7,,2025-03-05,good")
    found = shop.json(f"log import {more}", code=1)
    assert [p["line"] for p in found["problems"]] == [5, 6] and found["known"] == 3
    assert shop.everything() == before
    shop.refused("log", "import", str(table(tmp_path, "good", head="said\n")), code=2)


def test_what_was_exported_comes_in_again_as_known(shop: Shop, tmp_path: Path) -> None:
    two_bits(shop)
    shop.words("cut tight --setup 1")
    shop.words("cut loose --setup 2")
    shop.words("finish --abandon --setup 2")
    file = tmp_path / "out.csv"
    shop.words(f"log export --csv {file}")
    before = shop.everything()
    found = shop.json(f"log import {file}")
    assert (found["known"], found["logged"], found["problems"]) == (2, 0, [])
    assert shop.everything() == before


@pytest.mark.parametrize("dates", [("", "", ""), ("2025-03-04", "2025-03-04", "2025-03-05")])
@pytest.mark.parametrize("where", ["--setup 1", "--bit marsh --stock elm"])
def test_a_table_that_comes_again_is_not_doubled(
    shop: Shop, tmp_path: Path, dates: tuple[str, ...], where: str
) -> None:
    """Two of its lines say the same: each is known by which of them it is."""
    shop.stocked()
    if "--setup" in where:
        shop.words("start --pitch 22.6")
    lines = [f"1,marsh,{day},tight" for day in dates]
    assert shop.json(f"log import {table(tmp_path, *lines)} {where}")["logged"] == 3
    before = shop.everything()
    again = shop.json(f"log import {table(tmp_path, *lines)} {where}")
    assert (again["known"], again["logged"], again["setup"]) == (3, 0, 1)
    assert shop.everything() == before
    grown = table(tmp_path, *lines, f"1,marsh,{dates[2]},good")
    assert shop.json(f"log import {grown} --setup 1")["logged"] == 1
    assert len(said(shop, 1)) == 4
    keys = [row for row in shop.everything() if row.startswith('INSERT INTO "entry"')]
    assert sum("line:" in row for row in keys) == (4 if "--setup" in where else 5)


def test_a_line_that_was_taken_back_here_stays_so(shop: Shop, tmp_path: Path) -> None:
    shop.started("--pitch 22.6")
    lines = ("1,,,tight", "1,,,loose")
    file = table(tmp_path, *lines)
    shop.words(f"log import {file} --setup 1")
    shop.words("undo --yes")
    found = shop.json(f"log import {file} --setup 1")
    assert (found["known"], found["known_taken_back"], found["logged"]) == (2, 1, 0)
    assert shop.json(f"log import {file} --setup 1 --again")["logged"] == 2


def test_a_set_up_that_was_taken_back_is_started_again(shop: Shop, tmp_path: Path) -> None:
    shop.stocked()
    file = table(tmp_path, ",,,tight")
    for number in (1, 2, 3):
        found = shop.json(f"log import {file} --bit marsh")
        assert (found["setup"], found["logged"], found["started"]) == (number, 1, True)
        shop.words("undo --yes")
        shop.words("undo --yes")


def test_a_cut_that_came_in_between_is_told(
    shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What was read before the turn to write has to be there still."""
    shop.started("--pitch 22.6")
    file = table(tmp_path, "1,,2025-03-04,tight")
    there = cuts.together

    def late(log: Any) -> Any:
        shop.process("cut", "loose")
        return there(log)

    with monkeypatch.context() as meanwhile:
        meanwhile.setattr(cuts, "together", late)
        told = shop.refused("log", "import", str(file), "--setup", "1", kept=False)
    assert "moved on" in told
    assert [cut["piece"] for cut in shop.json("show 1")["cuts"]] == [1]
    assert shop.json(f"log import {file} --setup 1")["logged"] == 1


def test_a_dry_run_takes_no_turn_to_write(
    shop: Shop, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop.started("--pitch 22.6")
    monkeypatch.setattr(cuts, "together", None)
    file = table(tmp_path, "1,,2025-03-04,tight")
    assert len(shop.json(f"log import {file} --setup 1 --dry-run")["cuts"]) == 1


def test_a_table_starts_any_joint(shop: Shop, tmp_path: Path) -> None:
    shop.stocked()
    file = table(tmp_path, "good", head="said\n")
    told = shop.refused("log", "import", str(file), "--bit", "marsh", "--joint", "no such", code=2)
    assert 'no joint is called "no such"' in told
    told = shop.refused("log", "import", str(file), "--joint", "half-blind dovetail", code=2)
    assert "--setup N" in told
    found = shop.json(f"log import {file} --bit marsh --joint half-blind-dovetail")
    assert found["started"]


def test_what_is_logged_vouches_for_itself(shop: Shop, tmp_path: Path) -> None:
    """Rows put in by the thousand have the digests that single ones have."""
    shop.stocked()
    shop.run("stock", "add", "more", *STOCK)
    lines = [f",,2025-03-04 08:{n:02d},loose 0.4" for n in range(60)]
    shop.words(f"log import {table(tmp_path, *lines, head=HEAD)} --bit marsh --stock elm --yes")
    shop.words("cut good --setup 1")
    assert "sound" in shop.words("log health").out


@pytest.mark.parametrize("head", ["height (furlong)", "Fence [cubit]", "seat step (ell)"])
def test_a_length_in_a_unit_that_is_none_is_refused(shop: Shop, tmp_path: Path, head: str) -> None:
    """A setting that was typed is not left out."""
    shop.started("--pitch 22.6")
    file = table(tmp_path, "9,tight", head=f"{head},said\n")
    before = shop.everything()
    assert head in shop.refused("log", "import", str(file), "--setup", "1", code=2)
    assert shop.everything() == before
