"""Several sizes in one text: a comma is a decimal sign where it can be nothing else, and is asked
about where it may be either.
"""

from __future__ import annotations

import pytest

from fitlog.errors import FitlogError
from fitlog.service import limits
from fitlog.service.reader import Reader
from fitlog.service.reader.layouts import several


@pytest.mark.parametrize(
    ("texts", "sizes"),
    [
        (["90"], [90]),
        (["90", "140"], [90, 140]),
        (["90,140"], [90, 140]),
        (["90, 140"], [90, 140]),
        (["90;140"], [90, 140]),
        (["90 and 140"], [90, 140]),
        (["90,140,190"], [90, 140, 190]),
        (["90.5,140.25"], [90.5, 140.25]),
        (["90,5"], [90.5]),
        (["90,5; 140,5"], [90.5, 140.5]),
        (["90,5", "140,5"], [90.5, 140.5]),
        (["90mm,140mm"], [90, 140]),
        (["90,140 mm"], [90, 140]),
        (["3-1/2in,5-1/2in"], [88.9, 139.7]),
        (["3 1/2, 5 1/2"], [88.9, 139.7]),
    ],
)
def test_sizes_in_mm(texts: list[str], sizes: list[float]) -> None:
    assert several(Reader(), texts, limits.BOARD_WIDTH) == pytest.approx(sizes)


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("3.5,5.5", [3.5, 5.5]),
        ("7/16,15/32", [7 / 16, 15 / 32]),
        ("0,75", [0.75]),
        ("90mm,140mm", [90 / 25.4, 140 / 25.4]),
    ],
)
def test_sizes_in_inches(text: str, inches: list[float]) -> None:
    found = several(Reader("fraction"), [text], limits.TAIL_BOARD._replace(high=2000))
    assert found == pytest.approx([one * 25.4 for one in inches])


@pytest.mark.parametrize(
    ("units", "text", "remedy"),
    [
        ("mm", "11,12", "write 11.12 for one, 11 and 12 for two"),
        ("inch", "3,4", "write 3.4 for one, 3 and 4 for two"),
        ("fraction", "3,5in", "write 3.5in for one, 3in and 5in for two"),
    ],
)
def test_one_or_two_is_asked(units: str, text: str, remedy: str) -> None:
    with pytest.raises(FitlogError) as told:
        several(Reader(units), [text], limits.TAIL_BOARD)
    assert told.value.code == "two-lengths" and told.value.hint == remedy


@pytest.mark.parametrize("text", ["", "90,", "wide,90", "90,,140", "90 and wide"])
def test_what_is_no_size(text: str) -> None:
    with pytest.raises(FitlogError) as told:
        several(Reader(), [text], limits.BOARD_WIDTH)
    assert told.value.code == "bad-length"
