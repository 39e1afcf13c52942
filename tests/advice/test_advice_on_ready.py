"""What is said when all is settled, how one piece shows all, how many tails, whom a surprise
contradicts, and repeats.

Outside source: the chance inside the window is worked out here on a plain grid from the model's
statement, with scipy's normal law and the standard uncertainties typed in (common practice, no
source): none of the tool's own laws is used.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import numpy.typing as npt
import pytest
from building import BIT, STOCK, in_words, make_cut, make_plan, make_setup
from scipy.stats import norm
from shop import BIT as FIGURES
from shop import Shop, by_code

from fitlog import defaults
from fitlog.advice import advise
from fitlog.advice.decision import decide
from fitlog.advice.history import History
from fitlog.advice.knowledge import know
from fitlog.domain import Reading, Remark, merge
from fitlog.families.half_blind.names import say, set_to
from fitlog.families.half_blind.recipe import recipe
from fitlog.families.half_blind.showing import showing

Array = npt.NDArray[np.float64]
LIFT = 2 * math.tan(BIT.theta)
AT = set_to(8.7, 75.0, 11.0)


# --- how sure the real boards are -----------------------------------------------------------------

# Each piece: how much its clearance lies above that of the last one by the figures, mm, its word,
# its gap.
Pieces = Sequence[tuple[float, str, float | None]]
READY: dict[str, Pieces] = {
    "good at once": [(0.0, "good", None)],
    "good with its gap": [(0.0, "good", 0.26)],
    "loose, then good": [(0.1, "slightly loose", 0.55), (0.0, "good", None)],
    "twice good": [(0.012, "good", 0.3), (0.0, "good", 0.2)],
    "tight, good": [(-0.09, "tight", None), (0.0, "good", 0.25)],
}
# FIT_EDGES of the words used: slightly tight up to 0.04, good up to 0.10, slightly loose up to
# 0.18, loose up to 0.30.
BANDS = {
    "tight": (-0.06, 0.0),
    "slightly tight": (0.0, 0.04),
    "good": (0.04, 0.10),
    "slightly loose": (0.10, 0.18),
    "loose": (0.18, 0.30),
}
OTHER_SIDE = {
    "tight": "loose",
    "slightly tight": "slightly loose",
    "slightly loose": "slightly tight",
    "good": "good",
}


def ready(pieces: Pieces, scrap: str = "") -> tuple[Remark, ...]:
    """Notices once the pieces are logged, the fit alone in play."""
    cuts = [
        make_cut(n, AT.changed(bit_height=AT["bit_height"] - more / LIFT), say("fit", word, gap))
        for n, (more, word, gap) in enumerate(pieces, 1)
    ]
    found = advise(make_setup(make_plan(in_play=("fit",), scrap=scrap), AT, cuts), History())
    assert found.status == "ready"
    return found.notices


def by_hand(pieces: Pieces, apart: float) -> float:
    """Chance that the real boards' clearance lies in 0.04 to 0.10, apart: sd of how their wood
    differs from the pieces', mm.

    They are cut as one more piece is: the lift repeats to 0.03.

    Prior of c at the last height by first-order propagation: 2 D - P - 2 h tan(theta), D -0.07 +-
    0.03 of its size, theta +- 0.15 deg, P +- 0.05, h +- 0.05, wood +- 0.03, day +- 0.025 (printed
    bit, pitch by a scale). Its scale is log-normal by 0.4, as the three points that match its
    moments (1, exp(+-0.4 sqrt 3), chances 2/3, 1/6, 1/6). With chance 0.02 the zero is off by
    another 0.4, with chance 0.01 all sides are said the wrong way round, and each single one with
    0.01.
    """
    height = AT["bit_height"]
    nominal = 2 * BIT.diameter - 22.6 - LIFT * height
    lean = 2 * height / math.cos(BIT.theta) ** 2 * math.radians(0.15)
    sd = math.sqrt((2 * 0.03) ** 2 + lean**2 + 0.05**2 + (LIFT * 0.05) ** 2 + 0.03**2 + 0.025**2)
    c = np.linspace(nominal - 0.14 - 4, nominal - 0.14 + 4, 400001)
    times = math.exp(0.4 * math.sqrt(3))
    scales = ((1 / 6, sd / times), (2 / 3, sd), (1 / 6, sd * times))
    prior = sum(chance * norm.pdf(c, nominal - 0.14, one) for chance, one in scales)
    far = norm.pdf(
        c,
        nominal - 0.14,
        math.hypot(math.sqrt(sum(chance * one**2 for chance, one in scales)), 0.4),
    )
    meant, turned = np.ones_like(c), np.ones_like(c)
    for piece in pieces:
        meant, turned = meant * heard(c, piece, 0.01), turned * heard(c, piece, 0.99)
    sides = any(word != "good" for _, word, _ in pieces)
    weight = (
        (0.97 if sides else 0.98) * prior * meant
        + (0.01 * prior * turned if sides else 0)
        + 0.02 * far * meant
    )
    varies = math.hypot(apart, LIFT * 0.03)
    inside = norm.cdf(0.10, c, varies) - norm.cdf(0.04, c, varies)
    return float(weight @ inside / weight.sum())


def heard(c: Array, piece: tuple[float, str, float | None], wrong: float) -> Array:
    """Likelihood of what is said of a piece, by the clearance c, mm. wrong: the chance that its
    side is said wrong.

    A word is a band with a noise of 0.025, or with its own edges' 0.05 where a gap is said besides;
    a gap is read to 0.05; a lift repeats to 0.03; a verdict is a slip with chance 0.02, then it is
    any of 7 words, and any clearance within 1 mm if it is a number.
    """
    (more, word, gap), spread = piece, LIFT * 0.03
    middle, plain, noise, other = c + more, np.ones_like(c), 0.025, 1 / 7
    if gap is not None:
        read, total = LIFT * gap, math.hypot(LIFT * 0.05, spread)
        plain = norm.pdf(read, middle, total)
        middle = middle + (spread / total) ** 2 * (read - middle)
        spread, noise = spread * LIFT * 0.05 / total, math.hypot(0.025, 0.05)
    blur = math.hypot(spread, noise)
    said, swapped = (
        plain * (norm.cdf(high, middle, blur) - norm.cdf(low, middle, blur))
        for low, high in (BANDS[word], BANDS[OTHER_SIDE[word]])
    )
    found: Array = 0.98 * ((1 - wrong) * said + wrong * swapped) + 0.02 * other
    return found


def stated(notice: Remark) -> int:
    """The chance that a notice states, percent."""
    found = re.search(r"with a chance of (\d+)%", in_words(notice))
    assert found, in_words(notice)
    return int(found[1])


def the_notice(notices: Sequence[Remark]) -> Remark:
    """The one that says how sure the real boards are."""
    (found,) = (n for n in notices if n.code in ("confirm", "confirmed"))
    return found


@pytest.mark.parametrize("name", READY)
def test_the_chance_when_ready_is_the_integral_by_hand(name: str) -> None:
    """To the whole percent that is shown."""
    assert stated(the_notice(ready(READY[name]))) == pytest.approx(
        100 * by_hand(READY[name], 0.0), abs=0.6
    )


@pytest.mark.parametrize("name", READY)
def test_in_scrap_the_boards_may_come_out_otherwise(name: str) -> None:
    """Two woods, each 0.03: the boards differ from the scrap by 0.03 sqrt(2) = 0.042, and the
    chance is lower for it.
    """
    plain, scrap = the_notice(ready(READY[name])), the_notice(ready(READY[name], "mdf"))
    assert stated(scrap) == pytest.approx(100 * by_hand(READY[name], 0.03 * math.sqrt(2)), abs=0.6)
    assert stated(scrap) < stated(plain)
    assert "scrap" in in_words(scrap) and "0.04 mm" in in_words(scrap)
    assert "scrap" not in in_words(plain)


@pytest.mark.parametrize("scrap", ["", "mdf"])
@pytest.mark.parametrize("name", READY)
def test_a_confirming_cut_is_worth_its_wood_when_it_saves_more(
    name: str, scrap: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Exactly where (1 - chance) x what a spoiled joint costs, in test pieces, passes one piece: to
    half a percent of chance, as it is shown in whole ones.
    """
    chance = by_hand(READY[name], 0.03 * math.sqrt(2) if scrap else 0.0)
    for off, code, words in (
        (0.005, "confirm", "is worth its wood"),
        (-0.005, "confirmed", "is not worth its wood"),
    ):
        monkeypatch.setattr(defaults, "SPOILED_JOINT", 1 / (1 - chance - off))
        notice = the_notice(ready(READY[name], scrap))
        assert (notice.code, notice.aspect) == (code, "fit")
        assert words in in_words(notice)


