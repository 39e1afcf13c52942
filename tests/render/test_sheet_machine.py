"""What of the sheet is read at the machine is large enough to be read there; what a person wrote,
the schedule and the warnings are on it, and nothing meets.
"""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest
from building import make_plan
from papers import boxes, check_pages, drawn_job, job_of
from shop import Shop

from fitlog.domain import Bit, remark
from fitlog.families.half_blind.layouts.job import Job
from fitlog.families.half_blind.names import set_to
from fitlog.families.half_blind.widths import widths
from fitlog.families.telling import say
from fitlog.language.units import Ruler
from fitlog.log import open_log
from fitlog.render.half_blind import hands, sheet, stick
from fitlog.render.sheet import draw, pages
from fitlog.render.sheet.paper import LEAST, PAPERS, Block, Line, Page, Words, filled
from fitlog.render.sheet.ticked import schedule
from fitlog.render.sheet.written import Written
from fitlog.service.boards import for_sheet
from fitlog.service.session import Session

LARGE = 10.0  # points, for who stands before the machine
MACHINE = {"height-turn": "1.6", "fence-step": "0.05", "height-zero": "0.3"}
CUTS = ("tight, gap far 0.5, proud 0.5", "slightly loose 0.4, centred, shy 0.2", "good, flush")


def words_of(made: tuple[Page, ...]) -> list[Words]:
    return [mark for page in made for mark in page.marks if isinstance(mark, Words)]


def sizes_of(made: tuple[Page, ...], text: str) -> list[float]:
    """The sizes of type in which a text stands."""
    return [mark.size for mark in words_of(made) if mark.text == text]


def drawer(shop: Shop, line: str = "--tails 6", units: str = "mm") -> tuple[Job, Ruler]:
    """A tuned set-up's job as the sheet gets it, and its ruler."""
    shop.started(line, machine=MACHINE)
    shop.words(f"prefer --units {units}")
    for cut in CUTS:
        shop.words("cut " + re.sub(r"(0\.\d)", r"\1mm", cut))
    with open_log(shop.db, create=False) as log:
        setup, bench = Session(log, "maker").at(None)
        job = for_sheet(bench, setup, None)
        assert isinstance(job, Job)
        return job, Ruler(units)


@pytest.mark.parametrize("seed", [0, 3, 5])
def test_what_is_read_at_the_machine_is_large(seed: int) -> None:
    job, paper, ruler = drawn_job(seed)
    with draw.set_up():
        made = pages.sheet(job, paper, ruler, draw.measure)
    settings = [ruler.length(v) for v in job.settings.on_scale(job.setup.plan.machine).values()]
    fences = [ruler.length(stop.setting, bare=True) for stop in job.stops.stops]
    rabbets = [ruler.length(p.fence, bare=True) for p in job.rabbet if p.fence is not None]
    for text in (*settings, *fences, *rabbets):
        assert max(sizes_of(made, text)) >= LARGE, text
    for text in ("MARKED EDGE", *hands.CORNERS, "marked edge to the fence"):
        assert sizes_of(made, text) and min(sizes_of(made, text)) >= LARGE, text
    strips = stick.strips(job.layout, made[0].width - 20.6)
    thick = job.setup.plan.pin_thickness
    with draw.set_up():
        drawn = [
            stick.strip_block(job.stops, thick, strips, n, draw.measure) for n in range(len(strips))
        ]
    numbers = [mark for block in drawn for mark in block.marks if isinstance(mark, Words)]
    ticks = {tick.number for side in stick.ticks(job.stops) for tick in side}
    assert ticks <= {mark.text for mark in numbers}
    assert min(mark.size for mark in numbers) >= LARGE
    for line in (*sheet.how_measured(job, ruler), "Rabbet the tails", "Test piece first"):
        found = [m for m in words_of(made) if len(m.text) > 6 and line.startswith(m.text[:16])]
        found = found or [m for m in words_of(made) if m.text.startswith(line)]
        assert found and min(m.size for m in found) >= LARGE, line
    assert min(mark.size for mark in words_of(made)) >= LEAST


