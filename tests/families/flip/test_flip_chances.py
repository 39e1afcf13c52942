"""What is said of real tenons, tongues and laps against what comes, in invented shops whose truth
is drawn from the stated priors. Each shop's first set-up alone, so that they are independent.
"""

from __future__ import annotations

import math

import pytest

from fitlog.domain import Machine, SetUp
from fitlog.families.names import family_of
from fitlog.simulation import Advised, Person, Truth, one_joint, run

MACHINE = Machine("invented table")


class Telling(Advised):
    """The tool, and the chance that it gave as a set-up was finished."""

    said: float | None = None

    def finished(self, setup: SetUp) -> None:
        self.said = self.decided(setup).chance_real["all"]
        super().finished(setup)


@pytest.mark.long
@pytest.mark.parametrize("words", [False, True], ids=["numbers", "words"])
@pytest.mark.parametrize(
    ("joint", "shops"), [("half-lap", 100), ("tenon", 40), ("tongue-groove", 40)]
)
def test_real_joints_come_out_as_often_as_was_said(joint: str, shops: int, words: bool) -> None:
    """Within 3.3 standard deviations of what is said: a false alarm in a thousand a case."""
    found = []
    for seed in range(500, 500 + shops):
        plan = one_joint(seed, MACHINE, tuple(family_of(joint).setting_of), words, joint=joint)
        method = Telling()
        (went,) = run(Truth(seed), Person(seed, words_only=words), method, [plan])
        if method.said is not None:
            found.append((method.said, went.within))
    assert len(found) > 0.9 * shops
    said, varies = sum(p for p, _ in found), sum(p * (1 - p) for p, _ in found)
    came = sum(within for _, within in found)
    assert abs(came - said) <= 3.3 * math.sqrt(varies), f"{came} came, {said:.1f} were said"