def test_nothing_is_confirmed_before_all_is_settled_or_without_the_fit(shop: Shop) -> None:
    shop.started("--pitch 22.6")
    assert not {"confirm", "confirmed"} & set(
        by_code(shop.json("cut good, gap far, flush")["notices"])
    )
    assert {"confirm", "confirmed"} & set(by_code(shop.json("cut good, centred, flush")["notices"]))
    shop.words("finish")
    shop.words("start --pitch 22.6 --only centre")
    found = shop.json("cut centred")
    assert found["status"] == "ready"
    assert not {"confirm", "confirmed"} & set(by_code(found["notices"]))


def test_the_scrap_is_spoken_of_from_the_shell(shop: Shop) -> None:
    """With the bit of the shop, in scrap and in the stock itself."""
    texts = []
    for home, line in (("plain", ""), ("scrap", "--scrap mdf")):
        one = Shop(shop.home / home)
        one.home.mkdir()
        found = [
            one.run(*words.split(), "--db", str(one.db))
            for words in (
                " ".join(("bit add marsh", *FIGURES)),
                "stock add elm --species elm --thickness 17 --width 150",
                f"start --pitch 22.6 --width 600 {line}",
                "cut good, centred, flush --json",
            )
        ][-1].document
        texts.append(
            next(
                text
                for code, text in by_code(found["notices"]).items()
                if code.startswith("confirm")
            )
        )
    plain, scrap = (int(re.search(r"chance of (\d+)%", text)[1]) for text in texts)  # type: ignore[index]
    assert scrap < plain and "than the scrap" not in texts[0] and "scrap" in texts[1]