@pytest.mark.parametrize("units", ["mm", "fraction"])
def test_the_warnings_of_the_stops_are_on_the_sheet(shop: Shop, units: str) -> None:
    job, ruler = drawer(shop, units=units)
    with draw.set_up():
        made = pages.sheet(job, "a4", ruler, draw.measure)
    text = " ".join(mark.text for mark in words_of(made))
    assert job.cautions and all(say(one, ruler) in text for one in job.cautions)
    known = {one.code for _, steps in job.sections for one in steps}
    for code, said in (
        ("tails-first", "a square block"),
        ("open-edges", "Never open the edge that lies away from the fence"),
        ("open-edges", "hold it in"),
        ("pin-depth", "never take a hand off to reach a switch"),
        ("fence-out", "only moves out"),
        ("rabbet-size", "its inside face to the fence"),
    ):
        assert code in known and said in text, said


def test_mouth_and_tail_are_what_is_known_and_not_what_is_printed_on_the_bit(shop: Shop) -> None:
    job, ruler = drawer(shop)
    known = widths(job.setup, job.past, job.layout, job.settings)
    assert job.layout.mouth - known.mouth.mean > known.window, "the print is off by more"
    told = {letter: value for letter, _, value in sheet.letters(job, ruler)}
    assert told["M"] == ruler.length(known.mouth.mean)
    assert told["T"] == ruler.length(known.tail.mean)
    by = dict(sheet.facts(job, ruler))["M, T, K"]
    assert known.rough and f"+-{ruler.doubt(known.doubt)} (90 %)" in by and "+-0.03 mm" in by
    assert "the log" in by and "--mouth" in by
    made, before = shop.home / "page.pdf", shop.everything()
    facts = shop.json(f"sheet --out {made}")["widths"]
    assert facts["by"] == "log" and facts["mouth"] == pytest.approx(known.mouth.mean, abs=1e-4)
    read = round(known.mouth.mean + 0.05, 2)
    facts = shop.json(f"sheet --mouth {read} --out {made} --force")["widths"]
    assert facts["by"] == "measured" and facts["mouth"] == read
    assert facts["tail"] < known.tail.mean and shop.everything() == before
    with pypdfium2.PdfDocument(made) as book:
        text = book[0].get_textpage().get_text_bounded()
    assert f"{read:.2f} mm" in text and "M measured" in text
    hint = shop.refused("sheet", "--mouth", "4", "--out", str(made), "--force")
    assert "4 mm" in hint and "about 9.0" in hint


def test_a_notice_stands_before_the_stops_in_large_type(shop: Shop) -> None:
    job, ruler = drawer(shop)
    most = remark("far-stops", most=400.0)
    with draw.set_up():
        made = pages.sheet(replace(job, notices=(most,)), "a4", ruler, draw.measure)
    told = say(most, ruler)
    at = [m for m in words_of(made) if m.text and told.startswith(m.text)]
    stops = next(m for m in words_of(made) if m.text.startswith("Stops: where"))
    assert at and at[0].size >= LARGE and at[0].y < stops.y


def test_what_is_written_is_shown_and_what_is_not_has_a_line() -> None:
    job, _, _ = drawn_job(1)
    with draw.set_up():
        empty = pages.sheet(job, "a4", Ruler(), draw.measure)
        told = pages.sheet(job, "a4", Ruler(), draw.measure, WRITTEN)
    for label in ("title", "sample kept", "note"):
        (mark,) = [m for m in words_of(empty) if m.text == label]
        ruled = [
            line
            for line in empty[0].marks
            if isinstance(line, Line) and 0 <= line.points[0][1] - mark.y < 0.5
        ]
        assert ruled and ruled[0].points[1][0] - ruled[0].points[0][0] > 30
    text = " ".join(m.text for m in words_of(told))
    assert WRITTEN.title in text and WRITTEN.kept in text and "cut in spring" in text


