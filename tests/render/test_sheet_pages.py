"""The sheet's pages over seeded boards, names and units: no text meets another, nothing leaves the
margins, all of it is there.

The boxes are those that the drawing library itself measures for each text. Plain arithmetic for the
strips and the outlines.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import timedelta
from itertools import combinations
from typing import Any

import pytest
from building import STARTED, make_cut, make_plan, make_setup
from shapely.geometry import Polygon
from tables import table

from fitlog.domain import Bit, Plan, Remark, Settings, Stock
from fitlog.domain.standing import Standing
from fitlog.families.half_blind import geometry as half_blind
from fitlog.families.half_blind.layouts import Layout, layout_of, stops
from fitlog.families.half_blind.layouts.job import Job
from fitlog.families.half_blind.layouts.layout import wide_tails
from fitlog.families.half_blind.layouts.work import rabbet
from fitlog.families.half_blind.names import say, set_to
from fitlog.language.units import UNITS, Ruler
from fitlog.render.half_blind import outline, stick
from fitlog.render.sheet import draw, pages
from fitlog.render.sheet.paper import PAPERS, Line, Words, wrapped
from fitlog.render.sheet.written import NOTHING, Written

NAMES = (
    "a",
    "W" * 60,
    "a long name of a board or a bit that fills all sixty characters"[:60],
    "i",
    "ochre 12 mm, no. 7",
)
SAID = (
    ("tight", "gap far", "proud"),
    ("very loose", "gap near", "very shy"),
    (None, None, None),
    ("good", "centred", "flush"),
    (
        say("fit", "slightly loose", 1.234),
        say("centre", "gap far", 0.789),
        say("seat", "slightly proud", 0.123),
    ),
)


def job_of(plan: Plan, tails: int, settings: Settings, cuts: int, status: str) -> Job | None:
    """A job of these boards; None where so many tails don't fit."""
    layout = layout_of(plan.bit, settings["bit_height"], plan.board_width, tails, plan.pitch)
    if layout is None:
        return None
    made = [
        make_cut(n, settings, *SAID[n % len(SAID)], at=STARTED + timedelta(days=n))  # type: ignore[misc]
        for n in range(1, cuts + 1)
    ]
    found = stops(
        layout,
        settings.on_scale(plan.machine)["fence_offset"],
        plan.machine and plan.machine.step("fence"),
    )
    stands = {
        "tuning": Standing("tuning", None),
        "ready": Standing("confirm", None, 0.22, "fit"),
        "finished": Standing("ready", "good", 0.93, "seat"),
        "abandoned": Standing("tuning", "abandoned"),
    }
    notices = (Remark("not-settled"), Remark("ended-as-it-is"))
    setup = make_setup(plan, settings, made)
    how, passes = stands[status], rabbet(plan, found)
    return Job(setup, status, settings, notices, (), how, found, passes, ())