# --- one piece for all that is open ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "said", "expected"),
    [
        ("", "tight, gap far, proud", "all that is open"),
        ("", "good, gap far, proud", "all that is open"),
        ("--only fit,centre", "tight, centred", "two scraps on end"),
        ("--only fit", "loose 1.2", "two scraps on end"),
        ("--only fit,centre", "tight, gap far", "all that is open"),
        ("--only centre", "gap far", None),
        (
            "--only fit,centre",
            "tight, gap far 0.5",
            "two scraps on end",
        ),  # a gap read with its number shows the centre
        ("", "good, gap far, flush", None),
        ("", "good, centred, proud", None),
        ("", "good, centred, flush", None),
        ("", "tight, gap far 0.5, proud", None),
    ],
)
def test_how_the_next_piece_shows_what_is_open(
    shop: Shop, line: str, said: str, expected: str | None
) -> None:
    """Centre and something else: all of it on one piece, the walls measured last. The fit alone:
    two scraps.
    """
    text = by_code(shop.started(f"--pitch 22.6 {line}").json(f"cut {said}")["reasons"]).get(
        "one-piece"
    )
    if expected is None:
        assert text is None
    else:
        assert text is not None and expected in text
        assert ("measure the two walls beside the cut instead of turning it" in text) == (
            "all" in expected
        )


def test_the_turn_comes_last_where_the_fence_is_known() -> None:
    """Walls measured on piece 1 leave the zero known: a fence a little too far out has a safe
    second pass, a near one none.
    """
    walls = (Reading("walls", 60.4, other=60.0),)  # 0.2 too far out at 75.2
    plan, cut = make_plan(), make_cut(1, AT, "tight")
    pieces = merge([replace(cut, settings=AT.changed(fence_offset=75.2), readings=walls)])
    known = know(plan, pieces, History(), AT)
    way = {x: showing(known, pieces, AT.changed(fence_offset=x)) for x in (75.1, 75.02, 74.9, 75.5)}
    assert way == {75.1: "turn", 75.02: "turn", 74.9: "walls", 75.5: "walls"}
    assert "Turn the tail piece" in in_words(recipe(plan, AT, "turn")[-1])
    assert not any(in_words(step).startswith("Turn") for step in recipe(plan, AT, "walls"))


