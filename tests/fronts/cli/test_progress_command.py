"""`fitlog progress`: its numbers are those that `next` gave each time, the log stays as it is, a
picture is whole or not.

What a file must begin and end with: SVG 2 and XML 1.0 (W3C), ISO 32000-1 7.5 for PDF, ISO/IEC 15948
for PNG.
"""

from __future__ import annotations

import errno
import os
import re
import struct
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from building import make_cut
from shop import Shop
from terminal import ESCAPE, on_terminal

from fitlog.advice import progress
from fitlog.advice.decision import Decision
from fitlog.advice.history import History
from fitlog.advice.months import by_month
from fitlog.advice.progress import BUDGET, chosen, steps
from fitlog.domain import Bit, SetUp, Stock
from fitlog.families.half_blind.names import set_to
from fitlog.language.units import Ruler
from fitlog.log import Stamp, open_log
from fitlog.render import progress_picture as picture
from fitlog.render.months import explained
from fitlog.render.progress import charts
from fitlog.simulation import plan_for

MACHINE = {"height-turn": "1.6", "fence-step": "0.05", "height-zero": "0.3"}
CUTS = (
    "tight, gap far 0.5, proud 0.5",
    "slightly loose 0.4, centred, shy 0.2 --height 13.1",
    "good, flush",
)


def tuned(shop: Shop) -> list[Any]:
    """A set-up of three pieces; what `next --json` said before each and after the last."""
    shop.started(machine=MACHINE)
    told = [shop.json("next")]
    for line in CUTS:
        shop.words(f"cut {line}")
        told.append(shop.json("next"))
    return told


def over_years(shop: Shop) -> None:
    """Set-ups finished in January 2031 (2 and 1 pieces), April 2031 (3), and one that took until
    2034 (1); one given up.
    """
    bit, stock = Bit("marsh", 13.1, 9.0, 14.0), Stock("elm", "elm (invented)", 17.0, 150.0)
    with open_log(shop.db, create=True) as log:
        log.add_bit(bit)
        log.add_stock(stock)
        plan, first = plan_for(bit, stock, stock, None), set_to(8.0, 75.0, 11.0)
        for day, pieces, wait, outcome in (
            (3, 2, 1, "finished"),
            (9, 1, 2, "finished"),
            (97, 3, 3, "finished"),
            (98, 2, 5, "abandoned"),
            (120, 1, 1100, "finished"),
        ):
            at = datetime(2031, 1, 1, 9, tzinfo=UTC) + timedelta(days=day)
            number = log.start(plan, first, "{}", Stamp("wren", at, None))
            for piece in range(1, pieces + 1):
                words = ("good", "centred", "flush") if piece == pieces else ("tight", None, None)
                log.record(number, make_cut(piece, first, *words), Stamp("wren", at, None))
            log.close(number, outcome, Stamp("wren", at + timedelta(days=wait), None))  # type: ignore[arg-type]


# --- numbers --------------------------------------------------------------------------------------


def test_the_numbers_are_those_that_next_gave(shop: Shop) -> None:
    told = tuned(shop)
    before = shop.everything()
    found = shop.json("progress")
    assert shop.everything() == before, "nothing is stored"
    assert (found["setup"], found["status"], found["pieces"], found["bit"]) == (
        1,
        "ready",
        3,
        "marsh",
    )
    assert len(found["steps"]) == len(told) == 4
    for number, (step, then) in enumerate(zip(found["steps"], told, strict=True)):
        assert step["known_pieces"] == number == then["pieces"]
        assert step["proposed"]["settings"] == then["settings"]
        assert step["proposed"]["chance_good"] == then["chance_good"]
        assert (step["settled"], step["window"]) == (then["settled"], then["window"])
    assert found["steps"][0]["proposed"]["misfit"] == told[0]["misfit"]
    for step, then in zip(found["steps"], told[1:], strict=False):
        assert (
            step["cut"]["settings"] == then["last"]["settings"]
            and step["cut"]["said"] == then["last"]["said"]
        )
    assert (
        found["steps"][-1]["cut"] is None
        and found["steps"][1]["cut"]["settings"]["bit_height"] == 13.1
    )
    assert found["steps"][2]["cut"]["good"] == {"fit": True, "centre": None, "seat": True}
    for step in found["steps"]:
        for belief in step["proposed"]["good_setting"].values():
            assert belief["interval90"][0] < belief["middle"] < belief["interval90"][1]
    shop.words("finish")
    ended = shop.json("progress 1")
    assert ended["status"] == "finished" and ended["steps"] == found["steps"]


