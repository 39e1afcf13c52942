"""`--json`: one document on standard output whatever happens, with an `error` in it wherever the
exit code is not 0.
"""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from typing import Any

import pytest
from shop import BIT, STOCK, Result, Shop, command_line

HERE = "{home}"  # where a line's files go
# Every command, done: each line in a shop with a set-up of two pieces, a finished one, and a bit, a
# stock and a machine to spare.
DONE = (
    "plan --bit marsh --stock elm",
    "plan --bit marsh --stock elm --groove 6 --at 10",
    "plan --like 1 --width 90,140 --width 170",
    "plan --joint sliding --bit marsh --stock elm --given clear-width=500",
    "start --bit spare --stock elm --tails 5",
    "cut good, centred, flush",
    "check good --after 12 --setup 1",
    "next",
    "why",
    "errors no-lap",
    "joints",
    "undo",
    "finish --as-it-is",
    "use 1",
    "found --height 12",
    "stops --tails 5",
    "stops --width 90 --thickness 16 --thickness 17 --boards 2drawers",
    "stops --boards front,back,2sides --csv -",
    f"stops --csv {HERE}/stops.csv",
    "stops --csv -",
    f"sheet --out {HERE}/sheet.svg",
    f"sheet --label 62 29 --out {HERE}/label.svg",
    "fault last tails loose",
    "note a knot in the left board --title chest --kept shelf",
    "note",
    "outcome 1 tight with glue",
    "outcome",
    "review",
    "review chest --width 150 --pitch 20 --year 2026",
    "show",
    "progress",
    "words",
    "words add like toast = good",
    "words remove butter",
    "rehearse --bit marsh --stock elm --setups 1 --only fit --seed 5",
    "prefer --name wren",
    f"demo --to {HERE}/demo.db",
    "page phones",
    "recover --from 1",
    f"bit add reed {' '.join(BIT)}",
    "bit edit spare --name spur",
    "bit sharpen spare --diameter 13.05",
    "bit list",
    "bit show spare",
    "bit retire spare",
    "bit remove spare",
    "stock add yew --species yew --thickness 17 --width 150",
    "stock edit oak --name ash",
    "stock list",
    "stock show oak",
    "stock retire oak",
    "stock remove oak",
    "machine add mill --height-step 0.05",
    "machine edit bench --name table",
    "machine list",
    "machine show bench",
    "machine retire bench",
    "machine remove mill2",
    "log where",
    "log health",
    f"log backup {HERE}/b.backup",
    f"log restore {HERE}/there.backup --replace",
    "log migrate",
    "log export",
    f"log export {HERE}/a.json",
    f"log export --csv {HERE}/a.csv",
    f"log import {HERE}/there.json",
    f"log import {HERE}/good.csv --setup 2",
    f"log import {HERE}/good.csv --setup 2 --dry-run",
)
# Refused, each in its own way.
REFUSED = (
    "plan --stock none",
    "plan --bit marsh --stock elm --groove 6",
    "plan --like 99",
    "plan --joint sliding --bit marsh --stock elm",
    "plan --width 90 --width 140",
    "start --bit none",
    "start",
    "cut nonsense",
    "cut",
    "check good --setup 1",
    "check nonsense --after 3 --setup 1",
    "check good --after 12",
    "next --setup 99",
    "undo --piece 99",
    "redo",
    "finish",
    "use 99",
    "found",
    "stops --tails 99",
    "stops --boards nonsense",
    "stops --boards front,3sides",
    "stops --pin-thickness 3",
    "stops --csv /",
    f"stops --csv {HERE}/there.json --force",
    "sheet --out x.y",
    f"sheet --label 16 8 --out {HERE}/label.svg",
    f"sheet --mouth 1 --out {HERE}/sheet.svg",
    "sheet --label 62 29 --tails 5",
    "fault nonsense",
    "recover",
    "note --setup 99",
    "outcome 2 loose",
    "review --bit none",
    "review --width nonsense",
    "show 99",
    "progress 99",
    "words --person nobody",
    "rehearse --setups -1",
    "prefer --units ell",
    "demo --to /",
    f"bit add marsh {' '.join(BIT)}",
    "bit edit none --name x",
    "bit sharpen none",
    "bit show none",
    "bit retire none",
    "bit remove marsh",
    "stock add elm --species elm --thickness 17 --width 150",
    "stock edit none --name x",
    "stock show none",
    "stock retire none",
    "stock remove elm",
    "machine add bench --height-step 0.05",
    "machine edit none --name x",
    "machine show none",
    "machine retire none",
    "machine remove none",
    "log where --db none.db",
    "log health --db none.db",
    "log backup --db none.db",
    "log backup -",
    "log restore none",
    "log migrate --db none.db",
    "log export --csv",
    "log export --bit marsh",
    "log export /",
    "log import none",
    f"log import {HERE}/bad.csv --setup 2",
    f"log import {HERE}/bad.json",
    f"log import {HERE}/good.csv",
    "log roles",
    "bench",
    "page phones --revoke 99",
    "log",
    "no-such-command",
    "next --no-such-option",
    "next too many",
    "use",
    "cut good --setup one",
)