def drawn_job(seed: int) -> tuple[Job, str, Ruler]:
    """Boards of every kind, from a seed."""
    dice = random.Random(seed)
    while True:
        angle, diameter = dice.choice((7.0, 8.0, 10.0, 14.0)), dice.uniform(6.0, 20.0)
        height = dice.uniform(0.5, 0.9) * min(
            (diameter - 3.2) / (2 * math.tan(math.radians(angle))), 26.0
        )
        pitch = half_blind.pitch_for(0.07, diameter, height, math.radians(angle))
        width, name = (
            dice.choice((dice.uniform(25, 190), dice.uniform(100, 700))),
            dice.choice(NAMES),
        )
        bit = Bit(name, diameter, angle, height + 1)
        machine = dice.choice(
            (None, table(dice.choice(NAMES), fence_step=0.05, height_zero=1.23, fence_zero=-4.56))
        )
        stock = Stock(dice.choice(NAMES), dice.choice(NAMES), height + 5, width)
        plan = make_plan(
            bit,
            machine,
            stock=stock,
            pin_stock=dice.choice((stock, replace(stock, name="other"))),
            pitch=pitch,
            board_width=width,
            tail_thickness=height + 5,
            pin_thickness=height + dice.uniform(2.5, 30),
            rabbet_depth=diameter / 2,
            rabbet_bit=dice.choice(("same", "straight")),
        )
        settings = set_to(height, width / 2 + dice.uniform(-0.3, 0.3), 11.11)
        job = job_of(
            plan,
            dice.randint(1, max(1, int(width // pitch))),
            settings,
            dice.choice((0, 1, 5, 9)),
            dice.choice(("tuning", "ready", "finished", "abandoned")),
        )
        if job is not None:
            return (
                job,
                dice.choice(tuple(PAPERS)),
                Ruler(dice.choice(UNITS), dice.choice((None, 1.6))),
            )


def boxes(page: pages.Page) -> list[tuple[str, Any]]:
    """Each text of a page with its box, mm from the left and the bottom."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    figure = draw.figure(page)
    figure.set_dpi(draw.DPI)
    renderer = FigureCanvasAgg(figure).get_renderer()
    scale = 25.4 / figure.dpi
    return [
        (t.get_text(), t.get_window_extent(renderer).extents * scale) for t in figure.axes[0].texts
    ]


def check_pages(
    job: Job, paper: str, ruler: Ruler, written: Written = NOTHING
) -> tuple[pages.Page, ...]:
    with draw.set_up():
        made = pages.sheet(job, paper, ruler, draw.measure, written)
        for page in made:
            found = boxes(page)
            for (one, a), (other, b) in combinations(found, 2):
                over = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
                assert min(over) < 0.15, (one, other, over)
            wide, high = PAPERS[paper]
            for text, (left, low, right, top) in found:
                assert min(left, low, wide - right, high - top) >= 10, text
            for mark in page.marks:
                if not isinstance(mark, Words):
                    for x, y in mark.points:
                        assert 10.1 <= x <= wide - 10.1 and 10.1 <= y <= high - 10.1, mark
    return made


@pytest.mark.parametrize(
    "seed", [*range(6), *(pytest.param(seed, marks=pytest.mark.long) for seed in range(6, 24))]
)
def test_nothing_meets_and_all_is_there(seed: int) -> None:
    job, paper, ruler = drawn_job(seed)
    made = check_pages(job, paper, ruler)
    named = [m.name for page in made for m in page.marks if isinstance(m, Line) and m.name]
    for stop in job.stops.stops:
        assert any(name.startswith(f"{stop.cut.board}-{stop.number}-") for name in named), stop
    words = [m for page in made for m in page.marks if isinstance(m, Words)]
    listed = {w.text for w in words if w.bold}
    assert {ruler.length(stop.setting, bare=True) for stop in job.stops.stops} <= listed
    assert {
        ruler.length(v) for v in job.settings.on_scale(job.setup.plan.machine).values()
    } <= listed


@pytest.mark.parametrize(
    ("paper", "units"),
    [
        pytest.param(
            paper, units, marks=[] if (paper, units) == ("letter", "fraction") else pytest.mark.long
        )
        for paper in PAPERS
        for units in UNITS
    ],
)
def test_two_hundred_tails_and_fences_in_fractions(paper: str, units: str) -> None:
    """As many as a set-up may have: 200 tails, 401 stops, on the widest board there is."""
    bit = Bit("fine", 6.0, 7.0, 9.0)
    plan = make_plan(
        bit,
        pitch=half_blind.pitch_for(0.07, 6.0, 8.0, bit.theta),
        board_width=2000.0,
        rabbet_depth=3.0,
        tail_thickness=12.0,
        pin_thickness=12.0,
    )
    job = job_of(plan, 200, set_to(8.0, 1000.0, 4.0), 5, "ready")
    assert job is not None and len(job.stops.stops) >= 400
    made = check_pages(job, paper, Ruler(units))
    texts = [m.text for page in made for m in page.marks if isinstance(m, Words)]
    assert texts.count("Set-up 1") == 1 and f"page {len(made)} of {len(made)}" in texts


@pytest.mark.parametrize("paper", PAPERS)
def test_a_drawer_and_five_trial_cuts_take_one_page(paper: str) -> None:
    bit = Bit("invented", 14.3, 10.0, 15.0)
    plan = make_plan(
        bit, table("bench", fence_step=0.05), pitch=23.6, pin_thickness=18.0, tail_thickness=18.0
    )
    job = job_of(plan, 6, set_to(13.4, 74.95, 12.46), 5, "ready")
    assert job is not None
    assert len(check_pages(replace(job, notices=()), paper, Ruler())) == 1


# --- arithmetic -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("width", "count"), [(100, 1), (187, 1), (188, 2), (354, 2), (355, 3), (600, 4)]
)
def test_strips_by_hand(width: float, count: int) -> None:
    """On 189 mm of paper with 1 mm left at both ends, n strips that overlap by 20 reach 187 n - 20
    (n - 1) = 167 n + 20.
    """
    found = stick.strips(wide_tails(Bit("invented", 14.3, 10.0, 15.0), 13.4, width, 3, 23.6), 189.0)
    assert len(found) == count and width <= 167 * count + 20
    assert found[0].start == 0 and found[-1].end == pytest.approx(width)
    assert all(
        strip.left >= 1 and strip.left + strip.end - strip.start <= 188 + 1e-9 for strip in found
    )


@pytest.mark.parametrize("tails", [1, 3, 5, 6])
def test_the_drawn_boards_fit_into_each_other(tails: int) -> None:
    """As polygons (shapely): drawn together they share no more than the joint's interference, and
    leave only its play.
    """
    bit, height, width = Bit("invented", 14.3, 10.0, 15.0), 13.4, 150.0
    layout = layout_of(
        bit, height, width, tails, half_blind.pitch_for(0.07, 14.3, height, bit.theta)
    )
    assert isinstance(layout, Layout)
    tail, pin = (
        Polygon(outline.cut_off(outline.outline(layout, spans, *ys), 0.0, width)).buffer(0)
        for spans, ys in (
            (outline.tail_spans(layout), (height, 0.0, -5.0)),
            (outline.pin_spans(layout), (0.0, height, 18.0)),
        )
    )
    assert tail.intersection(pin).area < 1e-6
    # Each tail leaves a strip of half the play, measured along the board, at both flanks over the
    # whole height.
    hollow = width * (18.0 + 5.0) - tail.union(pin).area
    assert hollow == pytest.approx(tails * 0.07 * height, rel=1e-6)


def test_lines_of_text_keep_a_length_together() -> None:
    lines = wrapped(
        "one socket 19/32 in (0.587) deep", 20.0, 1.0, lambda text, size, bold: float(len(text))
    )
    assert lines == ["one socket", "19/32 in (0.587)", "deep"]
    assert wrapped("W" * 45, 20.0, 1.0, lambda text, size, bold: float(len(text))) == [
        "W" * 20,
        "W" * 20,
        "W" * 5,
    ]
