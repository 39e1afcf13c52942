"""A family that fitlog has never heard of goes through the whole house by its command line: on a
file and on a server, in millimetres and in inches, alone and beside a half-blind dovetail.

No outside source: these are promises of the tool itself; the pegs are invented.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Any

import pytest
from at_work import document, tuned
from logs import Place, make_place
from pane import Pane
from shop import ROOT, Result, Shop, by_code, make_shop, sentence
from toy_family.joint import EDGES, PEGS
from toy_family.known import make_known

START = ("start", "--joint", "invented pegs", "--given", "spacing=30mm", "--bit", "auger")
HALF_BLIND = ("bit height", "fence offset", "socket", "tail", "rabbet", "half-blind", "the fit")
SIZES = ("--thickness", "17", "--width", "150")
OFF = {"play": -0.31, "place": 0.42}  # the truth that the pegs hide, mm


@pytest.fixture(autouse=True)
def known(monkeypatch: pytest.MonkeyPatch) -> None:
    """The family, known for one test."""
    make_known(monkeypatch)


def shop_at(place: Place, home: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A shop whose log is at a place."""
    home.mkdir(parents=True, exist_ok=True)
    made = make_shop(home, monkeypatch)
    monkeypatch.setenv("FITLOG_DB", place.location)
    return made


def stocked(shop: Shop) -> Shop:
    shop.words("bit add auger --diameter 10 --angle 8 --cutting-length 20")
    shop.run("stock", "add", "board", "--species", "ash (invented)", *SIZES)
    shop.words("machine add table --backlash 0.2 --height-step 0.05 --height-zero 0.3")
    return shop


