"""General libraries as ways of working in the simulated shop, for `bench_peers`: each is told what
the tool is told.

Neither library is imported before a peer opens its first joint.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Any
from unittest import mock

import numpy as np
from building import about
from scipy.ndimage import gaussian_filter1d
from scipy.special import ndtr

from fitlog import defaults
from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.advice.settled import settled_by
from fitlog.domain import Piece, Plan, Settings, SetUp
from fitlog.families import Joint, joint_of
from fitlog.families.half_blind import figures
from fitlog.families.half_blind.names import WORDS
from fitlog.families.half_blind.opening import first_settings
from fitlog.simulation.methods import opening

REACH = 3.0  # prior sds of heights to choose from
OFFSETS = np.linspace(-4.0, 4.0, 121)  # the grid of the offset, in prior sds
FINE = 0.001  # mm between the rows of a table of chances
SPAN = 1.5  # mm of clearance to either side that the tables cover
OUTER = 0.05  # mm beyond the last edge where the optimiser takes an open band to lie
# of the variance of the targets: a word and a piece, 0.03 mm, in targets that differ by 0.1 mm
NOISE_SHARE = 0.1
WORD = {word: index for index, word in enumerate(WORDS["fit"])}


# --- what may be said, for the library that wants to know -----------------------------------------


@lru_cache(maxsize=8)
def chances(theta: float, reads: bool) -> tuple[Any, Any]:
    """Return the chance of each response and of the word `good`, by the clearance expected of a
    piece.

    Shapes (n, 7 + bins) and (n,), rows `FINE` apart from -SPAN. Responses: the seven words said
    without a number, then the bins of a gap read, each `defaults.FEELER` wide, the last one open.
    """
    clear = np.arange(-SPAN, SPAN + FINE / 2, FINE)
    edges = np.array([-np.inf, *figures.FIT_EDGES, np.inf])
    words = np.diff(ndtr((edges[None, :] - clear[:, None]) / defaults.WORD_NOISE), axis=1)
    spoken, parts = words.copy(), [words]
    if reads:
        ends = np.append(np.arange(0.0, bins(theta)) * defaults.FEELER, np.inf)
        gap = np.diff(
            ndtr((ends[None, :] - clear[:, None] / (2 * math.tan(theta))) / defaults.FEELER), axis=1
        )
        gap[clear <= 0] = 0.0
        opens = words[:, WORD["slightly tight"] :].sum(axis=1)
        spoken[:, WORD["slightly tight"] :] *= 1 - gap.sum(axis=1)[:, None]
        parts = [spoken, opens[:, None] * gap]
    spread = 2 * math.tan(theta) * defaults.HEIGHT_REPEAT / FINE  # from piece to piece, in rows
    said = gaussian_filter1d(np.hstack(parts), spread, axis=0, mode="nearest", truncate=6)
    said = np.clip(
        said, 0.0, 1.0
    )  # differences of normal integrals may fall below nothing by their rounding
    return said, gaussian_filter1d(words[:, WORD["good"]], spread, mode="nearest", truncate=6)


def bins(theta: float) -> int:
    """How many bins a gap read may fall into: up to half a millimetre of clearance, and beyond."""
    return math.ceil(0.5 / (2 * math.tan(theta)) / defaults.FEELER) + 1


def response(joint: Joint, piece: Piece) -> int:
    """The column of `chances` that a verdict falls into."""
    said = piece.verdict.of("fit")
    assert said is not None
    if said.size is None:
        return WORD[said.word]
    return len(WORD) + min(int(said.size / defaults.FEELER), bins(joint.plan.bit.theta) - 1)


def rows(clearance: Any) -> Any:
    """The rows of `chances` at these clearances."""
    return np.clip(np.rint((clearance + SPAN) / FINE), 0, round(2 * SPAN / FINE)).astype(int)


def settled(joint: Joint, setup: SetUp) -> bool:
    """The stopping rule that everybody shares."""
    return settled_by(joint, "fit", setup.pieces()) is not None


def prior(plan: Plan) -> tuple[Joint, float, float, Any]:
    """Return the joint, the law of its offset (mean, sd) and the heights within `REACH` sds, in
    steps of 0.01 mm.
    """
    joint, base = joint_of(plan), opening(plan, {})
    mean, sd = know(plan, (), History(), base).cold["fit"]
    middle = joint.setting_for("fit", joint.window("fit").middle - mean, base)
    reach, limit = (
        REACH * sd / abs(joint.slope("fit", about(8.0))),
        joint.limit("bit_height", about(8.0)),
    )
    low, high = max(middle - reach, limit.low), min(middle + reach, limit.high)
    return joint, mean, sd, np.arange(math.ceil(low * 100), math.floor(high * 100) + 1) / 100


# --- the peers ------------------------------------------------------------------------------------


@contextmanager
def old_numpy() -> Iterator[None]:
    """Two names for built-in types that numpy has dropped and adopy 0.4.1 still asks for."""
    with mock.patch.multiple(np, create=True, int=int, float=float):
        yield


class Information:
    """adopy: the height whose verdict is worth most; from the `most`-th piece on the best chance of
    good.
    """

    def __init__(self, most: float = math.inf) -> None:
        self.most = most

    def first(self, plan: Plan) -> Settings:
        self.joint, mean, sd, self.heights = prior(plan)
        self.base, self.offsets = opening(plan, {}), mean + sd * OFFSETS
        said, good = chances(plan.bit.theta, not plan.words_only)
        self.good = good[rows(self._clearance(self.heights[:, None], self.offsets))]
        self.engine = self._engine(said)
        self.engine.log_post = -(OFFSETS**2) / 2
        self.engine.update([], [])  # normalises, and looks at the designs anew
        return self._next(0)

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        pieces = setup.pieces()
        if settled(self.joint, setup):
            return pieces[-1].settings, True
        height = {"height": pieces[-1].settings["bit_height"]}
        self.engine.update(height, {"said": response(self.joint, pieces[-1])})
        return self._next(len(pieces)), False

    def finished(self, setup: SetUp) -> None:
        """Forget it."""

    def _clearance(self, height: Any, offset: Any) -> Any:
        plan = self.joint.plan
        nominal = self.joint.nominal("fit", self.base, plan.figures())
        return (
            nominal
            + self.joint.slope("fit", about(8.0)) * (height - self.base["bit_height"])
            + offset
        )

    def _engine(self, said_chances: Any) -> Any:
        with old_numpy():
            from adopy import Engine, Model, Task

            def log_likelihood(height: Any, offset: Any, said: Any) -> Any:
                return np.log(
                    said_chances[rows(self._clearance(height, offset)), said.astype(int)] + 1e-300
                )

            task = Task(["height"], ["said"])
            said = np.arange(said_chances.shape[1])
            return Engine(
                task,
                Model(task, ["offset"], log_likelihood),
                {"height": self.heights},
                {"offset": self.offsets},
                {"said": said},
            )

    def _next(self, pieces: int) -> Settings:
        if pieces < self.most:
            return self.base.moved(
                "fit", round(float(self.engine.get_design("optimal")["height"]), 2)
            )
        return self.base.moved("fit", float(self.heights[np.argmax(self.good @ self.engine.post)]))


class Optimiser:
    """bayesian-optimization with its own kernel and acquisition; noisy: told how much of the
    targets is noise.
    """

    def __init__(self, seed: int, noisy: bool = False) -> None:
        self.seed, self.noisy = seed, noisy

    def first(self, plan: Plan) -> Settings:
        from bayes_opt import BayesianOptimization

        self.joint, _, _, heights = prior(plan)
        bounds = {"height": (float(heights[0]), float(heights[-1]))}
        self.library = BayesianOptimization(
            None, bounds, random_state=self.seed, verbose=0, allow_duplicate_points=True
        )
        if self.noisy:
            self.library.set_gp_params(alpha=NOISE_SHARE)
        return first_settings(plan, History())

    def after(self, setup: SetUp) -> tuple[Settings, bool]:
        piece = setup.pieces()[-1]
        if settled(self.joint, setup):
            return piece.settings, True
        off = abs(guessed(self.joint, piece) - self.joint.window("fit").middle)
        self.library.register({"height": piece.settings["bit_height"]}, -off)
        return piece.settings.moved("fit", float(self.library.suggest()["height"])), False

    def finished(self, setup: SetUp) -> None:
        """Forget it."""


def guessed(joint: Joint, piece: Piece) -> float:
    """The clearance read, or the middle of the word's band, mm."""
    read, edges, said = joint.reading_of("fit", piece), figures.FIT_EDGES, piece.verdict.of("fit")
    assert said is not None
    ends = (edges[0] - 2 * OUTER, *edges, edges[-1] + 2 * OUTER)
    return read[0] if read is not None else (ends[said.index] + ends[said.index + 1]) / 2
