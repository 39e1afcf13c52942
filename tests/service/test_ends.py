"""Ends that tell the truth: short of ready only by name, one standing behind every front, the real
boards' own settings.

Bits and boards are invented (see shop.py). Nothing here is random.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from io import StringIO
from typing import Any

import pytest
from building import STARTED, in_words, make_cut, make_plan, make_setup
from shop import Shop, by_code

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.document import advice_document
from fitlog.domain import Advice, Misfit, Note, SetUp
from fitlog.domain.standing import Standing, ended, for_real_boards, standing, zero_error
from fitlog.errors import Refused
from fitlog.families.half_blind.names import say, set_to
from fitlog.fronts.cli import ending
from fitlog.language.units import Ruler
from fitlog.render.answer import advice as show_advice
from fitlog.render.answer import standing as headline
from fitlog.render.documents.setups import review_row
from fitlog.render.screen import Screen
from fitlog.render.standing import _ENDED, _OPEN, said, unsettled
from fitlog.service.ending import not_a_good_base

AT = set_to(8.7, 75.0, 11.0)
KEPT = Note("kept", "top shelf (invented)")
GOOD = make_cut(1, AT, "good", "centred", "flush")


def settled(**changes: Any) -> tuple[SetUp, Advice]:
    """A set-up with one piece that was good in all, and the advice on it, with other values."""
    setup = make_setup(make_plan(), AT, [GOOD])
    return setup, replace(advise(setup, History()), **changes)


def with_chances(fit: float, together: float) -> tuple[SetUp, Advice]:
    rest = (together / fit) ** 0.5
    return settled(chance_real={"fit": fit, "centre": rest, "seat": rest, "all": together})


def printed(setup: SetUp, found: Advice) -> str:
    out = StringIO()
    show_advice(Screen(out), setup, found, Ruler())
    return " ".join(out.getvalue().split())


# --- finish short of ready ------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (None, "no piece of it is logged"),
        ("cut tight", "the fit, the centre and the seat are still open"),
        ("cut good, centred", "the seat is still open"),
    ],
)
def test_finish_is_refused_short_of_ready_and_stores_nothing(
    shop: Shop, line: str | None, why: str
) -> None:
    shop.started("--pitch 22.6")
    if line is not None:
        shop.words(line)
    told = shop.refused("finish")
    assert (
        "set-up 1 is not ready" in told
        and why in told
        and "--as-it-is" in told
        and "--abandon" in told
    )
    assert shop.json("finish", code=1)["error"]["code"] == "not-ready"
    assert shop.json("next")["status"] == "tuning" and shop.json("next")["ended"] is None
    assert shop.json("finish --abandon")["ended"] == "abandoned"


def test_finish_of_what_is_ready_is_a_good_end(shop: Shop) -> None:
    shop.started("--pitch 22.6").words("cut good, centred, flush")
    found = shop.json("finish --as-it-is")  # ready all the same: nothing to be named
    assert (found["status"], found["ended"]) == ("finished", "good")
    assert shop.json("review")["setups"][0]["ended"] == "good"


@pytest.mark.parametrize("answer", [True, False])
def test_on_a_terminal_it_asks(shop: Shop, monkeypatch: pytest.MonkeyPatch, answer: bool) -> None:
    """What is asked and what follows from the answer; the log's own part is tested below."""
    asked: list[str] = []
    calls: list[bool] = []

    class Bench:
        def finish(
            self,
            setup: SetUp,
            *,
            abandon: bool = False,
            as_it_is: bool = False,
            notes: Sequence[Note] = (),
        ) -> str:
            assert notes == [KEPT]  # with whichever of them ends it
            calls.append(as_it_is)
            if not as_it_is:
                raise Refused("not-ready", f"set-up {setup.number} is not ready", "tune on")
            return "ended"

    def confirm(text: str, **_: bool) -> bool:
        asked.append(text)
        return answer

    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    monkeypatch.setattr("typer.confirm", confirm)
    setup = make_setup(make_plan(), AT)
    if answer:
        assert ending._ended(Bench(), setup, [KEPT], abandon=False, as_it_is=False) == "ended"  # type: ignore[arg-type, comparison-overlap]
    else:
        with pytest.raises(Refused):
            ending._ended(Bench(), setup, [KEPT], abandon=False, as_it_is=False)  # type: ignore[arg-type]
    assert calls == ([False, True] if answer else [False])
    assert asked == ["Set-up 1 is not ready. End it as it is, never to be taken for good?"]


