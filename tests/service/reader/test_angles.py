"""Angles as they are written."""

from __future__ import annotations

import pytest

from fitlog.errors import NotUnderstood
from fitlog.service.reader.angles import degrees


@pytest.mark.parametrize(
    ("text", "angle"),
    [
        ("14", 14),
        ("7.5", 7.5),
        ("7,5", 7.5),
        ("7 deg", 7),
        ("14deg", 14),
        ("14\u00b0", 14),
        ("7,5 \u00b0", 7.5),
        (" 9  Degrees ", 9),
        ("-8", -8),
    ],
)
def test_degrees_are_read(text: str, angle: float) -> None:
    assert degrees(text) == angle


@pytest.mark.parametrize("text", ["", "flat", "nan", "inf", "1:8", "7 5", "1e1", "7 mm", "9" * 99])
def test_what_is_no_angle_is_refused(text: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        degrees(text)
    assert caught.value.code == "bad-angle" and "7.5 deg" in caught.value.hint