@pytest.fixture
def pegs(place: Place, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A shop with a set-up of pegs before its first piece, in a file or on a server."""
    made = stocked(shop_at(place, tmp_path / "shop", monkeypatch))
    made.run(*START)
    return made


def refused(shop: Shop, *args: str, code: int = 1) -> str:
    """The sentence of a refusal that leaves every row of the log as it was, wherever it is."""
    before = shop.words("log export").out
    result = shop.run(*args, code=code)
    assert result.out == "", result
    sentence(result.err)
    assert shop.words("log export").out == before
    return result.err


def speaks_of_pegs(told: Result) -> str:
    """What a screen says, which names nothing of another family."""
    text = " ".join(told.out.split())
    assert not [word for word in HALF_BLIND if word in text.casefold()], text
    return text


def whole(advice: dict[str, Any]) -> None:
    """An advice document of the pegs has every key by the pegs' names, and a sentence each."""
    assert advice["joint"] == PEGS.name and advice["fixed"] == {"spacing": 30.0}
    assert list(advice["settings"]) == list(advice["real"]) == ["key_gap", "reach"]
    assert advice["moves"] is None or list(advice["moves"]) == ["key_gap", "reach"]
    for key in ("window", "misfit", "settled_by"):
        assert list(advice[key]) == ["play", "place"], key
    for key in ("chance_good", "chance_inside", "chance_real"):
        assert list(advice[key]) == ["play", "place", "all"], key
    assert advice["in_play"] == ["play", "place"] and advice["centre_by"] == ""
    for kind in ("reasons", "notices", "cautions"):
        for remark in advice[kind]:
            assert remark["code"] and remark["text"].endswith((".", "?")), remark


def misfit(aspect: str, at: dict[str, float]) -> float:
    """The hidden misfit of pegs every 30 mm in a 17 mm board, by their own figures, mm."""
    play = at["key_gap"] - 10.0
    figured = play if aspect == "play" else at["reach"] - 17.0 + 0.1 * play
    return figured + OFF[aspect]


def honest(at: dict[str, float]) -> str:
    """What an honest person says of a piece cut at these settings."""
    words = (PEGS.words(a)[sum(misfit(a, at) > e for e in EDGES[a])] for a in PEGS.aspects)
    return ", ".join(words)


def test_a_start_is_told_in_the_words_of_the_pegs(
    place: Place, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shop = stocked(shop_at(place, tmp_path / "shop", monkeypatch))
    text = speaks_of_pegs(shop.run(*START))
    assert "Set-up 1, piece 1. Unplugged, set: key gap 10.05 mm reach 17.00 mm" in text
    assert text.endswith(speaks_of_pegs(shop.words("next")))
    why = speaks_of_pegs(shop.words("why"))
    assert "setting set to move decides" in why
    assert "key gap 10.05 mm - play" in why and "reach 17.00 mm - place" in why
    again = refused(shop, *START)
    assert "set-up 1 with bit auger is still tuning" in again
    shop.words("finish --abandon")
    first = document(shop, *START)
    whole(first)
    assert first["setup"] == 2 and first["pieces"] == 0 and first["moves"] is None
    assert {c["code"] for c in first["cautions"]} >= {"unplug", "hands"}


def test_a_start_keeps_what_was_said_and_a_repeat_what_was_kept(pegs: Shop) -> None:
    pegs.words("finish --abandon")
    said = ("--only", "play", "--scrap", "pine", "--scrap-thickness", "15", "--width", "140")
    told = pegs.run(*START[:4], "spacing=36", *said)
    assert "key gap 12.05 mm" in speaks_of_pegs(told)
    first = document(pegs, "cut", "sliding")
    assert first["in_play"] == ["play"] and first["fixed"] == {"spacing": 36.0}
    assert first["real"]["reach"] == pytest.approx(first["settings"]["reach"] + 2)
    pegs.words("finish")
    again = document(pegs, "start", "--again")
    assert again["in_play"] == ["play"] and again["fixed"] == {"spacing": 36.0}
    pegs.words("finish --abandon")
    like = document(pegs, "start", "--joint", "invented pegs", "--only", "play,place")
    assert like["in_play"] == ["play", "place"] and like["fixed"] == {"spacing": 36.0}


def test_cuts_are_told_in_millimetres_and_in_inches(pegs: Shop) -> None:
    text = speaks_of_pegs(pegs.run("cut", "stiff, short 0.2"))
    assert "Piece 1: stiff, short 0.20 mm." in text and "key gap 10.14 mm wider" in text
    pegs.words("prefer --units inch")
    text = speaks_of_pegs(pegs.run("cut", "slack 1/64in", "--set", "key gap=0.41", "--note", "x"))
    assert "Piece 2: slack" in text and "narrower" in text and " mm" not in text
    assert "narrower" in text and "go below, then up" in text
    why = speaks_of_pegs(pegs.run("why"))
    assert "Key gap: go well below it" in why and "so that its play is taken up" in why
    advice = document(pegs, "cut", "sliding", "--move", "longer=1/64", "--read", "shim=0.002")
    whole(advice)
    last = advice["last"]
    assert last["stated"] == ["reach"] and last["said"]["play"] == "sliding"
    assert last["settings"]["reach"] == pytest.approx(17.19 + 25.4 / 64, abs=0.02)
    cuts = document(pegs, "show")["cuts"]
    assert cuts[1]["settings"]["key_gap"] == pytest.approx(0.41 * 25.4, abs=1e-3)
    assert cuts[2]["readings"][0]["value"] == pytest.approx(0.002 * 25.4)
    pegs.words("prefer --units mm")
    text = speaks_of_pegs(pegs.run("cut", "gap split 0.3, long"))
    assert "A gap at the split comes from no setting" in text
    assert speaks_of_pegs(pegs.words("cut --same-piece stuck")).startswith("Piece 4: stuck.")
    whole(document(pegs, "next"))


@pytest.mark.parametrize(
    ("typed", "code", "said"),
    [
        ("cut tight", 2, 'the word "tight" is not known: say it like: sliding, even'),
        ("cut", 2, "nothing was said of the piece: say how it fits: fitlog cut stiff"),
        ("cut gap baseline", 2, '"baseline" is no place of a gap: say gap split'),
        ("cut stuck stiff", 1, 'both "stuck" and "stiff" were said of the play'),
        ("cut stuck --set bit_height=9", 2, "known: key_gap, reach"),
        ("cut stuck --height 9", 2, '"--height" is no setting of the invented pegs'),
        ("cut stuck --set reach=900", 1, "the reach of 900 mm"),
        ("cut stuck --set reach=-1", 1, "the reach must be a size above zero"),
        ("cut stuck --read mouth=9", 2, '"mouth" is no reading of the invented pegs: known: shim'),
        ("cut stuck --pull-gap 0.2", 2, '"--pull-gap" is no reading of the invented pegs'),
        ("cut stuck --walls 3 4", 2, '"--walls" is no reading of the invented pegs'),
        ("cut --slot --read shim=0.1", 1, "a cut in waste tells nothing of this joint"),
        ("found --height 9", 2, '"--height" is no setting of the invented pegs'),
        ("found --set mouth=9", 2, '"mouth" is no setting of the invented pegs'),
        ("finish", 1, "set-up 1 is not ready: no piece of it is logged"),
        ("stops", 1, "knows no layouts of the invented pegs"),
        ("fault", 1, "knows no symptoms of the invented pegs"),
        ("fault gap baseline", 1, "knows no symptoms of the invented pegs"),
        ("recover --from 1", 1, "no way back from a kept sample of the invented pegs"),
        ("start --again 1 --joint half-blind-dovetail", 1, "set-up 1 is still tuning"),
        ("start --joint invented-pegs --pitch 20", 2, '"pitch" is no figure of the invented pegs'),
        ("start --joint invented-pegs --only fit", 2, "--only cannot be 'fit'"),
        ("start --joint invented-pegs --proud 0.2", 2, '"proud" is no figure of the invented pegs'),
        ("bench", 1, "bench is a dialogue and needs a terminal"),
    ],
)
def test_what_is_no_word_of_the_pegs_is_refused_in_one_sentence(
    shop: Shop, typed: str, code: int, said: str
) -> None:
    stocked(shop).run(*START)
    assert said in refused(shop, *typed.split(), code=code)


def test_screens_of_a_set_up_that_goes_on_and_back(pegs: Shop) -> None:
    pegs.run("cut", "stuck, long 0.4")
    after = pegs.words("cut stiff --same-piece").out
    gone = pegs.words("undo")
    assert gone.err == 'Taken back: "stiff" on piece 1.\n'
    assert "Brought back" in pegs.words("redo").err and pegs.words("next").out in after
    found = speaks_of_pegs(pegs.words("found --set reach=16.9"))
    assert "reach 16.90 mm" in found and "shorter" in found
    shown = speaks_of_pegs(pegs.words("show"))
    assert "key stop said" in shown and "stuck, long 0.40 mm" in shown and "found" in shown
    drawn = speaks_of_pegs(pegs.words("progress"))
    assert "Play: where the best key gap lay" in drawn and "Place: where the best reach" in drawn
    steps = document(pegs, "progress")["steps"]
    assert list(steps[0]["proposed"]["good_setting"]) == ["key_gap", "reach"]
    assert "The fit, as" in pegs.words("words").out  # the pegs' words have no scale to be learnt
    assert "The log is sound" in pegs.words("log health").out
    ended = pegs.words("finish --as-it-is")
    assert "key gap" in speaks_of_pegs(ended)
    assert "ended as it is" in pegs.words("review").out
    (row,) = document(pegs, "review")["setups"]
    assert list(row["settings"]) == list(row["first_moves"]) == ["key_gap", "reach"]
    table = speaks_of_pegs(pegs.words("review"))
    assert "pieces key stop since first" in table and "how far the key moved" in table


def test_a_second_set_up_learns_from_the_first(pegs: Shop) -> None:
    pegs.words("finish --abandon")
    told, later = (tuned(pegs, START, honest) for _ in range(2))
    for advice in (*told, *later):
        whole(advice)
    assert told[-1]["status"] == later[-1]["status"] == "ready"
    assert len(later) < len(told)
    for aspect in PEGS.aspects:
        before, now = (misfit(aspect, advice[0]["settings"]) for advice in (told, later))
        assert abs(now) < abs(before) / 2
    assert "play-settled" in by_code(later[-1]["reasons"])


def test_a_whole_piece_at_the_bench(pegs: Shop) -> None:
    pegs.command = lambda *args: [sys.executable, "-m", "toy_family", *args]  # type: ignore[method-assign]
    path, location = f"{ROOT}:{Path(__file__).parent}", document(pegs, "log", "where")["log"]
    with Pane(pegs, PYTHONPATH=path, FITLOG_DB=location) as pane:
        pane.until("to cut: piece 1").press("k", "key gap as set, mm")
        pane.press("10.2\r", "as really set").press(" ", "play, 1 of 2")
        pane.press("4", "place, 2 of 2").press("m", "measure of the play").press(
            "0.3\r", '"slack 0.3"'
        )
        pane.press("f", "split").press("1", 'logged: "gap split').press("u", "Taken back")
        pane.press("1", "to cut: piece 2").press("?", "KEYS").press("q", "to cut: piece 2")
        assert not [word for word in HALF_BLIND if word in pane.flat.casefold()], pane.text
        pane.press("q", "piece 2 is to be cut; fitlog bench goes on there")
        assert pane.ended() == 0
    advice = document(pegs, "next")
    whole(advice)
    assert advice["last"]["settings"]["key_gap"] == 10.2
    assert advice["last"]["said"] == {"play": "slack 0.30", "place": "short", "faults": []}


@pytest.mark.parametrize(
    ("first", "second"), [("file", "server"), ("server", "file"), ("file", "file")]
)
def test_a_log_of_pegs_moves_between_stores_and_goes_on(
    request: pytest.FixtureRequest,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    first: str,
    second: str,
) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    here = stocked(
        shop_at(make_place(first, request, tmp_path / "a"), tmp_path / "one", monkeypatch)
    )
    tuned(here, START, honest)
    here.run(*START)
    here.run("cut", "stuck, long 0.4", "--read", "shim=0.01")
    text, before = here.words("log export").out, document(here, "next")
    kept = tmp_path / "shop.json"
    kept.write_text(here.words("log export").out, encoding="utf-8")
    shown, listed = document(here, "show"), document(here, "review")
    there = shop_at(make_place(second, request, tmp_path / "b"), tmp_path / "two", monkeypatch)
    there.run("log", "import", str(kept))
    assert document(there, "show") == shown and document(there, "review") == listed
    assert document(there, "next") == before
    assert len(there.words("log export").out) >= len(text)
    assert "The log is sound" in there.words("log health").out
    whole(document(there, "cut", "sliding, even"))


def test_cuts_go_out_as_a_table_and_come_in_again(pegs: Shop, tmp_path: Path) -> None:
    pegs.run("cut", "stuck, long 0.4", "--read", "shim=0.01")
    pegs.run("cut", "falling out 0.4, short, gap split 0.2", "--set", "key_gap=10.4")
    table = tmp_path / "cuts.csv"
    pegs.run("log", "export", "--csv", str(table))
    before = document(pegs, "show")["cuts"]
    pegs.words("finish --as-it-is")
    pegs.run(*START)
    pegs.run("log", "import", str(table), "--setup", "2", "--again", "--yes")
    after = document(pegs, "show")["cuts"]
    for key in ("settings", "said", "readings"):
        assert [cut[key] for cut in after] == [cut[key] for cut in before], key
    own = tmp_path / "own.csv"
    own.write_text("key gap;reach;said\n10.1;17.2;sliding, even\n10.1;17.2;tight\n")
    told = pegs.run("log", "import", str(own), "--setup", "2", code=1).out
    assert 'Line 3: the word "tight" is not known' in told and "nothing was logged" in told


@pytest.fixture
def mixed(place: Place, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shop:
    """A log with both joints: finished pegs (1) and a finished half-blind dovetail (2) of one bit,
    then pegs again (3) with that bit and a half-blind dovetail (4) with another, both open.
    """
    made = stocked(shop_at(place, tmp_path / "shop", monkeypatch))
    made.words("bit add marsh --diameter 12.7 --angle 8 --cutting-length 20")
    pegs = (*START[:-1], "marsh")
    tuned(made, pegs, honest)
    made.words("start --bit marsh")
    made.words("cut tight, gap far 0.3, proud 0.2")
    made.words("cut good 0.08, centred, flush")
    made.run(*pegs)
    made.words("start --bit auger --pitch 18")
    return made


def test_each_set_up_of_a_mixed_log_is_spoken_to_in_its_own_words(mixed: Shop) -> None:
    rows = {row["setup"]: row for row in document(mixed, "review")["setups"]}
    assert [rows[n]["status"] for n in (1, 2, 3, 4)] == ["finished", "finished", "tuning", "tuning"]
    assert list(rows[1]["settings"]) == ["key_gap", "reach"]
    assert list(rows[2]["settings"]) == ["bit_height", "fence_offset", "socket_depth"]
    assert '"sliding" is not known' in refused(mixed, "cut", "sliding", code=2)
    assert "Piece 1: tight." in mixed.words("cut tight").out
    table = " ".join(mixed.words("review").out.split())
    assert "height fence depth key stop" in table or "key stop height fence depth" in table
    used = mixed.words("use 3")
    assert speaks_of_pegs(used) == speaks_of_pegs(mixed.words("next"))
    assert '"tight" is not known' in refused(mixed, "cut", "tight", code=2)
    whole(document(mixed, "cut", "stiff, even"))
    assert "tight" in mixed.words("cut --setup 4 --same-piece tight").out
    assert "bit height" in mixed.words("use 4").out
    assert mixed.words("stops --setup 2").out
    assert "of the invented pegs" in refused(mixed, "stops", "--setup", "3")
    assert "of the invented pegs" in refused(mixed, "recover", "--from", "1")
    assert "bit height" in mixed.words("recover --from 2").out
    assert "of another joint" in refused(mixed, "log", "export", "--csv")
    assert "key gap" in mixed.words("log export --csv --setup 3").out.splitlines()[0]
    assert "The log is sound" in mixed.words("log health").out


def test_a_bit_has_one_open_set_up_and_each_joint_repeats_its_own(mixed: Shop) -> None:
    still = "set-up 3 with bit marsh is still tuning"
    assert still in refused(mixed, "start", "--bit", "marsh", "--pitch", "21.7")
    mixed.words("use 3")
    mixed.words("cut sliding, even")  # ready: another start with its bit finishes it
    again = mixed.words("start --bit marsh")
    assert "Set-up 3 with this bit was ready and is now finished." in again.err
    assert "As set-up 2:" in again.err and "bit height" in again.out
    mixed.words("finish --abandon")
    for line in ("start --joint invented-pegs --bit marsh", "start --again --joint invented-pegs"):
        told = mixed.words(line)
        assert "As set-up 3:" in told.err and speaks_of_pegs(told)
        assert document(mixed, "next")["fixed"] == {"spacing": 30.0}
        mixed.words("finish --abandon")
    assert "is of the invented pegs" in refused(
        mixed, "start", "--again", "3", "--joint", "half-blind-dovetail"
    )
