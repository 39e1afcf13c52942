"""What housings and rabbets go through alike by the command line: odd words, the log out and in
again, a piece at the bench.

No outside source: these are promises of the tool itself; the shop is invented.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from pane import Pane
from shop import Shop, make_shop, sentence

BITS = {"housing": "12.7", "rabbet": "19.05"}
SHEETS = {"housing": ("18", "17.6"), "rabbet": ("12", "11.6")}
# Two cuts with all that can be read of them, and what the log moves.
CUTS = {
    "housing": (
        ("tight, shallow 0.2", "--read", "slot=17.40", "--read", "sheet=17.55"),
        ("slightly loose 0.12, gap lean", "--same-end"),
    ),
    "rabbet": (
        ("proud 0.4, shallow 0.2", "--read", "width=11.2", "--read", "sheet=11.55"),
        ("slightly proud 0.12, gap lean", "--same-end"),
    ),
}
# The keys of a piece, the lead's name and word that they give, and words of other joints.
KEYS = {"housing": ("2", "fit", "tight"), "rabbet": ("6", "face", "proud")}
ELSEWHERE = ("socket", "tail", "half-blind", " pin", "finger")
OTHERS = {
    "housing": (*ELSEWHERE, "shoulder"),
    "rabbet": (*ELSEWHERE, "housing", "second pass"),
}


def start_of(joint: str) -> tuple[str, ...]:
    return ("start", "--joint", joint, "--stock", "side", "--pin-stock", "ply")


def started(shop: Shop, joint: str) -> Shop:
    """A shop with a set-up before its first piece."""
    label, measured = SHEETS[joint]
    shop.run("bit", "add", "b", *("--diameter", BITS[joint], "--angle", "0"), "--cutting-length=25")
    shop.words("stock add side --species beech --thickness 20 --width 280")
    shop.words(f"stock add ply --species plywood --thickness {label} --width 280")
    shop.run(*start_of(joint), "--given", f"sheet={measured}mm")
    return shop


def document(shop: Shop, *args: str) -> Any:
    return shop.run(*args, "--json").document


@pytest.mark.parametrize(
    ("joint", "typed", "code", "said"),
    [
        ("housing", "cut inside", 2, 'the word "inside" is not known'),
        ("housing", "cut tight 0.2", 2, "takes no size"),
        ("housing", "cut good --set key_gap=9", 2, "known: second_pass, height"),
        ("housing", "cut good --set second_pass=-1", 1, "the second pass"),
        ("housing", "cut good --set height=21mm", 1, "more than the side of 20 mm"),
        ("housing", "start --given depth=11", 1, "more than half the side of 20 mm"),
        ("housing", "start --given sheet=12.0", 1, "against the first pass"),
        ("housing", "start --given sheet=20.0", 1, "half the bit"),
        ("housing", "start --given key=9", 2, '"key" is no figure of the housing'),
        ("rabbet", "cut loose", 2, 'the word "loose" is not known'),
        ("rabbet", "cut flush 0.2", 2, "takes no size"),
        ("rabbet", "cut flush --set second_pass=1", 2, "known: fence_offset, height"),
        ("rabbet", "cut flush --set height=21mm", 1, "more than the side of 20 mm"),
        ("rabbet", "start --given depth=18", 1, "leaves less than 3 mm of a side of 20 mm"),
        ("rabbet", "start --given sheet=21", 1, "against the bit itself"),
        ("rabbet", "start --given key=9", 2, '"key" is no figure of the rabbet'),
    ],
)
def test_what_is_no_word_of_the_joint_is_refused(
    shop: Shop, joint: str, typed: str, code: int, said: str
) -> None:
    args = started(shop, joint) and typed.split()
    if args[0] == "start":
        shop.words("finish --abandon")
        args = [*start_of(joint), *args[1:]]
    before = shop.words("log export").out
    error = shop.run(*args, code=code).err
    sentence(error)
    assert said in error and shop.words("log export").out == before


@pytest.mark.parametrize("joint", CUTS)
def test_a_log_moves_and_goes_on(
    shop: Shop, joint: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    started(shop, joint)
    for typed in CUTS[joint]:
        shop.run("cut", *typed)
    kept, table = tmp_path / "log.json", tmp_path / "cuts.csv"
    kept.write_text(shop.words("log export").out, encoding="utf-8")
    shop.run("log", "export", "--csv", str(table))
    shown, cuts = document(shop, "next"), document(shop, "show")["cuts"]
    (tmp_path / "other").mkdir()
    there = make_shop(tmp_path / "other", monkeypatch)
    there.run("log", "import", str(kept))
    assert document(there, "next") == shown and document(there, "show")["cuts"] == cuts
    assert "The log is sound" in there.words("log health").out
    there.words("finish --as-it-is")
    there.run(*start_of(joint), "--given", f"sheet={SHEETS[joint][1]}mm")
    there.run("log", "import", str(table), "--setup", "2", "--again", "--yes")
    again = document(there, "show")["cuts"]
    for key in ("settings", "said", "readings"):
        assert [cut[key] for cut in again] == [cut[key] for cut in cuts], key


@pytest.mark.parametrize("joint", KEYS)
def test_a_whole_piece_at_the_bench(shop: Shop, joint: str) -> None:
    key, lead, word = KEYS[joint]
    with Pane(started(shop, joint)) as pane:
        pane.until("to cut: piece 1").press(" ", f"{lead}, 1 of 2")
        pane.press(key, "depth, 2 of 2").press("4", "to cut: piece 2")
        assert not [w for w in OTHERS[joint] if w in pane.flat.casefold()], pane.text
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    last = document(shop, "next")["last"]["said"]
    assert last[lead] == word and last["depth"] == "right"
