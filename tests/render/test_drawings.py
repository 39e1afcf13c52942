"""What is drawn of each joint: every setting at its own length, true to scale, nothing beyond the
paper; the same data as an SVG of its own.

No outside source: a drawing is held against the set-up's own settings, read back out of the SVG.
"""

from __future__ import annotations

import math
import random
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from building import STARTED
from jobs import DOVETAIL, FINE, JOINTS, begun, job_of
from papers import check_pages

from fitlog.advice.craft import craft_for, craft_of
from fitlog.advice.history import History
from fitlog.domain import SetUp, Stock
from fitlog.domain.drawing import Area, Drawing, oblong
from fitlog.families.boards import Job
from fitlog.families.drawing import drawings_of
from fitlog.families.half_blind.names import HEIGHT
from fitlog.families.housing.plan import HousingPlan
from fitlog.families.wanted import Wanted
from fitlog.language.units import Ruler
from fitlog.newfile import place_of
from fitlog.render.documents.sheet import sheet_document
from fitlog.render.drawing import hatched, lettered, picture
from fitlog.render.onscreen import svg
from fitlog.render.sheet import draw
from fitlog.render.sheet.label import label
from fitlog.render.sheet.paper import PAPERS, Words

SVG = "{http://www.w3.org/2000/svg}"
MM = 25.4 / 72  # of a point
RULERS = (Ruler("mm"), Ruler("fraction"))


def housings(joint: str) -> int | None:
    return 3 if joint == "housing" else None


def job(joint: str, **said: Any) -> Job:
    return job_of(begun(joint, **said), housings(joint))


def lines_of(path: Path) -> dict[str, float]:
    """The length, mm, of every line in an SVG of the drawing library that has a name."""
    found = {}
    for group in ElementTree.parse(path).iter(f"{SVG}g"):
        name, one = group.get("id", ""), group.find(f"{SVG}path")
        if name.startswith("dim-") and one is not None:
            numbers = [float(n) for n in one.get("d", "").replace("M", "").split("L")[0].split()]
            numbers += [float(n) for n in one.get("d", "").split("L")[1].split()]
            found[name.removeprefix("dim-")] = math.dist(numbers[:2], numbers[2:4]) * MM
    return found


@pytest.mark.parametrize("joint", JOINTS)
def test_every_setting_is_drawn_at_its_own_length(joint: str, tmp_path: Path) -> None:
    """On paper, by the SVG itself: one unit is one millimetre."""
    made, target = job(joint), tmp_path / "sheet.svg"
    pages, names = draw.drawn(made, "a4", RULERS[0], place_of(str(target), over=False), over=False)
    facts = sheet_document(made, pages, "a4", names)
    on_page = [lines_of(Path(name)) for name in names]
    for one in facts["dimensions"]:
        drawn = on_page[one["page"] - 1][one["letter"]]
        (x, y), (far, low) = one["from"], one["to"]
        assert drawn == pytest.approx(math.dist((x, y), (far, low)), abs=0.01)
        if not one["name"].startswith("housing"):  # the side is too long for the paper
            assert drawn == pytest.approx(one["length"], abs=0.01), one
    settings = {one["setting"]: one["length"] for one in facts["dimensions"] if one["setting"]}
    assert settings == pytest.approx(dict(made.settings), abs=1e-3)


@pytest.mark.parametrize(("paper", "ruler"), [*zip(PAPERS, RULERS, strict=True)])
@pytest.mark.parametrize("joint", JOINTS)
def test_nothing_leaves_the_paper_and_no_words_meet(joint: str, paper: str, ruler: Ruler) -> None:
    pages = check_pages(job(joint), paper, ruler)
    told = " ".join(m.text for page in pages for m in page.marks if isinstance(m, Words))
    assert ("mm" in told) == (ruler.units == "mm")


@pytest.mark.parametrize("ruler", RULERS, ids=lambda ruler: ruler.units)
@pytest.mark.parametrize("joint", JOINTS)
def test_a_drawing_is_an_svg_of_its_own(joint: str, ruler: Ruler) -> None:
    made = job(joint)
    for drawing in drawings_of(made):
        root = ElementTree.fromstring(svg(drawing, ruler, 190.0))
        left, top, wide, high = map(float, root.get("viewBox", "").split())
        assert (left, top) == (0, 0) and root.get("width") == f"{wide:.2f}mm"
        letters = lettered([drawing])
        lengths = {
            line.get("data-line", "").removeprefix("dim-"): math.dist(*points(line))
            for line in root.iter(f"{SVG}polyline")
            if line.get("data-line")
        }
        scales = [lengths[letters[one.name]] / one.size for one in drawing.dimensions]
        scale = max(scales)  # of what is not broken; the figure of what is is the true one
        for one, drawn in zip(drawing.dimensions, scales, strict=True):
            assert drawn == pytest.approx(scale, rel=1e-3) or (drawn < scale and one.size > 26)
        for mark in (*root.iter(f"{SVG}polyline"), *root.iter(f"{SVG}polygon")):
            for x, y in points(mark):
                assert 0 <= x <= wide and 0 <= y <= high
        told = " ".join(text.text or "" for text in root.iter(f"{SVG}text"))
        assert ("mm" in told) == (ruler.units == "mm")
        assert "full size" not in told, "no screen is true to scale"
        assert all(one.name in told for one in drawing.dimensions)