# --- how many tails -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "window"),
    [
        ("", [0.04, 0.1]),
        ("--tails 1", [0.04, 0.1]),
        ("--tails 3", [0.04, 0.1]),
        ("--tails 7", [0.04, 0.1]),
        ("--tails 8", [0.08, 0.15]),
        ("--tails 26", [0.08, 0.15]),
        ("--many-tails --tails 3", [0.08, 0.15]),
    ],
)
def test_many_tails_are_aimed_looser(shop: Shop, line: str, window: list[float]) -> None:
    """Common practice, no source: from 8 tails on."""
    assert shop.stocked().json(f"start --pitch 22.6 --width 600 {line}")["window"]["fit"] == window


@pytest.mark.parametrize("tails", ["0", "500", "-3", "201"])
def test_no_board_has_that_many_tails(shop: Shop, tails: str) -> None:
    shop.stocked()
    told = shop.refused("start", f"--tails={tails}")
    assert f"no board has {tails} tails" in told and "1 to 200" in told
    shop.refused("start", "--tails", "some", code=2)


# --- whom a surprise contradicts ------------------------------------------------------------------


@pytest.mark.parametrize(
    ("units", "heights", "shown"),
    [
        (
            "mm",
            ("11.0", "10.5"),
            "11.00 mm",
        ),  # on a scale that shows 0.75 mm too much: true 10.25 and 9.75
        ("inch", ("0.433", "0.413"), "0.433 in"),
        ("fraction", ("7/16", "27/64"), "7/16 in"),
    ],
)
def test_a_surprise_names_the_piece_and_its_setting_on_the_own_scale(
    shop: Shop, units: str, heights: tuple[str, str], shown: str
) -> None:
    """A lower bit makes looser joints: loose, and half a millimetre lower slightly tight, cannot
    both be, nor slightly loose.

    Very tight there could have been meant the other way round, and that is asked instead.
    """
    shop.stocked(machine={"height-zero": "0.75mm"}).words(f"prefer --units {units}")
    shop.words("start --pitch 22.6mm --only fit")
    assert "surprise-fit" not in by_code(shop.json(f"cut loose --height {heights[0]}")["notices"])
    notices = by_code(shop.json(f"cut slightly tight --height {heights[1]}")["notices"])
    text = notices["surprise-fit"]
    assert 'Piece 2 ("slightly tight")' in text
    assert f'after piece 1 ("loose" at a bit height of {shown})' in text
    shop.words("undo")
    notices = by_code(shop.json(f"cut very tight --height {heights[1]}")["notices"])
    assert "surprise-fit" not in notices
    assert (
        'Did you mean "very loose" where piece 2 says "very tight"?' in notices["side-swapped-once"]
    )


def test_a_surprise_names_the_piece_that_goes_worst_with_it(shop: Shop) -> None:
    """Of three pieces, the one that said loose at the height nearest to where it is now slightly
    tight, and not the tight one; neither side of the last word goes together with them.
    """
    shop.started("--pitch 22.6 --only fit").words("cut tight --height 10.6")
    shop.words("cut very loose --height 9.0")
    text = by_code(shop.json("cut slightly tight --height 8.9")["notices"])["surprise-fit"]
    assert 'after piece 2 ("very loose" at a bit height of 9.00 mm)' in text


