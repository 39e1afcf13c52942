"""What every joint goes through alike by the command line, from its own example: words and settings
that it has not, the log out and in again; and a piece at the bench of two that take alike keys.

No outside source: these are promises of the tool itself; the shops are invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from at_work import document, plain, start, started
from pane import Pane
from shop import Shop, make_shop, sentence

from fitlog.families.names import FAMILIES

# What is typed at a set-up before its first piece, or as a start; the exit code, and what is said.
REFUSED = {
    "box": (
        ("cut centred", 2, 'the word "centred" is not known'),
        ("cut tight 0.2", 2, "takes no size"),
        ("cut good --set bit_height=9", 2, "known: key_gap, starter, height"),
        ("cut good --read walls=3:4", 2, '"walls" is no reading of the box'),
        ("cut --slot --read finger=9", 1, "a slot in waste has a width and nothing else"),
        ("cut good --set key_gap=200", 1, "the key gap"),
        ("start --given key=12", 1, "the key"),
        ("start --given fingers=0", 1, "no board has 0 fingers"),
        ("start --pitch 20", 2, '"pitch" is no figure of the box'),
        ("start --given proud=5", 1, "the wanted step"),
    ),
    "box-steps": (
        ("cut inside", 2, 'the word "inside" is not known'),
        ("cut tight 0.2", 2, "takes no size"),
        ("cut good --set key_gap=9", 2, "known: second_pass, fence_offset, height"),
        ("cut good --set second_pass=-1", 1, "the second pass"),
        ("start --pitch 12", 1, "the pitch"),
        ("start --given key=9", 2, '"key" is no figure of the box-steps'),
    ),
    "sliding": (
        ("cut centred", 2, 'the word "centred" is not known'),
        ("cut tight 0.2", 1, "does not come out by itself, so it has no pulled gap of 0.2"),
        ("cut closed 0.2", 2, '"closed" takes no size'),
        ("cut good --set bit_height=9", 2, "known: socket_height, tongue_height, exposure"),
        ("cut good --read walls=3:4", 2, '"walls" is no reading of the sliding'),
        ("cut good --exposure 9", 1, "the exposure"),
        ("cut good --set socket_height=10", 1, "half the panel's thickness"),
        ("cut --slot --read mouth=9", 1, "a cut in waste tells nothing"),
        ("start --pitch 20", 2, '"pitch" is no figure of the sliding'),
        ("start --given exposure-by=nose", 2, "exposure-by cannot be"),
    ),
    "lock-mitre": (
        ("cut centred", 2, 'the word "centred" is not known'),
        ("cut loose 0.2", 2, "takes no size"),
        ("cut all flush", 2, "flush"),
        ("cut bowed", 2, "fitlog fault"),
        ("cut proud shy", 1, 'both "proud" and "shy" were said of the height'),
        ("cut flush --set bit_height=9", 2, "known: height, fence_offset"),
        ("cut flush --set height=200", 1, "the bit height"),
        ("cut flush --set height=9", 1, "the profile's middle outside a board of 19 mm"),
        ("cut flush --read walls=3:4", 2, '"walls" is no reading of the lock-mitre'),
        ("cut --slot --read slot=9", 2, "no reading of the lock-mitre"),
        ("start --given middle=40", 1, "the middle of the profile"),
        ("start --pitch 20", 2, '"pitch" is no figure of the lock-mitre'),
    ),
    "tenon": (
        ("cut centred", 2, 'the word "centred" is not known'),
        ("cut tight 0.2", 1, "nothing goes in beside what is tight"),
        ("cut closed 0.2", 2, '"closed" takes no size: say open 0.2'),
        ("cut good --set bit_height=9", 2, "known: mortise_fence, height, stop"),
        ("cut good --read walls=3:4", 2, '"walls" is no reading of the tenon'),
        ("cut good --read jaws=8", 2, "not two numbers"),
        ("cut --slot --read tenon=9", 1, "a mortise in waste has a width"),
        ("cut good --set height=24", 1, "more than the board of 20 mm"),
        ("start --pitch 20", 2, '"pitch" is no figure of the tenon'),
    ),
    "tongue-groove": (
        ("cut good --set groove_fence=8.9", 1, "is a climb cut"),
        ("cut --slot --read tongue=9", 1, "a groove in waste has a width"),
        ("start --given use=floor", 2, "use"),
    ),
    "half-lap": (
        ("cut good", 2, 'the word "good" is not known'),
        ("cut --slot --read web=0.2", 1, "a cut in waste tells nothing"),
    ),
    "housing": (
        ("cut inside", 2, 'the word "inside" is not known'),
        ("cut tight 0.2", 2, "takes no size"),
        ("cut good --set key_gap=9", 2, "known: second_pass, height"),
        ("cut good --set second_pass=-1", 1, "the second pass"),
        ("cut good --set height=21mm", 1, "more than the side of 20 mm"),
        ("start --given depth=11", 1, "more than half the side of 20 mm"),
        ("start --given sheet=12.0", 1, "against the first pass"),
        ("start --given sheet=20.0", 1, "half the bit"),
        ("start --given key=9", 2, '"key" is no figure of the housing'),
    ),
    "rabbet": (
        ("cut loose", 2, 'the word "loose" is not known'),
        ("cut flush 0.2", 2, "takes no size"),
        ("cut flush --set second_pass=1", 2, "known: fence_offset, height"),
        ("cut flush --set height=21mm", 1, "more than the side of 20 mm"),
        ("start --given depth=18", 1, "leaves less than 3 mm of a side of 20 mm"),
        ("start --given sheet=21", 1, "against the bit itself"),
        ("start --given key=9", 2, '"key" is no figure of the rabbet'),
    ),
}
# Two cuts with readings, sizes and faults, as a joint has them.
CUTS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "half-blind dovetail": (
        ("tight, gap far 0.4", "--walls", "60.4", "60.0", "--mouth", "6.6"),
        ("slightly loose 0.2, proud 0.3, gap flank 0.2", "--note", "chips"),
    ),
    "box": (
        ("tight, in 0.2, proud 0.1", "--read", "slot=9.46", "--read", "finger=9.45"),
        ("slightly loose 0.12, level, flush, gap creep 0.2",),
    ),
    "box-steps": (
        ("tight, centred, flush", "--walls", "68.65", "68.65"),
        ("slightly loose 0.12, gap creep 0.2", "--same-end"),
    ),
    "sliding": (
        ("tight", "--read", "mouth=8.6", "--read", "over_rods=17.71:4"),
        ("slightly loose 0.2, open 0.3", "--same-end", "--note", "chips"),
    ),
    "lock-mitre": (
        ("shy 0.5, under 0.4, loose",),
        ("flush, slightly out 0.12, even, gap inside 0.2", "--forward", "0.1"),
    ),
    "tenon": (
        ("proud 0.2, closed", "--read", "jaws=7.95:8.05"),
        ("open 0.3, gap tip 0.2", "--up", "0.05"),
    ),
    "tongue-groove": (
        ("proud 0.2, closed", "--read", "jaws=7.1:7.2"),
        ("open 0.3, gap tip 0.2", "--up", "0.05"),
    ),
    "half-lap": (
        ("proud 0.2, closed", "--read", "web=0.2"),
        ("open 0.3, gap tip 0.2", "--up", "0.05"),
    ),
    "housing": (
        ("tight, shallow 0.2", "--read", "slot=17.40", "--read", "sheet=17.55"),
        ("slightly loose 0.12, gap lean", "--same-end"),
    ),
    "rabbet": (
        ("proud 0.4, shallow 0.2", "--read", "width=11.2", "--read", "sheet=11.55"),
        ("slightly proud 0.12, gap lean", "--same-end"),
    ),
}
# The keys of a piece, and the lead's name and word that they give.
KEYS = {"housing": ("2", "fit", "tight"), "rabbet": ("7", "face", "very proud")}
ELSEWHERE = ("socket", "tail", "half-blind", " pin", "finger")
OTHERS = {
    "housing": (*ELSEWHERE, "shoulder"),
    "rabbet": (*ELSEWHERE, "housing", "second pass"),
}


@pytest.mark.parametrize(
    ("joint", "typed", "code", "said"),
    [(joint, *row) for joint, rows in REFUSED.items() for row in rows],
)
def test_what_a_joint_has_not_is_refused_in_one_sentence(
    shop: Shop, joint: str, typed: str, code: int, said: str
) -> None:
    command, *more = started(shop, joint) and typed.split()
    if command == "start":
        shop.words("finish --abandon")
    before = shop.words("log export").out
    begun = start(joint, given=False) if command == "start" else [command]
    error = shop.run(*begun, *more, code=code).err
    sentence(error)
    assert said in error and shop.words("log export").out == before


def test_every_joint_is_here() -> None:
    assert CUTS.keys() == FAMILIES.keys()


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
    there.run(*start(joint))
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
        plain(OTHERS[joint], pane.flat)
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    last = document(shop, "next")["last"]["said"]
    assert last[lead] == word and last["depth"] == "right"
