"""What a plan works out, as plain numbers: pitches, marks, shelves evenly apart."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fitlog.errors import Refused
from fitlog.families.box_steps.planning import pitches
from fitlog.families.fingers.geometry import play_by_steps, width_alike
from fitlog.families.planning import mark_of, nearest, up
from fitlog.families.rows import spread
from fitlog.language.units import UNITS, Ruler

RULERS = tuple(Ruler(units) for units in UNITS)


@given(st.floats(40, 600), st.floats(3, 25), st.floats(0, 0.3))
def test_every_pitch_ends_alike_on_its_board(width: float, bit: float, play: float) -> None:
    """Held against the closed forms of families.md, which polygons check elsewhere."""
    for one in pitches(width, bit, play):
        slot = bit + one.second
        assert play_by_steps(bit, one.second, one.pitch) == pytest.approx(play, abs=1e-9)
        assert width_alike(one.fingers, slot, play) == pytest.approx(width, abs=1e-9)
        assert 0 <= one.second <= bit / 2 and one.finger == pytest.approx(slot - play)


@given(st.floats(40, 600), st.floats(3, 25), st.floats(0, 0.3))
def test_no_pitch_is_missed(width: float, bit: float, play: float) -> None:
    found = {one.fingers for one in pitches(width, bit, play)}
    for fingers in range(1, 110):
        second = ((width + play / 2) / (fingers - 0.5) + play) / 2 - bit
        if 1e-6 < second < bit / 2 - 1e-6:
            assert fingers in found


@given(st.floats(0.1, 3000), st.sampled_from(RULERS))
def test_marks_are_rounded_to(length: float, ruler: Ruler) -> None:
    mark = mark_of(ruler)
    for rounded in (up(length, ruler), nearest(length, ruler)):
        assert rounded / mark == pytest.approx(round(rounded / mark), abs=1e-6)
    assert -1e-5 * mark <= up(length, ruler) - length < mark
    assert abs(nearest(length, ruler) - length) <= mark / 2 + 1e-9


@given(st.floats(200, 3000), st.integers(1, 12), st.floats(6, 40), st.sampled_from(RULERS))
def test_shelves_lie_evenly_and_on_marks(
    side: float, count: int, thick: float, ruler: Ruler
) -> None:
    draft: Any = SimpleNamespace(sizes={"shelves": count}, ruler=ruler)
    try:
        found = list(spread(draft, side, thick))
    except Refused as error:
        assert error.code == "no-layout" and (side - count * thick) / (count + 1) < 10
        return
    clear = [before for _, _, before in found]
    clear.append(side - found[-1][1] - thick)
    # The spacing is on a mark, so that the ends take up to half a mark for each shelf.
    assert max(clear) - min(clear) <= (count / 2 + 2) * mark_of(ruler)
    assert sum(clear) + count * thick == pytest.approx(side)
