"""Seeded cases of hostile input; `python tests/benchmarks/bench_fuzz.py --cases N`
runs as many as are wanted.
"""

from __future__ import annotations

import pytest
from bench_fuzz import run


@pytest.mark.parametrize(
    ("name", "cases"),
    [
        *(("lengths", 300), ("phrases", 300), ("tables", 160), ("exports", 24)),
        *(
            pytest.param(name, cases, marks=pytest.mark.long)
            for name, cases in (
                ("lengths", 1500),
                ("phrases", 1500),
                ("tables", 800),
                ("exports", 120),
            )
        ),
    ],
)
def test_hostile_input_is_refused_or_read_right(name: str, cases: int) -> None:
    assert run(name, cases, seed=20310304) >= cases