def test_an_end_as_it_is_is_named_everywhere(shop: Shop) -> None:
    shop.started("--pitch 22.6 --tails 6").words("cut tight")
    found = shop.json("finish --as-it-is")
    assert (found["status"], found["ended"], found["standing"]) == (
        "finished",
        "as it is",
        "tuning",
    )
    assert shop.json("review")["setups"][0]["ended"] == "as it is"
    assert (
        "ended as it is" in shop.words("review").out
        and "ended as it is" in shop.words("show 1").out
    )
    assert "remembered for the next one" not in shop.words("next --setup 1").out
    job = shop.json("stops --setup 1")
    assert job["ended"] == "as it is" and "ended-as-it-is" in by_code(job["notices"])
    assert shop.words("stops --setup 1").out.startswith("NOT SETTLED")


def test_it_is_no_base_without_a_word(shop: Shop) -> None:
    shop.started("--pitch 22.6").words("cut good")
    shop.words("finish --as-it-is")
    assert "not-good" in by_code(shop.json("recover --from 1")["notices"])
    found = shop.json("start --pitch 22.6")
    assert (
        "not-good" in by_code(found["notices"])
        and "stops can stay" not in by_code(found["reasons"])["height-from"]
    )
    shop.words("cut good, centred, flush")
    shop.words("finish")
    again = shop.json("start --pitch 22.6")
    assert (
        "not-good" not in by_code(again["notices"])
        and "set-up 2" in by_code(again["reasons"])["height-from"]
    )


def test_it_teaches_only_what_its_pieces_say(shop: Shop) -> None:
    """Without a piece: nothing at all."""
    shop.stocked()
    fresh = shop.json("start --pitch 22.6")
    shop.words("finish --as-it-is")
    again = shop.json("start --pitch 22.6")
    for key in ("settings", "misfit", "chance_good"):
        assert again[key] == fresh[key]


# --- what ended how -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("outcome", "marked", "cuts", "how"),
    [
        (None, False, [GOOD], None),
        ("finished", False, [GOOD], "good"),
        ("finished", True, [GOOD], "as it is"),
        ("abandoned", False, [GOOD], "abandoned"),
        ("finished", False, [], "as it is"),
        ("finished", False, [make_cut(1, AT, "tight")], "as it is"),
        (
            "finished",
            False,
            [make_cut(1, AT, say("fit", "slightly loose", 0.4))],
            "good",
        ),  # measured: it may be inside
        ("finished", False, [make_cut(1, AT, "tight"), make_cut(2, AT, "good")], "good"),
    ],
)
def test_how_a_set_up_ended(outcome: Any, marked: bool, cuts: Any, how: str | None) -> None:
    """Older logs finished without a question: what ended without a piece or on a tight one was no
    good end either.
    """
    setup = make_setup(make_plan(), AT, cuts, outcome=outcome, as_it_is=marked)
    assert ended(setup) == how
    row = review_row(setup, setup.outcome or "tuning")
    found = advise(setup, History())
    assert row["ended"] == advice_document(setup, found, Ruler())["ended"] == how
    assert bool(list(not_a_good_base(setup))) == (how in ("as it is", "abandoned"))


def test_the_words_of_every_end() -> None:
    for how, text in (
        ("as it is", "Ended as it is, short of ready"),
        ("abandoned", "Abandoned."),
        ("good", "Finished"),
    ):
        row = said(
            Standing("ready" if how == "good" else "tuning", how, 0.9 if how == "good" else None)
        )  # type: ignore[arg-type]
        assert row.headline.startswith(text)
        assert ("these settings were good" in row.below) == (how == "good")
    assert (
        unsettled(Standing("ready", None, 0.9)) == "" == unsettled(Standing("confirm", "good", 0.5))
    )
    for never in (
        Standing("tuning", None),
        Standing("tuning", "as it is"),
        Standing("ready", "abandoned", 0.9),
    ):
        assert unsettled(never).startswith("NOT SETTLED")


