"""What moisture does to tenons, tongues and laps, against equation 13-2 of the Wood Handbook
(FPL-GTR-190, 2010) worked by hand: red oak moves 0.00369 of its flat-sawn width and 0.00158 of its
quarter-sawn one per cent of moisture (table 13-5). The shop is invented.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from flips_at_work import lap, setup, tenon, tongue

from fitlog.advice.craft import craft_of
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.domain import Plan, Remark, Stock
from fitlog.families import joint_of
from fitlog.families.telling import say
from fitlog.language.units import Ruler

RED = Stock("red oak", "red oak", 20.0, 120.0, sawn="flat")


def told(plan: Plan) -> dict[str, Remark]:
    """What is said of moisture before the first piece."""
    plan = replace(plan, stock=RED, pin_stock=replace(RED, name="other oak"))
    first = craft_of(plan).first_settings(plan, History())
    made = decide(setup(plan, first), History())
    notices = craft_of(plan).notices(made)
    return {r.code: r.of(plan.joint) for r in notices if r.code.startswith("moisture")}


def values(found: Remark) -> dict[str, Any]:
    return dict(found.values)


@pytest.mark.parametrize(
    ("plan", "code", "apart"),
    [
        # width x 0.00369 x 4 % of a year indoors
        (tenon(board_width=120.0), "moisture-tenon", 120 * 0.00369 * 4),
        (tongue(board_width=120.0), "moisture-boarding", 120 * 0.00369 * 4),
        (tongue(board_width=120.0, clear=100.0), "moisture-boarding", 100 * 0.00369 * 4),
        (tongue(board_width=300.0, use="panel"), "moisture-panel", 300 * 0.00369 * 4),
        (lap(depth=60.0), "moisture-lap", 60 * 0.00369 * 4),
    ],
)
def test_a_part_moves_across_its_grain(plan: Plan, code: str, apart: float) -> None:
    assert values(told(plan)[code])["apart"] == pytest.approx(apart, abs=1e-9)


@pytest.mark.parametrize("plan", [tenon(board_width=30.0), lap(depth=15.0)])
def test_a_narrow_part_is_left_alone(plan: Plan) -> None:
    assert told(plan) == {}


@pytest.mark.parametrize(
    ("plan", "core"),
    [(tenon(), 8.0), (tongue(), 6.0), (tongue(passes="one"), 6.0), (lap(), 18.0 / 2)],
)
def test_parts_that_are_not_equally_dry_differ_by_what_is_held(plan: Plan, core: float) -> None:
    """A flat-sawn board is as thick as a quarter-sawn one is wide: 0.00158."""
    half = joint_of(plan).stated_window(plan.family.lead).half
    enough = half / (core * 0.00158)  # per cent, from which on the fit leaves its window
    wet = told(replace(plan, moisture=8.0 + enough + 0.1, pin_moisture=8.0))
    found = values(wet["moisture-parts"])
    assert found["apart"] == pytest.approx(core * 0.00158 * (enough + 0.1), abs=1e-9)
    dry = told(replace(plan, moisture=8.0 + enough - 0.1, pin_moisture=8.0))
    assert "moisture-parts" not in dry and "moisture-parts" not in told(plan)


@pytest.mark.parametrize(
    ("plan", "thick"),
    [(tenon(), 20.0), (tongue(), 36.0), (tongue(passes="one"), 18.0), (lap(), 18.0)],
)
def test_scrap_of_another_moisture_is_of_another_thickness(plan: Plan, thick: float) -> None:
    """Both boards of a groove from both faces count."""
    found = told(replace(plan, moisture=12.0, scrap_moisture=7.0))["moisture-planed"]
    assert values(found)["apart"] == pytest.approx(thick * 0.00158 * 5, abs=1e-9)


def test_sheet_goods_are_not_spoken_of() -> None:
    plan = replace(tongue(), moisture=14.0, pin_moisture=6.0)
    sheet = replace(RED, species="birch plywood")
    plan = replace(plan, stock=sheet, pin_stock=sheet)
    first = craft_of(plan).first_settings(plan, History())
    codes = {r.code for r in craft_of(plan).notices(decide(setup(plan, first), History()))}
    assert not [code for code in codes if code.startswith("moisture")]


def test_it_ends_with_what_to_do() -> None:
    (found,) = told(tenon(board_width=120.0)).values()
    assert say(found, Ruler("mm")) == (
        "A tenon, 120 mm wide, can move 1.77 mm for 4% of moisture, about a year indoors; its "
        "mortise, along the grain, hardly does: glue its middle alone, and leave 0.89 mm free at "
        "either narrow side."
    )
