"""An aspect whose word shows one side alone, and windows with one end: by an invented lid, against
plain sums over a grid.

Model, from its statement and not from our code: misfit = nominal + offset + N(0, piece_sd^2); a
word says that misfit + N(0, word_noise^2) fell in its band, a reading is misfit + N(0, read_sd^2);
with chance `slip` the verdict has likelihood `background` instead.
"""

from __future__ import annotations

import json
import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from numpy.typing import NDArray
from plain_family.joint import (
    PIECE_SD,
    READ_SD,
    SLIP,
    WORD_NOISE,
    PlainPlan,
    Table,
    known,
    plan_of,
    setup_of,
)
from scipy.stats import norm

from fitlog import defaults
from fitlog.advice.chances import Outlook
from fitlog.advice.decision import Decision, decide
from fitlog.advice.history import History
from fitlog.advice.reasons import next_reasons
from fitlog.advice.sure import board_inside, chance_inside, chance_shown
from fitlog.document import window as document_window
from fitlog.domain import (
    AspectKind,
    Family,
    SettingKind,
    Settings,
    TrialCut,
    Verdict,
    Window,
)
from fitlog.errors import Refused
from fitlog.estimator.choice import best_chance, best_target, central_chance
from fitlog.estimator.posterior import Normal, posterior
from fitlog.language.english import SENTENCES
from fitlog.language.english.actions import COMMANDS
from fitlog.language.saying import Catalogue
from fitlog.language.units import Ruler

Array = NDArray[np.float64]
INF = math.inf
LID = Family(
    "invented lids",
    (SettingKind("rim", "the rim", "lift", ("up", "down")),),
    (
        AspectKind(
            "shoulder",
            ("closed", "slight gap", "gap", "wide gap"),
            "closed",
            "rim",
            0,
            unread=("closed",),
        ),
    ),
)
EDGES, SD = (0.05, 0.2, 0.6), 0.15
X = np.linspace(-2.5, 2.5, 5001)  # offsets
V = np.linspace(-6, 6, 241) * PIECE_SD  # a piece's own variation


@pytest.fixture(autouse=True)
def known_here(registry: None) -> None:
    known(LID)


def lid(window: Window, sd: float = SD) -> PlainPlan:
    return plan_of(
        LID,
        Table(
            {"shoulder": {"rim": 1.0}},
            {"shoulder": -10.0},
            {"shoulder": EDGES},
            {"shoulder": window},
            {"shoulder": sd},
        ),
    )


Said = tuple[float, str, float | None]  # the rim, the word, its number


def decided(plan: PlainPlan, pieces: Sequence[Said]) -> Decision:
    cuts = [
        TrialCut(n, n, Settings(LID, (rim,)), Verdict((LID.said("shoulder", word, size),)))
        for n, (rim, word, size) in enumerate(pieces, 1)
    ]
    first = Settings(LID, (pieces[0][0] if pieces else 9.9,))
    return decide(setup_of(plan, first, cuts), History())


def by_the_grid(pieces: Sequence[Said], sd: float = SD) -> Array:
    """Weights of X given what was said."""
    times = math.exp(defaults.SCALE_DOUBT * math.sqrt(3))  # the prior's scale is uncertain
    parts = ((1 / 6, sd / times), (2 / 3, sd), (1 / 6, sd * times))
    weight = sum((chance * norm.pdf(X, 0.0, width) for chance, width in parts), np.zeros_like(X))
    for rim, word, size in pieces:
        ends = list(pairwise((-INF, *EDGES, INF)))
        low, high = ends[LID.words("shoulder").index(word)]
        at = (rim - 10.0 + X)[:, None] + V[None, :]
        like = norm.cdf(high, at, WORD_NOISE) - norm.cdf(low, at, WORD_NOISE)
        background = 0.25
        if size is not None:
            like, background = like * norm.pdf(size, at, READ_SD), 0.125
        own = norm.pdf(V, 0.0, PIECE_SD)
        weight = weight * ((1 - SLIP) * like @ own / own.sum() + SLIP * background)
    out: Array = weight / weight.sum()
    return out


def between(weight: Array, low: float, high: float) -> float:
    """The weight of the offsets from `low` to `high`, each standing for its own step of X."""
    ends, total = X + (X[1] - X[0]) / 2, np.cumsum(weight)
    return float(np.interp(high, ends, total) - np.interp(low, ends, total))


HEARD: list[list[Said]] = [
    [(9.9, "closed", None)],
    [(10.0, "closed", None), (10.1, "closed", None)],
    [(10.1, "slight gap", 0.1), (9.95, "closed", None)],
    [(9.8, "closed", None), (10.3, "gap", None)],
    [(10.2, "closed", None), (9.7, "wide gap", 0.7)],
]


@pytest.mark.parametrize("pieces", HEARD)
@pytest.mark.parametrize("window", [Window(-0.2, 0.0), Window(-INF, 0.05), Window(-0.3, INF)])
def test_the_law_and_the_chance_are_those_of_a_plain_grid(
    pieces: list[Said], window: Window
) -> None:
    made, weight = decided(lid(window), pieces), by_the_grid(pieces)
    law, at = made.known.law("shoulder"), Settings(LID, (9.93,))
    mean = float(weight @ X)
    assert law.mean == pytest.approx(mean, abs=1e-4)
    assert law.sd == pytest.approx(math.sqrt(float(weight @ (X - mean) ** 2)), abs=1e-4)
    inside = between(weight, window.low + 0.07, window.high + 0.07)
    found = chance_inside(made.known, "shoulder", at, fit_open=False)
    assert found == pytest.approx(inside, abs=2e-4)
    assert Outlook(made.known, at).within()["shoulder"] == pytest.approx(inside, abs=2e-4)
    grid = X[:, None] + V[None, :] - 0.07  # a real board is one more piece
    own = norm.pdf(V, 0.0, PIECE_SD)
    board = float(weight @ ((grid >= window.low) & (grid <= window.high)) @ own / own.sum())
    found = board_inside(made.known, "shoulder", at, fit_open=False)
    assert found == pytest.approx(board, abs=2e-3)
    seen = 1 - float(weight @ norm.cdf(0.05, X - 0.07, WORD_NOISE))
    assert chance_shown(made.known, "shoulder", at) == pytest.approx(seen, abs=2e-4)


