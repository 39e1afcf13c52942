"""The sheet's pages over seeded boards, names and units: no text meets another, nothing leaves the
margins, all of it is there.

The boxes are those that the drawing library itself measures for each text. Plain arithmetic for the
strips and the outlines.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from building import make_plan
from papers import check_pages, drawn_job, job_of
from shapely.geometry import Polygon
from tables import table

from fitlog.domain import Bit
from fitlog.families.half_blind import geometry as half_blind
from fitlog.families.half_blind.layouts import Layout, layout_of
from fitlog.families.half_blind.layouts.layout import wide_tails
from fitlog.families.half_blind.names import set_to
from fitlog.language.units import UNITS, Ruler
from fitlog.render.half_blind import outline, stick
from fitlog.render.sheet.paper import PAPERS, Line, Words, wrapped


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