def test_a_repeat_prefers_what_ended_good() -> None:
    """Of two alike, the newer ended as it is: the older one's stops can stay; alone it is only
    named.
    """
    plan, later = make_plan(), STARTED + timedelta(days=1)
    one = replace(make_setup(plan, AT, [GOOD], 1, outcome="finished"), started=STARTED)
    other = make_setup(plan, AT, [GOOD], 2, outcome="finished", as_it_is=True)
    both, alone = History([one, replace(other, started=later)]), History([other])
    assert both.last_like(plan) == 1 and both.like(plan) is one
    assert alone.last_like(plan) is None and alone.like(plan) is other


# --- one standing ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fit", "together", "code"),
    [
        (0.95, 0.86, "ready"),
        (0.95, 0.5, "weak"),
        (0.95, 0.22, "weak"),
        (0.7, 0.5, "confirm"),
        (0.36, 0.3, "confirm"),
        (0.95, 0.05, "doubted"),
        (0.3, 0.05, "doubted"),
    ],
)
def test_one_decision_is_behind_headline_note_sheet_and_json(
    fit: float, together: float, code: str
) -> None:
    """Ready: these settings are good" never stands beside 50 %, nor "READY" on the sheet, and no
    front asks for a piece that another one says is not worth its wood.
    """
    setup, found = with_chances(fit, together)
    how = standing(setup, found)
    assert how.code == code == advice_document(setup, found, Ruler())["standing"]
    assert how.chance == together and how.more == (code in ("doubted", "confirm"))
    assert advice_document(setup, found, Ruler())["chance_real"]["all"] == together
    head, row = headline(setup, found, 2), said(how)
    assert ("these settings are good" in head) == (code == "ready") == (row.word == "READY")
    assert ("one more" in head) == how.more
    assert f"{together:.0%}" in row.below or code == "doubted"
    assert re.search(rf"all lie inside their windows: {together:.0%}", printed(setup, found))