def test_a_set_up_learns_from_those_before_it_only(shop: Shop) -> None:
    told = tuned(shop)
    shop.words("finish")
    shop.words("start")
    shop.words("cut good, centred, flush")
    shop.words("finish")
    assert [s["proposed"]["settings"] for s in shop.json("progress 1")["steps"]] == [
        t["settings"] for t in told
    ]
    first, second = (
        shop.json(f"progress {n}")["steps"][0]["proposed"]["good_setting"]["bit_height"]
        for n in (1, 2)
    )
    assert (
        second["interval90"][1] - second["interval90"][0]
        < first["interval90"][1] - first["interval90"][0]
    )


def test_the_months_of_a_log(shop: Shop) -> None:
    over_years(shop)
    found = shop.json("progress --months")
    counted = {m["month"]: (m["setups"], m["pieces"]) for m in found["months"] if m["setups"]}
    assert counted == {"2031-01": (2, 3), "2031-04": (1, 3), "2034-05": (1, 1)}
    assert len(found["months"]) == 41  # January 2031 to May 2034
    january = found["months"][0]
    assert (january["mean_pieces"], january["good_at_once"]) == (1.5, 0.5)
    assert (january["first"]["mean_pieces"], january["later"]["mean_pieces"]) == (2.0, 1.0)
    assert found["months"][1]["mean_pieces"] is None and found["months"][1]["setups"] == 0
    assert found["not_counted"] == {"open": 0, "abandoned": 1, "without_a_piece": 0}
    assert shop.json("progress --months --bit MARSH")["total"] == found["total"]
    shop.words("machine add bench")
    assert shop.json("progress --months --machine bench")["months"] == []
    text = shop.words("progress --months --stock elm").out
    assert "(stock elm)" in text and "for 36 months" in text and "Not counted: 1 abandoned." in text


def long_one(shop: Shop) -> None:
    """A set-up of 56 pieces, of which the fit is tuned."""
    bit, stock = Bit("marsh", 13.1, 9.0, 14.0), Stock("elm", "elm (invented)", 17.0, 150.0)
    with open_log(shop.db, create=True) as log:
        log.add_bit(bit)
        log.add_stock(stock)
        plan = replace(plan_for(bit, stock, stock, None), in_play=("fit",))
        first, now = set_to(8.0, 75.0, 11.0), datetime(2031, 1, 1, 9, tzinfo=UTC)
        number = log.start(plan, first, "{}", Stamp("wren", now, None))
        for piece in range(1, 57):
            at, word = first.changed(bit_height=7.5 + piece / 60), ("tight", "loose")[piece % 2]
            stamp = Stamp("wren", now + timedelta(minutes=5 * piece), None)
            log.record(number, make_cut(piece, at, word), stamp)