def half_blind() -> Job:
    """A board whose passes lie far from the fence, as in most shops."""
    ash = Stock("wood", "ash (invented)", 18.0, 150.0)
    wanted = Wanted(DOVETAIL, ash, ash, None, "half-blind dovetail", {})
    plan = craft_for(wanted.joint).plan_of(wanted, (), History(), "")
    first = craft_of(plan).first_settings(plan, History())
    return job_of(SetUp(1, plan, first, first, STARTED))


@pytest.mark.parametrize("joint", [*JOINTS, "half-blind dovetail"])
@pytest.mark.parametrize("width", [58.0, 66.0])
def test_on_a_screen_the_work_fills_the_room(joint: str, width: float) -> None:
    """A long title, a board far from the fence: neither makes a dot of it; every figure is true."""
    made = half_blind() if joint == "half-blind dovetail" else job(joint)
    for drawing in drawings_of(made):
        told = svg(drawing, RULERS[0], width)
        root = ElementTree.fromstring(told)
        drawn = [p for m in root.iter(f"{SVG}polygon") for p in points(m)]
        wide, high = [max(at) - min(at) for at in zip(*drawn, strict=True)]
        assert max(wide / width, high / (1.2 * width)) > 0.6, drawing.title
        assert wide <= width and high <= 1.2 * width + 20
        for one in drawing.dimensions:
            true = one.size if one.reading is None else one.reading
            assert f"{true:.2f} mm" in told


def test_a_drawing_has_the_colours_of_the_page() -> None:
    """No black and no white of its own, which is a slab on a dark screen."""
    told = svg(drawings_of(half_blind())[0], RULERS[0], 66.0)
    root = ElementTree.fromstring(told)
    for mark in root.iter():
        paper = mark.get("class") == "paper"
        assert mark.get("fill") in ({"#fff"} if paper else {None, "none", "currentColor"})
        assert mark.get("stroke") in (None, "currentColor")


def test_a_socket_is_open_to_the_end_it_is_cut_from() -> None:
    """The bit stands in no wood: between it and the end there is none as high as it."""
    made = half_blind()
    pins = drawings_of(made)[1]
    wood, bit = (next(a for a in pins.areas if a.of == of) for of in ("second", "cutter"))
    highest = min(y for _, y in bit.points)
    assert [y for x, y in wood.points if x == 0.0] == [
        -made.setup.plan.pin_thickness,
        pytest.approx(highest),
    ]
    assert wood.points[-1] == (0.0, pytest.approx(-made.settings[HEIGHT]))


def points(mark: Any) -> list[tuple[float, float]]:
    """The points of a line or an outline."""
    pairs = (pair.split(",") for pair in mark.get("points", "").split())
    return [(float(x), float(y)) for x, y in pairs]


def test_a_scale_of_the_machines_own_stands_beside_the_true_length() -> None:
    made = job("lock-mitre", machine=FINE)
    shown = svg(drawings_of(made)[0], RULERS[0])
    true, dial = made.settings["height"], made.settings.on_scale(FINE)["height"]
    assert f"{dial:.2f} mm on the scale, {true:.2f} mm true" in shown


def test_a_side_too_long_for_the_paper_is_drawn_smaller_and_says_so() -> None:
    made = job("housing")
    assert isinstance(made.setup.plan, HousingPlan)
    along = drawings_of(made)[1]
    shown = picture(along, lettered([along]), lambda *_: 10.0, 189.0, 150.0)
    assert shown.scale == 0.25 and shown.width <= 189.0
    assert any(isinstance(m, Words) and "0.25 x full size" in m.text for m in shown.block.marks)


@pytest.mark.parametrize("joint", JOINTS)
def test_a_label_has_the_joint_and_its_settings(joint: str) -> None:
    made = job(joint)
    with draw.set_up():
        page = label(made, 70.0, 50.0, RULERS[0], draw.measure)
    told = " ".join(mark.text for mark in page.marks if isinstance(mark, Words))
    dial = made.settings.on_scale(made.setup.plan.machine)
    assert joint in told and all(f"{value:.2f} mm" in told for value in dial.values())
    assert max(m.size for m in page.marks if isinstance(m, Words)) >= 8.0


def test_hatching_stays_in_its_outline_and_fills_it() -> None:
    """Random outlines of steps, seeded: 40 of them; the lines' length times their distance is the
    area, but for what the two ends of each pattern miss.
    """
    dice = random.Random(11)
    for _ in range(40):
        steps = [dice.uniform(2.0, 30.0) for _ in range(6)]
        xs = [0.0, *(sum(steps[:n]) for n in range(1, 7))]
        tops = [dice.uniform(0.0, 20.0) for _ in range(6)]
        outline = [(0.0, 40.0)]
        for n, top in enumerate(tops):
            outline += [(xs[n], top), (xs[n + 1], top)]
        outline += [(xs[6], 40.0)]
        area = sum(step * (40.0 - top) for step, top in zip(steps, tops, strict=True))
        for way in (1.0, -1.0):
            lines = list(hatched(outline, way, 0.5))
            assert sum(math.dist(*line) for line in lines) * 0.5 == pytest.approx(area, rel=0.03)
            for line in lines:
                for x, y in line:
                    assert -1e-9 <= x <= xs[6] + 1e-9 and min(tops) - 1e-9 <= y <= 40.0 + 1e-9


def test_a_box_holds_all_that_is_drawn() -> None:
    made = Drawing("two", (oblong(-3.0, 1.0, 2.0, 8.0), Area(((0, 0), (9, 4), (1, 2)), "cutter")))
    assert made.box == (-3.0, 0, 9, 8.0)