def test_the_first_piece_can_be_a_surprise(shop: Shop) -> None:
    """Nothing came before it but the figures, and later what earlier set-ups taught."""
    shop.started("--pitch 22.6 --only fit")
    text = by_code(shop.json("cut very loose 6 --yes")["notices"])["surprise-fit"]
    assert 'Piece 1 ("very loose")' in text and "by the bit's figures" in text
    shop.words("undo")
    shop.words("cut good")
    shop.words("finish")
    shop.words("start --pitch 22.6 --only fit")
    assert (
        "by what earlier set-ups taught"
        in by_code(shop.json("cut very loose 6 --yes")["notices"])["surprise-fit"]
    )


# --- several woods in one set-up ------------------------------------------------------------------


def test_pieces_in_another_wood_do_not_grow_surer_of_the_boards_by_their_number() -> None:
    """What sets two woods apart is one unknown, however many pieces are cut in one: ten in scrap
    leave what one law of the scrap's fit leaves, widened once. A piece in the stock of which
    nothing is said of the fit changes nothing.
    """
    scrap = [("good", "mdf")] * 10
    chances = {}
    for name, said in (("scrap", scrap), ("and a silent piece", [*scrap, (None, STOCK.name)])):
        cuts = [
            make_cut(n, AT, fit, None if fit else "centred", scrap=wood)
            for n, (fit, wood) in enumerate(said, 1)
        ]
        plan = make_plan(in_play=("fit", "centre"), scrap="mdf")
        known = decide(make_setup(plan, AT, cuts), History()).known
        chances[name] = known.real_chance(known.joint.nominal("fit", AT, plan.boards()))
    assert chances["scrap"] < 0.55  # at most the centred normal law of 0.042 in a window of 0.06
    assert chances["and a silent piece"] == pytest.approx(chances["scrap"], abs=0.01)


def test_a_piece_in_the_stock_settles_what_scrap_left_open() -> None:
    cuts = [
        make_cut(1, AT, "good", scrap="mdf"),
        make_cut(2, AT, "good", scrap=STOCK.species.upper()),
    ]
    plan = make_plan(in_play=("fit",), scrap="mdf")
    first, both = (decide(make_setup(plan, AT, cuts[:n]), History()).known for n in (1, 2))
    at = first.joint.nominal("fit", AT, plan.boards())
    assert first.real_chance(at) < 0.55 < 0.65 < both.real_chance(at)
    assert both.joint.wood == "" and first.joint.wood == "mdf"


# --- what hangs together --------------------------------------------------------------------------


def test_everything_is_never_likelier_than_its_part(shop: Shop) -> None:
    """Of words alone: with numbers a part may be settled without its word."""
    shop.started("--pitch 22.6 --words-only")
    found = shop.json("cut loose, centred, shy")
    assert (
        found["chance_good"]["all"] <= min(found["chance_good"][a] for a in ("fit", "seat")) + 1e-9
    )


def test_no_turn_is_asked_for_where_no_second_pass_is_safe(shop: Shop) -> None:
    """A fence that moves by whole millimetres, held by the word just said, on the fence's side of
    the middle.
    """
    shop.started("--pitch 22.6", machine={"fence-step": "1"})
    shop.words("cut good, flush")
    shop.words("cut gap near 0.6")
    found = shop.json("cut very tight, gap near 0.4")
    assert "no-second-pass" in by_code(found["notices"])
    assert "instead of turning" in by_code(found["reasons"])["one-piece"]


# --- repeats, and what teaches nothing ------------------------------------------------------------


def worked(shop: Shop, line: str = "") -> dict[str, object]:
    """Start a set-up without a pitch, cut two pieces, and return its document."""
    started: dict[str, object] = shop.json(f"start {line}")
    shop.words("cut slightly loose 0.7, gap far 0.3, proud 0.2")
    shop.words("cut good, centred, flush")
    return started


def pitch_of(document: dict[str, object]) -> object:
    fixed = document["fixed"]
    assert isinstance(fixed, dict)
    return fixed["pitch"]