@pytest.mark.parametrize(("fit", "together"), [(0.95, 0.86), (0.95, 0.05), (0.5, 0.4), (0.95, 0.4)])
def test_the_note_says_what_the_headline_says(
    fit: float, together: float, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The whole advice, with the chances of the real boards put in where they are asked for."""
    rest = (together / fit) ** 0.5
    real = {"fit": fit, "centre": rest, "seat": rest, "all": together}
    for where in ("domain.standing", "advice.reasons"):
        monkeypatch.setattr(f"fitlog.{where}.chances_of", lambda _: real)
    setup = make_setup(make_plan(), AT, [GOOD])
    found = advise(setup, History())
    notes = by_code([{"code": n.code, "text": in_words(n)} for n in found.notices])
    text = notes.get("confirm") or notes["confirmed"]
    assert (
        ("is worth its wood" in text)
        == standing(setup, found).more
        == ("one more" in headline(setup, found, 2))
    )
    assert f"{fit:.0%}" in text


def test_every_code_has_its_words() -> None:
    for code, row in _OPEN.items():
        text = " ".join(said(Standing(code, None, 0.5, "seat"), 3))  # type: ignore[arg-type]
        assert "{" not in text and "None" not in text, code
        assert len(row.word) <= 15
    assert set(_ENDED) == {"good", "as it is", "abandoned"}


def test_a_finish_that_the_figures_doubt_is_not_called_good() -> None:
    setup, found = with_chances(0.3, 0.22)
    over, advice = replace(setup, outcome="finished"), replace(found, status="finished")
    row = said(standing(over, advice))
    assert "22%" in row.headline and "22%" in row.below and "good" not in row.below


def test_open_aspects_are_tuning_whatever_the_end() -> None:
    setup, found = settled(settled=("fit", "centre"), status="tuning")
    assert standing(setup, found).code == "tuning" and standing(setup, found).chance is None
    over = standing(replace(setup, outcome="finished"), replace(found, status="finished"))
    assert not over.settled and unsettled(over).startswith("NOT SETTLED")


def test_the_stops_and_the_page_take_the_same_standing(shop: Shop) -> None:
    shop.started("--pitch 22.6 --tails 6").words("cut good, centred, flush")
    found, job = shop.json("next"), shop.json("stops")
    assert (
        job["standing"] == found["standing"] and found["standing"] == "confirm"
    )  # by one word of a bit not met yet
    assert "one more in the real stock first is worth its wood" in shop.words("next").out
    assert not shop.words("stops").out.startswith("NOT SETTLED")


@pytest.mark.parametrize("option", ["", "--json", "--csv -"])
def test_unsettled_stops_say_so_first(shop: Shop, option: str) -> None:
    shop.started("--pitch 22.6 --tails 6").words("cut tight")
    result = shop.words(f"stops {option}")
    first = result.err if option else result.out
    assert first.startswith("NOT SETTLED: the set-up is still being tuned")


# --- the real boards' settings --------------------------------------------------------------------


def test_finish_review_and_show_give_the_real_boards_settings(shop: Shop) -> None:
    """Scrap 80 mm wide and 14 thick for boards of 150 and 17: the fence stands 35 mm further out,
    the socket 3 mm deeper.
    """
    shop.started("--pitch 22.6 --tails 6 --scrap-width 80mm --scrap-thickness 14mm")
    found = shop.json("cut good, centred, flush")
    last = found["last"]["settings"]
    carried = {
        **last,
        "fence_offset": last["fence_offset"] + 35,
        "socket_depth": last["socket_depth"] + 3,
    }
    real = found["real"]  # which may also take off what is known of the centre
    assert real == pytest.approx(carried, abs=0.05)
    assert "real-board" not in by_code(found["notices"])  # the answer itself says it
    ready = " ".join(shop.words("next").out.split())
    fence = f"fence offset {real['fence_offset']:.2f} mm"
    assert f"For the real boards set bit height {real['bit_height']:.2f} mm, {fence}" in ready
    assert "these settings are good" not in ready
    done = shop.words("finish").out
    assert f"{real['fence_offset']:.2f} mm" in done and f"{last['fence_offset']:.2f} mm" not in done
    row = shop.json("review")["setups"][0]
    assert row["settings"] == pytest.approx(carried, abs=1e-3)
    assert shop.json("stops")["settings"] == pytest.approx(real, abs=1e-3)


def test_what_the_real_boards_want_is_said_where_it_is_not_the_last_pieces() -> None:
    """`proud 0.15` may settle the seat; 0.1 deeper is still the better depth."""
    setup, found = settled()
    assert "For the real boards" not in printed(setup, found)
    deeper = found.settings.changed(socket_depth=found.settings["socket_depth"] + 0.1)
    better = replace(found, real=deeper)
    text = printed(setup, better)
    depth = f"socket depth {deeper['socket_depth']:.2f} mm"
    assert f"For the real boards set bit height 8.70 mm, fence offset 75.00 mm, {depth}" in text
    assert (
        "settings named for them" in headline(setup, better, 2)
        or standing(setup, better).code != "ready"
    )
    assert advice_document(setup, better, Ruler())["real"]["socket_depth"] == pytest.approx(
        deeper["socket_depth"], abs=1e-4
    )


@pytest.mark.parametrize(("outcome", "marked"), [("finished", True), ("abandoned", False)])
def test_what_ended_short_of_ready_shows_what_it_ended_at(outcome: Any, marked: bool) -> None:
    """Not what would have come next; and the stops' zero is of that fence."""
    setup = make_setup(
        make_plan(), AT, [make_cut(1, AT, "tight", "gap far")], outcome=outcome, as_it_is=marked
    )
    found = advise(setup, History())
    next_ = replace(
        found,
        real=AT.changed(bit_height=8.3, fence_offset=74.8),
        zero=Misfit(0.01, 0.03, (-0.04, 0.06)),
    )
    assert (
        for_real_boards(setup, next_) == AT
        and review_row(setup, outcome)["settings"]["bit_height"] == 8.7
    )
    error = zero_error(next_, AT)
    assert (
        error is not None
        and error.mean == pytest.approx(0.21)
        and error.interval90 == pytest.approx((0.16, 0.26))
    )


def test_the_threshold_is_what_a_spoiled_joint_costs(monkeypatch: pytest.MonkeyPatch) -> None:
    setup, found = with_chances(0.85, 0.84)
    assert standing(setup, found).code == "ready"
    monkeypatch.setattr(defaults, "SPOILED_JOINT", 10.0)
    assert standing(setup, found).code == "confirm"
