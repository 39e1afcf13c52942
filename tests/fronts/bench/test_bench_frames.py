"""What the dialogue draws: large figures, and frames that fit any terminal in any unit.

No outside source: these are promises of the dialogue itself.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from benchwork import ALL, STEADY, at_the_bench
from building import in_words
from hypothesis import given, settings
from hypothesis import strategies as st

from fitlog.advice import advise
from fitlog.advice.history import History
from fitlog.domain import SetUp
from fitlog.families.half_blind.names import HALF_BLIND, WORDS
from fitlog.families.half_blind.notices import before_spoiling
from fitlog.families.half_blind.recipe import recipe
from fitlog.fronts.bench import View, last_word, stand
from fitlog.fronts.bench.figures import ROWS, figures, large
from fitlog.language.units import UNITS, Ruler
from fitlog.render.bench import Scene, frame, pages

# --- large figures --------------------------------------------------------------------------------


def test_every_figure_has_five_even_rows_and_a_look_of_its_own() -> None:
    faces = {char: tuple(large(char)) for char in "0123456789/-+.()minthou"}
    assert len(set(faces.values())) == len(faces)
    for rows in (large(char, wide=wide) for char in faces for wide in (False, True)):
        assert (
            len(rows) == ROWS
            and len({len(row) for row in rows}) == 1
            and set("".join(rows)) <= {"#", " "}
        )


@pytest.mark.parametrize("units", UNITS)
@given(mm=st.floats(-20, 200))
@settings(max_examples=60, **STEADY)
def test_every_length_a_ruler_shows_can_be_set_large_in_80_columns(units: str, mm: float) -> None:
    sizes = figures(Ruler(units).length(mm), 79)
    assert len(sizes[0][0]) == max(len(rows[0]) for rows in sizes)
    assert all(len(rows) == ROWS and len({len(row) for row in rows}) == 1 for rows in sizes)


# --- frames ---------------------------------------------------------------------------------------


def scenes(setup: SetUp, ruler: Ruler) -> list[Scene]:
    """The scene where a set-up stands, and the same while help, a number, a gap or a refusal is on
    the screen.
    """
    at = stand(setup)
    found = advise(setup, History()) if at.at in ("settings", "over") else None
    turn = before_spoiling(setup, History()) if at.at == "centre" else ()
    ready = found is not None and found.status == "ready"
    plain = Scene(
        setup,
        View(HALF_BLIND, at, last_word(setup), ready),
        ruler,
        found,
        {},
        recipe(setup.plan, setup.shown),
        turn,
        "logged: x " * 9,
    )
    views = [
        plain.view,
        replace(plain.view, mode="help", page=1),
        replace(plain.view, mode="gap"),
        replace(plain.view, line="a long refusal " * 20),
        replace(plain.view, mode="finish"),
        replace(
            plain.view, mode="typing", field="walls", typed="123456789", line="a long refusal " * 20
        ),
    ]
    return [replace(plain, view=view) for view in views]


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize(
    "entries", [(), *(ALL[: n + 1] for n in range(4)), ("cut", "good", "flush", "centred")]
)
def test_no_frame_is_larger_than_its_terminal(units: str, entries: tuple[str, ...]) -> None:
    for scene in scenes(at_the_bench(*entries), Ruler(units, 1.5)):
        for width, height in ((79, 24), (79, 12), (43, 20), (43, 24), (131, 50), (19, 6), (60, 22)):
            lines = frame(scene, width, height)
            assert len(lines) <= height and max(map(len, lines)) <= width
            assert all(line.isascii() and line.isprintable() for line in lines)


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize(("width", "height"), [(79, 24), (43, 20)])
def test_every_word_and_the_way_out_are_always_on_the_screen(
    units: str, width: int, height: int
) -> None:
    for entries, aspect in ((ALL[:1], "fit"), (ALL[:2], "seat"), (ALL[:3], "centre")):
        scene = scenes(at_the_bench(*entries), Ruler(units))[0]
        text = "\n".join(frame(scene, width, height))
        for n, word in enumerate(WORDS[aspect], 1):  # type: ignore[index]
            assert f"  {n}  {word}" in text
        assert "q quit" in text and "u undo" in text


@pytest.mark.parametrize("units", UNITS)
def test_a_move_and_its_cautions_are_read_beside_the_figures(units: str) -> None:
    scene = scenes(at_the_bench(*ALL), Ruler(units, 1.5))[0]
    assert scene.advice is not None and scene.advice.moves is not None
    lines = frame(scene, 79, 24)
    text = " ".join(" ".join(lines).split())
    figure = figures(scene.ruler.length(scene.advice.settings["bit_height"]), 79)
    assert any(all(any(row.rstrip() in line for line in lines) for row in rows) for rows in figure)
    assert all(in_words(remark, units) in text for remark in scene.advice.cautions)
    come = in_words(scene.advice.approach["bit_height"], units).split()
    assert set(come) <= set(text.split()) | {"up"}
    assert "turn" in text


def test_the_help_says_everything_in_pages() -> None:
    scene = scenes(at_the_bench(*ALL), Ruler())[0]
    assert scene.advice is not None
    for width, height in ((79, 24), (43, 20)):
        text = " ".join(
            " ".join(" ".join(page[:-1]) for page in pages(scene, width, height)).split()
        )
        said = [*scene.advice.reasons, *scene.advice.cautions]
        assert all(" ".join(in_words(remark).split()) in text for remark in said)