def test_a_long_set_up_says_what_it_leaves_out(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    long_one(shop)
    weighed, decide = list[int](), progress.decide

    def watching(so_far: SetUp, past: History) -> Decision:
        weighed.append(len(so_far.cuts))
        return decide(so_far, past)

    def never(*_: object) -> None:
        raise AssertionError("the whole set-up is weighed once more")

    monkeypatch.setattr(progress, "decide", watching)
    monkeypatch.setattr("fitlog.service.bench.advise", never)  # what `status` would ask
    found = shop.json("progress")
    kept, left = chosen(56, BUDGET), 57 - len(weighed)
    assert weighed == list(kept) and left > 3
    assert (found["pieces"], found["pieces_left_out"], found["status"]) == (56, left, "tuning")
    assert [s["known_pieces"] for s in found["steps"]] == list(kept)
    whole = shop.json("progress --all")
    assert (whole["pieces_left_out"], len(whole["steps"])) == (0, 57)
    assert found["steps"] == [whole["steps"][known] for known in kept]
    target = shop.home / "long.svg"
    drawn = shop.run("progress", "--picture", str(target)).out
    told = f"Tuning after 56 pieces. Left out here: {left} pieces; --all has them."
    assert told in " ".join(drawn.split()) and told in target.read_text()
    assert [line.split()[0] for line in drawn.splitlines() if line[:5].strip().isdigit()] == [
        str(known + 1) for known in kept[:-1]
    ]
    assert "Left out" not in shop.words("progress --all").out


# --- words ----------------------------------------------------------------------------------------


def test_a_pipe_gets_plain_stable_lines(shop: Shop) -> None:
    tuned(shop)
    for units in ("mm", "inch", "fraction"):
        shop.words(f"prefer --units {units}")
        one, two = (
            shop.run("progress", env=env).out for env in ({"NO_COLOR": "1"}, {"COLUMNS": "50"})
        )
        assert units != "mm" or shop.process("progress", COLUMNS="50").out == one
        assert one == two and one.isascii() and "\x1b" not in one
        bars = [
            line for line in one.splitlines() if line.startswith(("    1 ", "    2 ", "ready "))
        ]
        assert len(bars) == 3 * 3 and all("X" in b or "o" in b for b in bars)
        assert "slightly loose" in one and "not judged" in one and "Ready after 3 pieces." in one


@pytest.mark.parametrize("columns", [40, 60, 120])
def test_a_terminal_is_never_too_narrow(shop: Shop, columns: int) -> None:
    tuned(shop)
    shop.words("finish")
    for args in (["progress"], ["progress", "--months"]):
        code, shown = on_terminal(shop, *args, columns=columns, LANG="C.UTF-8", PYTHONUTF8="1")
        lines = ESCAPE.sub("", shown).splitlines()
        assert (
            code == 0
            and max(map(len, lines)) < columns
            and "\u2588" in shown
            and "\x1b[1m" in shown
        )
    code, shown = on_terminal(
        shop, "progress", columns=columns, NO_COLOR="1", PYTHONIOENCODING="ascii"
    )
    assert code == 0 and shown.isascii() and "\x1b" not in shown


def test_an_empty_log_says_where_to_begin(shop: Shop) -> None:
    shop.stocked()
    assert "fitlog start" in shop.refused("progress")
    assert "No set-up was finished yet" in shop.run("progress", "--months").out
    assert shop.json("progress --months")["months"] == []
    told = shop.refused("progress", "--months", "--picture", str(shop.home / "months.png"))
    assert "finished" in told and not (shop.home / "months.png").exists()
    shop.words("start")
    assert "Tuning after 0 pieces." in shop.run("progress").out
    assert len(shop.json("progress")["steps"]) == 1


@pytest.mark.parametrize(
    ("line", "code", "why"),
    [
        ("progress 9", 1, "9"),
        ("progress x", 2, "[N]"),
        ("progress 1 --months", 2, "--months"),
        ("progress --months --all", 2, "--all"),
        ("progress --bit marsh", 2, "marsh"),
        ("progress --months --bit marhs", 1, "marsh"),
        ("progress --picture deed.doc", 1, "deed.doc"),
    ],
)
def test_what_cannot_be_is_one_sentence(shop: Shop, line: str, code: int, why: str) -> None:
    shop.started()
    assert why in shop.refused(*line.split(), code=code)


# --- pictures -------------------------------------------------------------------------------------


def check_file(drawn: bytes, ending: str, title: str) -> None:
    if ending == ".svg":
        root = ElementTree.fromstring(drawn)
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert any(title in (e.text or "") for e in root.iter() if e.tag.endswith("title"))
    elif ending == ".pdf":
        assert (
            drawn.startswith(b"%PDF-")
            and drawn.rstrip().endswith(b"%%EOF")
            and drawn.count(b"/Type /Page\n") <= 1
        )
    else:
        assert drawn.startswith(b"\x89PNG\r\n\x1a\n") and drawn.endswith(b"IEND\xaeB`\x82")
        width, height = struct.unpack(">II", drawn[16:24])
        assert 900 <= width <= 2400 and 500 <= height <= 4000


@pytest.mark.parametrize(
    "args", [("progress",), pytest.param(("progress", "--months"), marks=pytest.mark.long)]
)
def test_pictures_are_whole_and_stay_the_same(shop: Shop, args: tuple[str, ...]) -> None:
    tuned(shop)
    shop.words("finish")
    shop.words("bit edit marsh --name m$x^2$<&>")  # no formula, no tag
    for ending in (".svg", ".pdf", ".png"):
        target = shop.home / f"picture{ending}"
        target.write_bytes(b"older")
        assert (
            "--force" in shop.refused(*args, "--picture", str(target))
            and target.read_bytes() == b"older"
        )
        done = shop.run(*args, "--picture", str(target), "--force")
        assert done.err == f"The picture is in {target}.\n" and "pieces" in done.out
        drawn = target.read_bytes()
        check_file(drawn, ending, "month by month" if "--months" in args else "m$x^2$<&>")
        assert shop.run(*args, "--picture", str(target), "--force", "--json").document
        assert target.read_bytes() == drawn
    assert not list(shop.home.glob(".fitlog*"))


def test_a_drawing_that_fails_leaves_the_old_picture(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(self: Any, path: Path, **kwargs: Any) -> None:
        path.write_bytes(b"half")
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    tuned(shop)
    monkeypatch.setattr("matplotlib.figure.Figure.savefig", half)
    target = shop.home / "picture.png"
    target.write_bytes(b"older")
    told = shop.refused("progress", "--force", "--picture", str(target))
    assert (
        "No space left" in told
        and target.read_bytes() == b"older"
        and not list(shop.home.glob(".fitlog*"))
    )


def test_a_set_up_as_a_figure_shows_each_piece(shop: Shop) -> None:
    tuned(shop)
    with open_log(shop.db, create=False) as log:
        setup = log.setup(1)
    found = charts(setup, "ready", steps(setup, History()), Ruler())
    figure = picture.setup_figure(found, "Set-up 1", Ruler())
    assert len(figure.axes) == 3 and figure.get_suptitle() == "Set-up 1"
    for axes, chart in zip(figure.axes, found, strict=True):
        assert [t.get_text() for t in axes.get_yticklabels()] == ["1", "2", "3", "ready"]
        spans = [(p.get_x(), p.get_x() + p.get_width()) for p in axes.patches[1:]]
        assert spans == [pytest.approx((r.low, r.high)) for r in chart.rows]
        assert any("0.50 mm" in t.get_text() or "tight" in t.get_text() for t in axes.texts)
    inches = picture.setup_figure(
        charts(setup, "ready", steps(setup, History()), Ruler("inch")), "Set-up 1", Ruler("inch")
    )
    assert inches.axes[0].patches[1].get_x() == pytest.approx(found[0].rows[0].low / 25.4)
    assert inches.axes[0].get_xlabel() == "bit height, inch"


def test_no_mark_lies_on_the_frame(shop: Shop) -> None:
    """A piece cut at the very end of the axis, and one beyond it: each mark whole inside."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    shop.started(machine=MACHINE)
    shop.words("cut tight, gap far 0.5, proud 0.5 --height 12")
    shop.words("cut loose 0.9, gap near 3 --height 12.9 --fence 78 --yes")
    with open_log(shop.db, create=False) as log:
        setup = log.setup(1)
    found = charts(setup, "tuning", steps(setup, History()), Ruler())
    figure = picture.setup_figure(found, "Set-up 1", Ruler())
    figure.draw(FigureCanvasAgg(figure).get_renderer())
    ends = 0
    for axes, chart in zip(figure.axes, found, strict=True):
        frame, reach = axes.get_window_extent(), 3.5 / 72 * figure.dpi  # half a mark of 7 points
        marks = [line for line in axes.lines if line.get_marker() != "None"]
        assert marks
        for line in marks:
            for x in line.get_xdata():
                ends += min(abs(x - chart.left), abs(x - chart.right)) < 1e-9
                at = axes.transData.transform((x, 0))[0]
                assert frame.x0 + reach < at < frame.x1 - reach, (chart.aspect, x)
    assert ends, "no mark was at an end of its axis: the test shows nothing"


def test_who_has_fractions_reads_the_axis_in_fractions(shop: Shop) -> None:
    tuned(shop)
    with open_log(shop.db, create=False) as log:
        setup = log.setup(1)
    ruler = Ruler("fraction")
    found = charts(setup, "ready", steps(setup, History()), ruler)
    figure = picture.setup_figure(found, "Set-up 1", ruler)
    for axes, chart in zip(figure.axes, found, strict=True):
        low, high = axes.get_xlim()
        shown = list(zip(axes.get_xticks(), axes.get_xticklabels(), strict=True))
        assert 2 <= len(shown) <= 8 and chart.left / 25.4 >= low
        for at, text in ((at, label.get_text()) for at, label in shown):
            assert low <= at <= high
            assert re.fullmatch(r"\d+|(\d+ )?\d+/(2|4|8|16|32|64)", text), text
            whole, _, part = text.rpartition(" ")
            assert float(whole or 0) + float(Fraction(part)) == pytest.approx(at)


def test_a_figure_of_many_pieces_is_no_higher_than_a_file_can_be(shop: Shop) -> None:
    tuned(shop)
    with open_log(shop.db, create=False) as log:
        setup = log.setup(1)
    known = steps(setup, History())
    found = charts(setup, "ready", [*known * 100, known[-1]], Ruler())
    figure = picture.setup_figure(found, "Set-up 1", Ruler())
    assert 150 < figure.get_size_inches()[1] < 200 and len(found[0].rows) == 401
    pitch = 180 / 3 / 401 * 72  # points from row to row
    assert 0 < figure.axes[0].texts[0].get_fontsize() < pitch


def test_months_as_a_figure_leave_empty_ones_empty(shop: Shop) -> None:
    over_years(shop)
    with open_log(shop.db, create=False) as log:
        found = by_month([s for s in log.setups()[::-1] if s.outcome == "finished"])
    pieces, share, number = picture.months_figure(found, {}, {}).axes
    assert {round(p.get_x() + p.get_width() / 2): p.get_height() for p in pieces.patches} == {
        0: 1.5,
        3: 3.0,
        40: 1.0,
    }
    assert dict(zip(*share.lines[0].get_data(), strict=True)) == {0: 50.0, 3: 0.0, 40: 100.0}
    assert sum(p.get_height() for p in number.patches) == 4
    assert explained({"abandoned": 1}).endswith("Not counted: 1 abandoned.")