@pytest.mark.parametrize("end", [0.05, -0.4])
@pytest.mark.parametrize("upwards", [False, True])
@pytest.mark.parametrize("noise", [0.0, 0.06])
def test_a_one_sided_window_is_aimed_at_by_the_chance_alone(
    end: float, upwards: bool, noise: float
) -> None:
    """Nearest to its end with the chance asked for: for a normal law, 2.326 sds inside."""
    window = Window(end, INF) if upwards else Window(-INF, end)
    law = posterior(Normal(0.1, 0.2), [])
    z = norm.ppf(defaults.ONE_SIDED_CHANCE)
    reach = z * math.hypot(0.2, noise)
    expected = end + reach - 0.1 if upwards else end - reach - 0.1
    assert best_chance(law, window, noise) == pytest.approx(expected, abs=2e-3)
    assert best_target(law, window, noise, beyond=0.0) == best_chance(law, window, noise)
    assert central_chance(0.3, window) == 1.0


def test_closed_does_not_say_how_far_and_does_not_settle() -> None:
    """Behind a closed shoulder may be a void as deep as one likes: the figures settle it, with the
    chance that they give, since one more closed shoulder would tell nothing.
    """
    window = Window(-0.2, 0.0)
    made = decided(lid(window), [(9.9, "closed", None)])
    by, weight = made.found.settled["shoulder"], by_the_grid([(9.9, "closed", None)])
    inside = [between(weight, -0.2 - t, -t) for t in np.arange(-0.4, 0.2, 0.005)]
    assert not made.found.held and by.way == "nearest"
    assert by.chance == pytest.approx(max(inside), abs=1e-3) and by.chance < 0.7
    # A narrow law is surely inside, and a reading settles or opens as any reading does.
    sure = decided(lid(window, sd=0.03), [(9.9, "closed", None)])
    assert sure.found.settled["shoulder"].way == "figures"
    read = decided(lid(Window(-0.2, 0.15)), [(10.0, "slight gap", 0.1)])
    assert read.found.settled["shoulder"].way == "reading"
    # Where what is told has two sides, the word settles.
    plain = decided(lid(Window(-INF, 0.05)), [(9.9, "closed", None)])
    assert plain.found.settled["shoulder"].way == "word"


@pytest.mark.parametrize("window", [Window(-INF, 0.05), Window(-0.1, INF)])
def test_a_one_sided_window_ends_inside_and_is_not_left_again(window: Window) -> None:
    plan, rim, pieces = lid(window, 0.3), 10.0, list[Said]()
    for _ in range(6):
        off = rim - 10.0 + 0.22
        word = LID.words("shoulder")[sum(off > edge for edge in EDGES)]
        pieces.append((rim, word, None if word == "closed" else round(off, 3)))
        made = decided(plan, pieces)
        rim = made.settings["rim"]
        if made.ready:
            break
    assert made.ready and window.holds(rim - 10.0 + 0.22)
    # Far inside it stays where it is, however far that is.
    far = 8.0 if window.low == -INF else 12.0
    word = "closed" if far == 8.0 else "wide gap"
    again = decided(plan, [*pieces, (far, word, None)])
    assert again.ready and again.settings["rim"] == far


def test_nothing_lies_beyond_the_open_end() -> None:
    """A word far inside a one-sided window binds no setting, one outside binds one side."""
    made = decided(lid(Window(-INF, 0.05), 0.3), [(10.0, "gap", None)])
    assert made.settings["rim"] < 10.0
    made = decided(lid(Window(0.2, INF), 0.3), [(10.0, "wide gap", 0.8)])
    # Ready, so that the next piece is cut as the boards will be: further in, where they are surer.
    assert made.ready and made.settings["rim"] == made.real["rim"] >= 10.0
    made = decided(lid(Window(0.2, INF), 0.3), [(10.0, "slight gap", None)])
    assert made.settings["rim"] > 10.0


def test_a_window_with_one_end_is_said_and_written() -> None:
    plan = lid(Window(-INF, 0.05), 0.3)
    made = decided(plan, [(10.0, "gap", None)])
    (told,) = next_reasons(made, {"shoulder": None})
    called = {f"shoulder {what}": what for what in ("head", "misfit", "setting")}
    said = Catalogue({**SENTENCES, "shoulder-aim": SENTENCES["*-aim"]}, called)
    if told.code == "shoulder-aim":
        assert "good is at most 0.05" in said.say(told, Ruler(), COMMANDS)
    assert json.dumps(document_window(Window(-INF, 0.05))) == "[null, 0.05]"
    assert document_window(Window(-0.1, INF)) == [-0.1, None]
    for low, high in ((-INF, INF), (0.1, 0.0), (math.nan, 1.0), (INF, INF)):
        with pytest.raises(Refused, match="is empty"):
            Window(low, high)
    assert replace(Window(-1.0, INF), low=2.0).middle == 2.0
