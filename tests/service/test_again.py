"""A repeat is a repeat: `start --again`, and a plain `start` that means one earlier set-up. All
shops are invented.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import forked
import pexpect
import pytest
from logs import STAMP, Place
from shop import Shop, by_code

from fitlog.domain import Bit, Plan, Stock
from fitlog.errors import Refused
from fitlog.families.half_blind.names import judged, say
from fitlog.language.units import Ruler
from fitlog.log import open_log
from fitlog.service import Reported, Wanted, Workbench, again

GOOD = "cut good, centred, flush"
MACHINE = {"height-turn": "1.6", "fence-step": "0.05"}
# Everything that a set-up can be told, no value of it the usual one.
ALL = (
    "--pitch 22.263 --width 141.7 --thickness 17.3 --pin-thickness 16.6 --rabbet 7.1 --rabbet-bit "
    "straight --proud 0.3 "
    "--only fit,seat --words-only --by-eye --spacer --many-tails --tails 3 --spacing 46.51 --scrap "
    "poplar --scrap-width 120.5 "
    "--scrap-thickness 17.2"
)


def plan_in(shop: Shop, number: int) -> Plan:
    with open_log(shop.db, create=False) as log:
        return log.setup(number).plan


def ended(shop: Shop, line: str = "", said: str = GOOD) -> int:
    """Start a set-up, cut one piece and finish it; return its number."""
    number = int(shop.json(f"start {line}")["setup"])
    shop.words(said)
    shop.words("finish")
    return number


@pytest.fixture
def worked(shop: Shop) -> Shop:
    """A shop with one finished set-up that was told everything."""
    return shop.built(_told_everything)


def _told_everything(shop: Shop) -> None:
    shop.stocked(machine=MACHINE)
    shop.run(
        "stock",
        "add",
        "poplar",
        "--species",
        "poplar (invented)",
        "--thickness",
        "17",
        "--width",
        "150",
    )
    shop.run(
        "stock",
        "add",
        "oak",
        "--species",
        "oak (invented)",
        "--thickness",
        "18.5",
        "--width",
        "160",
    )
    ended(shop, f"--stock elm --pin-stock oak {ALL}", "cut good, proud 0.3")


@pytest.mark.parametrize(
    "line", ["--again", "--again 1", "--again=1", "", "--stock elm", "--bit marsh --machine bench"]
)
def test_everything_comes_again(worked: Shop, line: str) -> None:
    told = worked.words(f"start {line}")
    old, new = plan_in(worked, 1), plan_in(worked, 2)
    assert new == old and new.pitch == 22.263 and new.spacing == 46.51
    assert told.err.startswith(
        "As set-up 1: marsh, elm on oak, bench; 3 wide tails, slots 46.51 mm apart;"
    )
    for part in (
        "pitch 22.26 mm by a spacer",
        "aimed looser",
        "0.3 mm proud",
        "rabbet 7.1 mm with a straight bit",
        "141.7 mm by 17.3 mm, pins in 16.6 mm",
        "only fit, seat",
        "no feeler",
        "fence by eye",
        "pieces of poplar, 120.5 mm by 17.2 mm",
    ):
        assert part in told.err.replace("\n", " "), part


SAID = {
    "--pitch 22.6": {"pitch": 22.6},
    "--width 150": {"board_width": 150.0},
    "--thickness 16.9": {"tail_thickness": 16.9},
    "--pin-thickness 17": {"pin_thickness": 17.0},
    "--rabbet 6.6": {"rabbet_depth": 6.6},
    "--rabbet-bit same": {"rabbet_bit": "same"},
    "--proud 0": {"wanted_step": 0.0},
    "--only fit": {"in_play": ("fit",)},
    "--feeler": {"words_only": False},
    "--by-caliper": {"by_eye": False},
    "--no-spacer": {"spaced": False},
    "--few-tails": {"many_tails": False},
    "--spacing 45": {"spacing": 45.0},
    "--scrap-width 130": {"piece_width": 130.0},
    "--tails 2": {"tails": 2},
    "--scrap-thickness 17": {"piece_thickness": 17.0},
}


@pytest.mark.parametrize("line", SAID)
def test_what_is_said_beside_it_overrides_and_nothing_else(worked: Shop, line: str) -> None:
    told = worked.words(f"start --again {line}")
    assert plan_in(worked, 2) == replace(plan_in(worked, 1), **SAID[line])
    assert "There it was: " in told.err


def test_a_height_beside_it_brings_its_own_pitch(worked: Shop) -> None:
    worked.words("start --again --height 12")
    old, new = plan_in(worked, 1), plan_in(worked, 2)
    assert new == replace(old, pitch=new.pitch) and new.pitch != old.pitch


def test_a_spacing_closer_than_two_bits_goes_with_a_height(shop: Shop) -> None:
    shop.stocked()
    shop.words("start --height 12 --tails 4 --spacing 25.5")
    assert plan_in(shop, 1).spacing == 25.5 and plan_in(shop, 1).pitch < 25.5


def test_the_moisture_of_the_day_makes_no_other_set_up(worked: Shop) -> None:
    worked.words("start --moisture 9")
    assert plan_in(worked, 2) == replace(plan_in(worked, 1), moisture=9.0)


def test_scrap_can_be_cleared(worked: Shop) -> None:
    worked.run("start", "--again", "--scrap", "")
    assert plan_in(worked, 2).scrap == ""


def test_another_stock_brings_its_own_sizes(worked: Shop) -> None:
    worked.words("start --again --stock poplar")
    assert plan_in(worked, 2) == replace(
        plan_in(worked, 1), stock=plan_in(worked, 2).stock, board_width=150.0, tail_thickness=17.0
    )


def test_the_window_follows_the_number_of_tails_unless_it_was_said(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 12 --width 300")
    assert plan_in(shop, 1).many_tails
    shop.words("start --again --tails 5")
    assert not plan_in(shop, 2).many_tails
    shop.words("finish --abandon")
    shop.words("start --again 1")
    assert plan_in(shop, 3).many_tails and plan_in(shop, 3) == plan_in(shop, 1)


def test_a_pitch_that_follows_from_the_bit_comes_again_to_the_last_figure(shop: Shop) -> None:
    """12 tails, pitch 15.346 and their looser window: the pitch came back as 15.3."""
    shop.run("bit", "add", "half", "--diameter", "10.3", "--angle", "14", "--cutting-length", "12")
    shop.run(
        "stock", "add", "ash", "--species", "ash (invented)", "--thickness", "14", "--width", "190"
    )
    first = shop.json("start --pitch 15.346 --tails 12")
    shop.words(GOOD)
    second = shop.json("start")  # which finishes the first
    assert second["fixed"] == first["fixed"] and second["fixed"]["pitch"] == 15.346
    assert second["window"]["fit"] == first["window"]["fit"] == [0.08, 0.15]


def test_wide_tails_come_again_in_inches(shop: Shop) -> None:
    """3 wide tails, their slots 2.4167 in apart, came back as 6 alike."""
    shop.run("prefer", "--units", "inch")
    shop.run("bit", "add", "half", "--diameter", "0.5", "--angle", "14", "--cutting-length", "0.55")
    shop.run(
        "stock",
        "add",
        "ash",
        "--species",
        "ash (invented)",
        "--thickness",
        "0.625",
        "--width",
        "7.25",
    )
    ended(shop, "--pitch 0.8 --tails 3 --spacing 2.4167")
    stops = shop.json("stops")
    shop.words("start")
    assert plan_in(shop, 2) == plan_in(shop, 1)
    again = shop.json("stops")
    same = ("bit", "tails", "pitch", "spacing", "board_width")
    assert {k: v for k, v in again["layout"].items() if k in same} == {
        k: v for k, v in stops["layout"].items() if k in same
    }
    assert len(again["stops"]) == len(
        stops["stops"]
    )  # where they lie, the height and the zero of the day say
    assert stops["layout"]["tails"] == 3 and stops["layout"]["spacing"] == pytest.approx(
        2.4167 * 25.4, abs=1e-3
    )


# Which one


def test_the_last_that_ended_good_with_what_is_named(shop: Shop) -> None:
    shop.stocked(machine=MACHINE)
    shop.run("bit", "add", "fen", "--diameter", "12.6", "--angle", "8", "--cutting-length", "14")
    ended(shop, "--bit marsh --tails 5")
    ended(shop, "--bit marsh --tails 4")
    ended(shop, "--bit fen --tails 3")
    shop.words("start --bit marsh --tails 2")
    shop.words("finish --abandon")
    for line, tails in (
        ("--again", 3),
        ("--again --bit marsh", 4),
        ("--again 1", 5),
        ("--again 4", 2),
    ):
        told = shop.words(f"start {line}")
        number = int(shop.json("next")["setup"])
        assert plan_in(shop, number).tails == tails, line
        assert ("which was abandoned" in told.err) == (line == "--again 4")
        shop.words("finish --abandon")


def test_a_ready_one_is_finished_and_repeated(shop: Shop) -> None:
    shop.started("--tails 5 --proud 0.2")
    shop.words("cut good, centred, proud 0.2")
    told = shop.words("start").err
    assert (
        "Set-up 1 with this bit was ready and is now finished." in told and "As set-up 1: " in told
    )
    assert plan_in(shop, 2) == plan_in(shop, 1)


def test_what_cannot_be_repeated_is_one_sentence(shop: Shop) -> None:
    shop.stocked()
    assert "no set-up was finished yet" in shop.refused("start", "--again")
    shop.words("start --tails 5")
    for args, code, why in (
        (["--again", "1"], 1, "still tuning"),
        (["--again", "7"], 1, "no set-up 7"),
        (["--again=0"], 1, "no set-up 0"),
        (["--again=x"], 2, "'x'"),
        (["--again=-1"], 2, "'-1'"),
        (["--again", "x"], 2, "x"),
        (["--again=" + "9" * 5000], 2, "--again cannot be"),
        (["--again="], 2, "''"),
    ):
        assert why in shop.refused("start", *args, code=code), args
    shop.words("undo --yes")
    assert "undone" in shop.refused("start", "--again", "1")
    shop.words("start --tails 5")
    shop.words(GOOD)
    shop.words("finish")
    assert "no such" in shop.refused("start", "--again", "--bit", "no such")
    shop.run("bit", "add", "fen", "--diameter", "12.6", "--angle", "8", "--cutting-length", "14")
    assert 'no set-up with "fen" was finished yet' in shop.refused(
        "start", "--again", "--bit", "fen"
    )


@pytest.mark.parametrize(
    ("kind", "name"), [("bit", "marsh"), ("stock", "elm"), ("machine", "bench")]
)
def test_what_is_retired_is_not_repeated(shop: Shop, kind: str, name: str) -> None:
    shop.stocked(machine=MACHINE)
    ended(shop, "--tails 5")
    shop.words(f"{kind} retire {name}")
    told = shop.refused("start", "--again")
    assert (
        f"the {kind} {name} of set-up 1 is retired" in told
        and f"fitlog {kind} edit '{name}' --restore" in told
    )
    shop.words(f"{kind} edit {name} --restore")
    shop.words("start --again")


def test_what_the_catalogue_says_otherwise_is_told(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 5")
    shop.words("stock edit elm --thickness 18.2")
    assert (
        "boards 150 mm by 17 mm" in (told := shop.words("start").err)
        and "In the catalogue elm is 150 mm by 18.2 mm" in told
    )
    shop.words("finish --abandon")
    assert "catalogue" not in shop.words("start --again --thickness 18.2").err


def test_a_sharpened_bit_keeps_its_pitch(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--pitch 22.263 --tails 6")
    shop.words("bit sharpen marsh --diameter 12.98")
    shop.words("start")
    new = plan_in(shop, 2)
    assert (new.pitch, new.tails, new.bit.diameter) == (22.263, 6, 12.98)


def test_one_finished_as_it_is_only_by_its_number(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 5")
    shop.words("start --tails 4")
    shop.words("cut tight")
    shop.words("finish --as-it-is")
    for line, tails in (("", 5), ("--again", 5), ("--again 2", 4)):
        told = shop.words(f"start {line}").err
        assert plan_in(shop, int(shop.json("next")["setup"])).tails == tails
        assert ("As set-up 2, which was finished as it is: " in told) == (line == "--again 2")
        shop.words("finish --abandon")


def test_what_was_insisted_on_once_is_not_asked_about_again(shop: Shop) -> None:
    """A slip is sought in what is typed, against the boards that are repeated."""
    shop.stocked()
    ended(shop, "--pin-thickness 30 --proud 1.6 --yes", "cut good, centred, proud 1.6")
    for line in ("start", "start --again", "start --yes"):
        assert shop.words(line).err.startswith("As set-up 1: "), line
        shop.words("finish --abandon")
    told = shop.refused("start", "--again", "--height", "6")
    assert "too shallow to hold in a 30 mm board" in told and "--yes" in told
    shop.words("start --height 6")  # in a board of this stock's own 17 mm


# A plain start


def test_the_newest_of_several_alike(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 5 --thickness 17.4")
    ended(shop, "--again --thickness 16.8")
    assert shop.words("start").err.startswith("As set-up 2: ")
    assert plan_in(shop, 3).tail_thickness == 16.8


def test_several_that_differ_are_not_guessed_from(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 5 --proud 0.2", "cut good, centred, proud 0.2")
    ended(shop, "--tails 4 --rabbet 7")
    told = shop.words("start").err
    assert "Set-ups 2 and 1 differ" in told and "Not taken over from set-up 2: rabbet 7 mm." in told
    assert (plan_in(shop, 3).tails, plan_in(shop, 3).rabbet_depth) == (4, 6.55)


def test_on_a_terminal_it_is_asked_which(shop: Shop) -> None:
    shop.stocked()
    ended(shop, "--tails 5 --proud 0.2", "cut good, centred, proud 0.2")
    ended(shop, "--tails 4")
    for answers, wanted in ((("9", "1"), (5, 0.2)), (("",), (4, 0.0)), (("0",), (None, 0.0))):
        child = forked.spawn(
            shop.command("start"),
            env=shop.environment(),
            timeout=60,
            encoding="utf-8",
            dimensions=(60, 130),
        )
        child.expect("1: marsh, elm; 5 tails")
        for answer in answers:
            child.expect("Which is it")
            child.sendline(answer)
        child.expect(pexpect.EOF)
        child.close()
        number = int(shop.json("next")["setup"])
        assert (
            child.exitstatus == 0
            and (plan_in(shop, number).tails, plan_in(shop, number).wanted_step) == wanted
        )
        shop.words("finish --abandon")


def test_on_a_terminal_it_is_asked_which_bit(shop: Shop) -> None:
    shop.stocked()
    shop.run("bit", "add", "fen", "--diameter", "12.6", "--angle", "8", "--cutting-length", "14")
    assert "name one with --bit" in shop.refused("start")
    child = forked.spawn(
        shop.command("start"),
        env=shop.environment(),
        timeout=60,
        encoding="utf-8",
        dimensions=(60, 130),
    )
    child.expect("Which bit")
    child.sendline("fen")
    child.expect("Set-up 1: fen")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 0


def test_one_earlier_set_up_names_what_nobody_did(shop: Shop) -> None:
    """Two bits and two stocks in the catalogue, one set-up in the log."""
    shop.stocked()
    ended(shop, "--tails 5")
    shop.run("bit", "add", "fen", "--diameter", "12.6", "--angle", "8", "--cutting-length", "14")
    shop.run(
        "stock",
        "add",
        "oak",
        "--species",
        "oak (invented)",
        "--thickness",
        "18.5",
        "--width",
        "160",
    )
    shop.words("start")
    assert plan_in(shop, 2) == plan_in(shop, 1)


def test_at_ones_own_machine(shop: Shop) -> None:
    shop.stocked(machine=MACHINE)
    shop.run("machine", "add", "left", "--height-turn", "2")
    ended(shop, "--machine bench --tails 5")
    ended(shop, "--machine left --tails 4")
    shop.words("prefer --machine bench")
    shop.words("start")
    assert (plan_in(shop, 3).tails, plan_in(shop, 3).machine) == (5, plan_in(shop, 1).machine)
    shop.words("finish --abandon")
    assert "It is at left, not at your own bench" in shop.words("start --again 2").err
    shop.words("finish --abandon --setup 4")
    shop.words("start --machine left")
    assert plan_in(shop, 5).tails == 4


@pytest.mark.parametrize(
    ("line", "whole", "pitch", "told"),
    [
        ("--thickness 16.8", True, 22.263, "0.3 mm proud"),
        ("--proud 0.1", True, 22.263, "rabbet 7.1 mm with a straight bit"),
        ("--width 150", False, None, "3 wide tails, slots 46.51 mm apart"),
        ("--pitch 22.4", False, 22.4, "3 wide tails, slots 46.51 mm apart"),
        ("--height 11.5", False, None, "aimed looser"),
    ],
)
def test_where_something_else_is_said_nothing_goes_in_silence(
    worked: Shop, line: str, whole: bool, pitch: float | None, told: str
) -> None:
    """A layout is kept whole or not at all; what is not taken over is said, with what takes it."""
    said = worked.words(
        f"start --stock elm --pin-stock oak --pin-thickness 16.6 {line}"
    ).err.replace("\n", " ")
    old, new = plan_in(worked, 1), plan_in(worked, 2)
    assert (new.tails, new.spacing, new.many_tails) == (
        (old.tails, old.spacing, True) if whole else (None, None, False)
    )
    assert pitch is None or new.pitch == pitch
    assert "Not taken over from set-up 1: " in said and told in said and "--again 1" in said
    assert (
        new.wanted_step == (0.1 if "proud" in line else 0.0)
        and new.rabbet_bit == "same"
        and not new.words_only
    )


def test_a_first_set_up_says_nothing_of_others(shop: Shop) -> None:
    shop.stocked()
    assert shop.words("start").err == ""
    shop.words("finish --abandon")
    assert shop.words("start --tails 5").err == "", "an abandoned one is no example"


def test_json_is_one_document_whatever_is_repeated(worked: Shop) -> None:
    result = worked.run("start", "--again", "--json")
    assert result.document["setup"] == 2 and result.document["fixed"]["pitch"] == 22.263
    assert "stops can stay" in by_code(result.document["reasons"])["height-from"]


# One advice a start


def advised(place: Place) -> list[tuple[int, dict[str, Any]]]:
    """The set-up and the document of every advice in the log."""
    return [
        (int(setup), json.loads(text))
        for setup, text in place.rows("SELECT setup, document FROM advice ORDER BY id")
    ]


@pytest.fixture
def bench(place: Place) -> Iterator[Workbench]:
    with open_log(place.location, create=True) as log:
        log.add_bit(Bit("marsh", 13.1, 9.0, 14.0))
        log.add_stock(Stock("elm", "elm (invented)", 17.0, 150.0))
        yield Workbench(log, "mira", Ruler())


def test_a_start_keeps_the_one_advice_that_it_shows(place: Place, bench: Workbench) -> None:
    """It kept another before, of a draft with the number 0 that nobody was shown."""
    wanted = Wanted(bench.log.bit("marsh"), bench.log.stock("elm"), bench.log.stock("elm"), None)
    shown = bench.start(wanted).document
    assert advised(place) == [(1, shown)]
    assert bench.answer(1).document == shown and len(advised(place)) == 1  # `next` says the same
    bench.record(
        bench.current(),
        Reported(
            judged(
                *(say(a, w) for a, w in (("fit", "good"), ("centre", "centred"), ("seat", "flush")))
            )
        ),
    )  # type: ignore[arg-type]
    bench.answer(1)
    bench.start(replace(wanted, again=again.last(bench, again.Named())))
    bench.undo(bench.current(), whole=True)
    second = bench.start(replace(wanted, first={"bit_height": 11.5})).document
    assert bench.answer(3).document == second
    documents = advised(place)
    assert [setup for setup, _ in documents] == [1, 1, 2, 2, 3]
    assert all(document["setup"] == setup for setup, document in documents)


def test_a_log_that_is_told_the_advice_late_refuses_as_before(
    place: Place, bench: Workbench
) -> None:
    """Nothing is stored when the advice cannot be made."""
    wanted = Wanted(bench.log.bit("marsh"), bench.log.stock("elm"), bench.log.stock("elm"), None)
    setup = bench.start(wanted).setup
    bench.finish(setup, abandon=True)
    before = place.rows("SELECT count(*) FROM entry")

    def broken(number: int) -> str:
        raise Refused("no-room", f"set-up {number} is no set-up", "none")

    with pytest.raises(Refused):
        bench.log.start(setup.plan, setup.first, broken, STAMP)
    assert place.rows("SELECT count(*) FROM entry") == before


def test_every_command_keeps_documents_of_its_set_up(shop: Shop, tmp_path: Path) -> None:
    shop.stocked()
    ended(shop, "--tails 5")
    for line in (
        "start",
        "cut tight",
        "cut slightly loose",
        "undo",
        "next",
        "finish --abandon",
        "undo",
    ):
        shop.words(line)
    documents = advised(Place(str(shop.db)))
    assert len(documents) >= 6 and all(document["setup"] == setup for setup, document in documents)