@pytest.fixture
def shop(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A shop with something in every part of the log, in the folder at hand."""
    monkeypatch.chdir(shop.home)
    return shop.built(_work)


def _work(shop: Shop) -> None:
    shop.run("stock", "add", "elm", *STOCK)
    for line in (
        f"bit add marsh {' '.join(BIT)}",
        f"bit add spare {' '.join(BIT)}",
        "stock add oak --species oak --thickness 17 --width 150",
        "machine add bench --height-turn 1.6",
        "machine add mill2 --height-turn 1.6",
        "start --bit marsh --stock elm --tails 5",
        "cut good, centred, flush",
        "finish",
        "start --bit marsh --stock elm --tails 5",
        "cut tight",
        "cut slightly tight, gap far 0.4",
        "words add butter = good",
        f"log backup {shop.home}/there.backup",
        f"log export {shop.home}/there.json",
    ):
        shop.words(line)
    (shop.home / "good.csv").write_text("said\nslightly tight\n")
    (shop.home / "bad.csv").write_text("said,height\ngood,12\nnonsense,twelve\n")
    (shop.home / "bad.json").write_text('{"fitlog": "log", "version": 99}\n')


def one(result: Result) -> Any:
    """The one document of an answer, to the end of it; an `error` exactly where it was refused."""
    found, end = json.JSONDecoder().raw_decode(result.out)
    assert result.out[end:] == "\n", result
    assert isinstance(found, dict), result
    if result.code == 0:
        assert "error" not in found, result
    else:
        assert set(found["error"]) == {"code", "message", "hint"}, result
        assert found["error"]["code"] and found["error"]["message"], result
    return found


def leaves(command: Any, name: str = "") -> Iterator[str]:
    """Every command of the command line by its words."""
    for word, part in getattr(command, "commands", {}).items():
        yield from leaves(part, f"{name} {word}".strip())
    if not hasattr(command, "commands"):
        yield name


def test_every_command_is_tried() -> None:
    tried = [f"{line} " for line in (*DONE, *REFUSED)]
    missing = [
        name
        for name in leaves(command_line())
        if not any(line.startswith(f"{name} ") for line in tried)
    ]
    assert missing == []


@pytest.mark.parametrize("line", DONE)
def test_what_is_done_prints_one_document(shop: Shop, line: str) -> None:
    """An unsettled set-up warns beside its stops, on standard error."""
    one(shop.words(f"{line} --json".replace(HERE, str(shop.home)), 0))


@pytest.mark.parametrize("line", REFUSED)
def test_what_is_refused_prints_one_document_with_its_error(shop: Shop, line: str) -> None:
    result = shop.words(f"{line} --json".replace(HERE, str(shop.home)), None)
    if line == "log":
        assert result.code in (0, 2), result
        return
    assert result.code in (1, 2) and result.err == "", result
    one(result)


def test_nothing_is_redone_twice(shop: Shop) -> None:
    shop.words("undo")
    one(shop.words("redo --json"))
    assert one(shop.words("redo --json", 1))["error"]["code"] == "nothing-to-redo"


def test_an_unsound_log_is_told_with_what_is_wrong_and_an_error(shop: Shop) -> None:
    with closing(sqlite3.connect(shop.db)) as plain:
        plain.execute("DROP TRIGGER entry_no_update")
        plain.commit()
    found = one(shop.words("log health --json", 1))
    assert found["error"]["code"] == "unsound-log" and len(found) > 1


def test_a_table_that_is_refused_tells_its_lines_and_an_error(shop: Shop) -> None:
    found = one(shop.words("log import bad.csv --setup 2 --json", 1))
    assert found["error"]["code"] == "bad-lines" and found["logged"] == 0 and len(found) > 3


def test_help_is_help_and_a_value_is_no_option(shop: Shop) -> None:
    assert shop.words("cut --help --json").out.lstrip().startswith("Usage:")
    assert shop.words("show --json --help").out.lstrip().startswith("Usage:")
    assert shop.run("show", "--", "--json", code=2).err.startswith("fitlog: ")