def test_the_pitch_of_a_repeat_is_that_bits_own(shop: Shop) -> None:
    """Another bit on the same stock once inherited the pitch of the last one."""
    shop.stocked().run(
        "bit", "add", "reed", "--diameter", "15.3", "--angle", "9", "--cutting-length", "14"
    )
    fresh = pitch_of(shop.json("start --bit reed"))
    shop.words("finish --abandon")
    first = worked(shop, "--bit marsh --pitch 22.83")
    shop.words("finish")
    other = shop.json("start --bit reed")
    assert (
        pitch_of(other) != 22.83 and abs(float(str(pitch_of(other))) - float(str(fresh))) <= 0.15
    )  # what was learned
    assert pitch_of(first) == pitch_of(shop.json("start --bit marsh")) == 22.83


def learnt_by_another_bit(shop: Shop) -> dict[str, object]:
    """What a second bit starts from at the same table with the same stock, its set-up
    left behind.
    """
    found = shop.json("start --bit reed --pitch 26.4")
    shop.words("finish --abandon")
    return {key: found[key] for key in ("settings", "misfit", "chance_good")}


def test_only_what_was_finished_teaches(shop: Shop) -> None:
    """Neither an abandoned set-up, nor a finish that was taken back, nor a start that was."""
    shop.stocked().run(
        "bit", "add", "reed", "--diameter", "15.3", "--angle", "9", "--cutting-length", "14"
    )
    fresh = learnt_by_another_bit(shop)
    worked(shop, "--bit marsh --pitch 22.6")
    assert learnt_by_another_bit(shop) == fresh, "open"
    shop.words("finish --setup 2")
    taught = learnt_by_another_bit(shop)
    assert taught != fresh
    shop.words("undo --setup 2")
    assert shop.json("show 2")["setup"]["status"] == "ready"
    assert learnt_by_another_bit(shop) == fresh, "the finish was taken back"
    shop.words("finish --abandon --setup 2")
    assert learnt_by_another_bit(shop) == fresh, "abandoned"
    shop.words("undo --setup 2")
    shop.words("finish --setup 2")
    assert learnt_by_another_bit(shop) == taught, "finished again"


def test_a_sharpened_bit_is_as_uncertain_as_its_diameter_and_keeps_the_rest(shop: Shop) -> None:
    """A bit sharpened and not measured since: the diameter is +-0.07 again, 0.14 of clearance; what
    else was learned stays.
    """
    fresh = shop.started("--pitch 22.6").json("next")["misfit"]["fit"]["sd"]
    shop.words("finish --abandon")
    worked(shop, "--pitch 22.6")
    shop.words("finish")
    learnt = shop.json("start --pitch 22.6")["misfit"]["fit"]["sd"]
    shop.words("finish --abandon")
    shop.words("bit sharpen marsh")
    sharpened = shop.json("start --pitch 22.6")["misfit"]["fit"]["sd"]
    assert learnt < 0.6 * fresh
    assert 0.14 < sharpened < math.sqrt(fresh**2 - 0.06**2 + 0.14**2)


def test_start_says_whose_pitch_it_takes(shop: Shop) -> None:
    """The same bit at the same machine and pitch: stops that were set for it can stay."""
    shop.stocked()
    assert "stops can stay" not in by_code(shop.json("start")["reasons"])["height-from"]
    shop.words("cut good, centred, flush")
    shop.words("finish")
    assert (
        "(that of set-up 1: the stops can stay)"
        in by_code(shop.json("start")["reasons"])["height-from"]
    )
    shop.words("finish --abandon")
    assert (
        "stops can stay" not in by_code(shop.json("start --pitch 22.1")["reasons"])["height-from"]
    )


@pytest.mark.parametrize(
    "cuts",
    [
        ("good, flush, centred --fence 75.04",),
        ("tight, proud 0.3 --fence 75.04 --walls 60.1 60.0", "good, flush --fence 75.04"),
    ],
)
def test_one_more_piece_of_a_ready_set_up_is_cut_as_the_boards_are(
    shop: Shop, cuts: Sequence[str]
) -> None:
    """Of pieces as large as the boards two settings of one thing would be two answers."""
    shop.started(machine={"fence-step": "0.1"})
    ready = [found for cut in cuts if (found := shop.json(f"cut {cut}"))["status"] == "ready"]
    assert ready, "the set-up was never ready"
    for found in ready:
        assert found["settings"] == found["real"]
    assert "For the real boards" not in shop.words("next").out
