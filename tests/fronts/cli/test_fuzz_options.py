"""Random argument lists of every command, with values that nobody means (seeded): never a
traceback, a documented exit code, and with --json one document.

A false alarm is not possible: what is asserted holds for every list; the seed only chooses them.
"""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from typing import Any

import pytest
from shop import Shop, command_line

SEED = 20310304
NASTY = (
    *("", " ", "-", "--", "-1", "0", "1", "2", "99", "1e400", "nan", "inf", "9" * 40, "0x1f"),
    *(
        "12.7",
        "1/2in",
        "1/0",
        "-1/8turn",
        "12,7",
        "1'2\"",
        "½",
        "٣",
        "1 2 3",
        "..",
        "/",
        "/dev/full",
    ),
    *("marsh", "elm", "bench", "good", "tight", "slightly tight, gap far 0.4", "fit", "fit,centre"),
    *("none", "last", "dmy", "a4", "in", "mm", "half", "{x}", "{0}", "%s", "$HOME", "~", "~nobody"),
    *("a\x1b[2Jb", "\udcff\udcfe", "nul\0", "\u202e", "é" * 300, "x" * 5000, "a\nb", "\t", "💥"),
    *("' OR 1=1 --", "postgresql+psycopg:///\0", "x.svg", "x.json", "x.csv", "NAME=1", "=", "a="),
)
# What would go on for long, or ask for what is not there: kept small, or left out.
SMALL = {"--setups": ("1", "0", "-1", "x"), "--repeats": ("1", "x"), "--in-a-row": ("1", "x")}
LEFT_OUT = ("--db", "--help", "--install-completion", "--show-completion")


def leaves(command: Any, *name: str) -> Iterator[tuple[tuple[str, ...], list[Any]]]:
    """Every command by its words, with what it takes."""
    for word, part in getattr(command, "commands", {}).items():
        yield from leaves(part, *name, word)
    if not hasattr(command, "commands"):
        yield name, command.params


def a_list(chance: random.Random, name: tuple[str, ...], takes: list[Any]) -> list[str]:
    """A random argument list of a command."""
    words = list(name)
    for one in takes:
        option = one.param_type_name == "option"
        if chance.random() > (0.2 if option else 0.7):
            continue
        spelled = chance.choice([*one.opts, *one.secondary_opts]) if option else ""
        if spelled in LEFT_OUT:
            continue
        values = [
            chance.choice(SMALL.get(spelled, NASTY))
            for _ in range(0 if getattr(one, "is_flag", False) else max(one.nargs, 1))
        ]
        words += [spelled, *values] if option else values
    if chance.random() < 0.1:
        words.insert(chance.randrange(len(words) + 1), chance.choice(NASTY))
    if chance.random() < 0.5 and "--json" not in words:
        words.append("--json")
    return words


@pytest.fixture
def busy(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A shop with a piece in an open set-up, in a folder of its own."""
    shop.started("--tails 5", machine={"height-turn": "1.6"}).words("cut tight")
    (shop.home / "away").mkdir()
    monkeypatch.chdir(shop.home / "away")
    return shop


@pytest.mark.parametrize("times", [1, pytest.param(8, marks=pytest.mark.long)])
def test_no_argument_list_gives_a_traceback(busy: Shop, times: int) -> None:
    chance, before = random.Random(SEED), busy.db.read_bytes()
    tried = 0
    for name, takes in leaves(command_line()):
        for _ in range(times):
            words = a_list(chance, name, takes)
            result = busy.run(*words, code=None)  # which fails on a traceback
            assert result.code in (0, 1, 2, 130), (words, result)
            assert result.code == 0 or result.out == "" or "{" in result.out, (words, result)
            if "--json" in words and "--" not in words and result.out:
                found, end = json.JSONDecoder().raw_decode(result.out)
                assert result.out[end:].strip() == "" and isinstance(found, dict), (words, result)
                assert ("error" in found) == (result.code != 0), (words, result)
            busy.db.write_bytes(before)
            tried += 1
    assert tried >= 45 * times