WRITTEN = Written(
    title="chest, upper drawers",
    note="cut in spring, before the heating went off; the left side is from another plank",
    kept="box 3 (invented)",
    columns=("board", "end", "edge", "mark", "stops"),
    rows=[
        (f"front {n}", end, edge, mark, "1 and 1*, then 3 to 8, each one after the other" * 2)
        for n in (1, 2)
        for end, edge, mark in (("left", "marked", "FL"), ("right", "other", "FR"))
    ],
)


@pytest.mark.parametrize("paper", PAPERS)
def test_a_sheet_with_all_that_can_be_written_meets_nothing(paper: str) -> None:
    bit = Bit("invented", 14.3, 10.0, 15.0)
    plan = make_plan(bit, pitch=23.6, pin_thickness=18.0, tail_thickness=18.0, moisture=9.0)
    job = job_of(plan, 6, set_to(13.4, 74.95, 12.46), 5, "tuning")
    assert job is not None
    for written in (WRITTEN, WRITTEN._replace(title="W" * 90, kept="w" * 90, note="x " * 300)):
        made = check_pages(job, paper, Ruler("fraction"), written)
        texts = [mark.text for mark in words_of(made)]
        assert texts.count("front 1") == 2 and "edge" in texts
        assert any("moisture 9%" in text for text in texts)


@pytest.mark.parametrize("count", [1, 8, 90])
def test_a_schedule_has_a_box_for_each_row_on_as_many_pages_as_it_takes(count: int) -> None:
    rows = [(f"side {n}", "left", "other", "BL", "stops 1 to 7") for n in range(count)]
    with draw.set_up():
        picture = hands.picture(180.0, draw.measure)
        found = schedule("The boards", WRITTEN.columns, rows, 180.0, 200.0, draw.measure, picture)
    assert all(block.height <= 200.0 for block in found) and (len(found) > 1) == (count > 40)
    ticked = [shape for block in found for shape in block.marks if is_box(shape)]
    assert len(ticked) == count
    told = [m.text for block in found for m in block.marks if isinstance(m, Words)]
    assert [text for text in told if text.startswith("side")] == [row[0] for row in rows]
    assert told.count("edge") == len(found) and told.count("FL") == 1
    for block in found:
        page = Page(180.0, 210.0, block.at(0.0, 5.0))
        with draw.set_up():
            assert all(right <= 180.5 for _, (_, _, right, _) in boxes(page))
    assert min(m.size for b in found for m in b.marks if isinstance(m, Words)) >= 8.5


def is_box(mark: Any) -> bool:
    """A closed square of a box's size."""
    return isinstance(mark, Line) and len(mark.points) == 5 and mark.points[0] == mark.points[4]


def test_no_rows_are_no_schedule() -> None:
    assert schedule("The boards", ("a", "b"), [], 180.0, 200.0, draw.measure) == []


@pytest.mark.parametrize("width", [118.0, 190.0])
def test_the_rule_is_the_one_that_the_stops_tell(width: float) -> None:
    """Seen from outside, the left end of a pin board has the marked edge at the fence: of the front
    that is the left corner, of the back, seen from behind, the right one.
    """
    assert {name for name, marked in hands.CORNERS.items() if marked} == {"FL", "BR"}
    with draw.set_up():
        block: Block = hands.picture(width, draw.measure)
        found = boxes(Page(width, block.height + 2, block.at(0.0, 1.0)))
    assert filled([block]) == block.height < 35
    for text, (left, low, right, top) in found:
        assert left >= -0.1 and right <= width + 0.1 and low >= 0 and top <= block.height + 2, text
    black = [
        mark
        for mark in block.marks
        if not isinstance(mark, Line | Words) and mark.grey == 0.0 and len(mark.points) == 4
    ]
    plan, legend = black[:2], black[2:]
    assert len(plan) == 2 and len(legend) == 1
    (fl, br) = sorted(plan, key=lambda shape: shape.points[0][0])
    assert fl.points[0][1] > br.points[0][1], "front left below, back right above"
