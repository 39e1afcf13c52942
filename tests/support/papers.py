"""Jobs and pages for the tests of what is printed: seeded boards, and what the drawing library
itself measures for each text.
"""

from __future__ import annotations

import math
import random
from dataclasses import replace
from datetime import timedelta
from itertools import combinations
from typing import Any

from building import STARTED, make_cut, make_plan, make_setup
from tables import table

from fitlog.domain import Bit, Plan, Remark, Settings, Stock
from fitlog.domain.standing import Standing
from fitlog.families.boards import Job as AnyJob
from fitlog.families.half_blind import geometry as half_blind
from fitlog.families.half_blind.layouts import layout_of, stops
from fitlog.families.half_blind.layouts.job import Job
from fitlog.families.half_blind.layouts.work import rabbet
from fitlog.families.half_blind.names import say, set_to
from fitlog.language.units import UNITS, Ruler
from fitlog.render.sheet import draw, pages
from fitlog.render.sheet.paper import PAPERS, Words
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
    job: AnyJob, paper: str, ruler: Ruler, written: Written = NOTHING
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
