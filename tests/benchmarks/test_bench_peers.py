"""The bench against general libraries: what it tells them is true, and each that is installed gets
through.

Random checks are seeded; the chance stated is that of a false alarm had the seed been a fresh one.
"""

from __future__ import annotations

import math
import warnings
from collections import Counter

import bench_peers
import beside  # noqa: F401
import numpy as np
import peers
import pytest
from building import make_piece
from scipy.stats import chisquare

from fitlog import defaults
from fitlog.advice.settled import settled_by
from fitlog.families import joint_of
from fitlog.families.half_blind.names import say, set_to
from fitlog.simulation import Advised, Person, Truth, run
from fitlog.simulation.draws import normal

RARE = 1e-6  # false alarm of one random check
SEEDS = range(3)


@pytest.mark.parametrize("clearance", [-0.03, 0.05, 0.09, 0.2])
@pytest.mark.parametrize("words_only", [True, False])
@pytest.mark.parametrize("bit", bench_peers.BITS)
def test_the_chances_told_are_those_of_the_person(
    bit: str, words_only: bool, clearance: float
) -> None:
    """Chi-squared of what the simulated person says of 4000 pieces against the chances handed to
    the library.
    """
    plan = bench_peers.joint_for(0, bit, words_only)
    joint, theta = joint_of(plan), plan.bit.theta
    said, good = peers.chances(theta, not words_only)
    chance = said[peers.rows(np.array(clearance))]
    assert said.sum(axis=1) == pytest.approx(np.ones(len(said)), abs=1e-9) and said.min() >= 0

    def one(number: int) -> tuple[int, bool]:
        own = clearance - 2 * math.tan(theta) * defaults.HEIGHT_REPEAT * normal("own", number)
        verdict = Person(1).judge(plan, 1, number, {"fit": own})
        piece = make_piece(set_to(8.0, 70.0, 10.0), verdict.of("fit"))
        return peers.response(joint, piece), piece.verdict.of("fit") == say(
            "fit", "good", verdict.of("fit").size
        )  # type: ignore[union-attr]

    found = [one(number) for number in range(4000)]
    counts = Counter(column for column, _ in found)
    often = [column for column in range(len(chance)) if chance[column] * len(found) >= 5]
    seen = [counts[column] for column in often]
    due = [float(chance[column]) * len(found) for column in often]
    rest = len(found) - sum(due)
    if rest >= 5:
        seen, due = [*seen, len(found) - sum(seen)], [*due, rest]
    assert chisquare(seen, np.array(due) * sum(seen) / sum(due)).pvalue > RARE
    told = float(good[peers.rows(np.array(clearance))])
    spread = math.sqrt(max(told * (1 - told), 1e-4) / len(found))
    assert (
        abs(sum(is_good for _, is_good in found) / len(found) - told) < 5.1 * spread
    )  # 5.1 sds: below RARE


def test_a_word_stands_for_the_middle_of_its_band() -> None:
    plan = bench_peers.joint_for(0, "wren", True)
    settings = set_to(8.0, 70.0, 10.0)
    words = (
        "very tight",
        "tight",
        "slightly tight",
        "good",
        "slightly loose",
        "loose",
        "very loose",
    )
    found = [peers.guessed(joint_of(plan), make_piece(settings, word)) for word in words]
    assert found == pytest.approx(
        [-0.11, -0.03, 0.02, 0.07, 0.14, 0.24, 0.35]
    )  # by hand, outer bands 0.05 beyond
    read = make_piece(settings, say("fit", "good", 0.30))
    assert peers.guessed(joint_of(plan), read) == pytest.approx(
        0.6 * 0.140540835, abs=1e-8
    )  # tan 8 deg from a table


@pytest.mark.parametrize("entry", bench_peers.ENTRIES, ids=lambda entry: entry.name)
def test_each_gets_through(entry: bench_peers.Entry) -> None:
    """One advice is timed for each piece proposed, within the limit of pieces; a second run goes
    the same way.
    """
    if entry.module == "adopy":
        with peers.old_numpy(), warnings.catch_warnings():
            warnings.simplefilter("ignore")
            pytest.importorskip("adopy")
    elif entry.module != "fitlog":
        pytest.importorskip(entry.module)
    for seed in SEEDS:
        for words_only in bench_peers.MODES.values():
            plan, tallies = (
                bench_peers.joint_for(seed, "wren", words_only),
                [bench_peers.Tally(), bench_peers.Tally()],
            )
            for tally in tallies:
                bench_peers.tune(entry, seed, plan, tally)
            (pieces,) = tallies[0].pieces.values()
            assert tallies[0].pieces == tallies[1].pieces
            assert len(tallies[0].opened) == 1 and 1 <= pieces <= 30
            assert len(tallies[0].later) == pieces - 1 or pieces == 30


def test_our_own_side_is_the_tool_itself() -> None:
    ours = bench_peers.race(bench_peers.ENTRIES[:1], 3)
    for (mode, _), tally in ours.items():
        for (seed, bit), pieces in tally.pieces.items():
            plan = bench_peers.joint_for(seed, bit, bench_peers.MODES[mode])
            person = Person(seed, words_only=plan.words_only)
            (outcome,) = run(Truth(seed), person, Advised(), [plan])
            assert outcome.pieces == pieces and outcome.solved
            ends = [
                settled_by(joint_of(plan), "fit", outcome.setup.pieces()[:n])
                for n in range(1, pieces + 1)
            ]
            assert [end is None for end in ends] == [True] * (pieces - 1) + [False]


def test_the_table_has_a_row_for_each(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With no library at all, the tool's own rows remain, and two lines say what is missing."""
    monkeypatch.setattr(bench_peers, "find_spec", lambda name: name == "fitlog" or None)
    bench_peers.main(["--seeds", "2"])
    lines = capsys.readouterr().out.splitlines()
    assert [text.split()[0] for text in lines[:2]] == ["adopy", "bayesian-optimization"]
    assert len(lines) == 2 + 2 + len(bench_peers.MODES)
    assert all(text.count("|") == len(bench_peers.HEAD) + 1 for text in lines[2:])
