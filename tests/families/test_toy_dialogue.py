"""The dialogue asks about a family that it has never heard of, by what that declares.

No outside source: these are promises of the dialogue itself; the pegs are invented.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest
from building import BIT, STARTED, STOCK
from toy_family.joint import PEGS, PegsPlan, set_to

from fitlog.domain import Reading, Said, SetUp, TrialCut, Verdict
from fitlog.domain.standing import Standing
from fitlog.fronts.bench import Deed, Stand, View, last_word, not_judged, press, stand
from fitlog.language.units import Ruler
from fitlog.render.bench import Scene, frame, pages
from fitlog.render.documents.sheet import sheet_document
from fitlog.render.sheet.pages import sheet
from fitlog.render.sheet.paper import Words

PLAN = PegsPlan(BIT, STOCK, STOCK, None, 150.0, 17.0, 17.0, spacing=30.0)
FIRST = set_to(10.0, 17.0)
RULER = Ruler("mm")

pytestmark = pytest.mark.usefixtures("pegs")


def pegs(*entries: Said | Reading | str) -> SetUp:
    """A set-up whose first piece is cut and then judged, measured or left out, entry by entry."""
    cuts = [TrialCut(1, 1, FIRST, Verdict())]
    for at, entry in enumerate(entries, 2):
        verdict = Verdict((entry,) if isinstance(entry, Said) else ())
        read = (entry,) if isinstance(entry, Reading) else ()
        note = entry if isinstance(entry, str) else ""
        cuts.append(TrialCut(at, 1, FIRST, verdict, read, note=note))
    return SetUp(1, PLAN, FIRST, FIRST, STARTED, cuts=tuple(cuts))


def view(setup: SetUp) -> View:
    return View(PEGS, stand(setup), last_word(setup))


def shown(setup: SetUp, at: View) -> list[str]:
    return frame(Scene(setup, at, RULER), 80, 24)


def typed(at: View, keys: str) -> tuple[View, Deed | None]:
    deed = None
    for key in keys:
        at, deed = press(at, key)
    return at, deed


def test_every_aspect_is_asked_in_the_familys_order_until_it_is_answered() -> None:
    slack = PEGS.said("play", "slack")
    assert stand(pegs()) == Stand("play", 1)
    assert stand(pegs(slack)) == Stand("place", 1)
    assert stand(pegs(not_judged("play"))) == Stand("place", 1)
    assert stand(pegs(Reading("shim", 0.2))) == Stand("place", 1)
    assert stand(pegs(slack, PEGS.said("place", "long"))) == Stand("settings", 2)


@pytest.mark.parametrize("aspect", PEGS.aspects)
def test_each_digit_logs_its_word(aspect: str) -> None:
    at = View(PEGS, Stand(aspect, 1))
    heard = [deed for key in "123456789" if (deed := press(at, key)[1]) is not None]
    assert heard == [Deed("word", aspect, word) for word in PEGS.words(aspect)]


def test_the_question_names_the_words_and_the_keys() -> None:
    setup = pegs()
    lines = shown(setup, view(setup))
    assert "piece 1: play, 1 of 2" in lines[0]
    assert "Piece 1, PLAY: how is the play?" in lines
    for number, word in enumerate(PEGS.words("play"), 1):
        assert f"  {number}  {word}" in [line.rstrip() for line in lines]
    assert "1 to 5   h shim measured   s not judged   f gap" in " ".join(lines[-3:])
    setup = pegs(PEGS.said("play", "slack"))
    lines = shown(setup, view(setup))
    assert "1 2 3   s not judged   m number" in " ".join(lines[-3:])


def test_a_number_a_reading_and_a_gap_are_typed() -> None:
    slack, stuck = PEGS.said("play", "slack"), PEGS.said("play", "stuck")
    at, deed = typed(view(pegs(slack)), "m0.2\r")
    assert deed == Deed("number", "", "0.2")
    assert f'measure of the play of "slack", mm: {at.typed}' in shown(pegs(slack), at)
    assert typed(view(pegs(stuck)), "m")[0].line == '"stuck" takes no number.'
    at, deed = typed(view(pegs()), "h0.2\r")
    assert deed == Deed("reading", "shim", "0.2")
    assert "shim, mm: 0.2" in shown(pegs(), at)
    assert typed(view(pegs(slack)), "f1")[1] == Deed("gap", "split")
    assert typed(view(pegs(slack)), "f2")[1] is None


def test_each_setting_has_a_key_by_its_part_that_means_nothing_else() -> None:
    at = View(PEGS, Stand("settings", 2))
    for key, name in (("k", "key_gap"), ("t", "reach")):
        now, deed = typed(at, f"{key}12.5\r")
        assert deed == Deed("setting", name, "12.5")
        assert f"{PEGS.setting(name).noun} as set, mm: 12.5" in shown(pegs(), now)
    assert typed(at, "o")[0].line.startswith("o means nothing here")
    help_ = "\n".join(line for page in pages(Scene(pegs(), at, RULER), 80, 60) for line in page)
    assert "k t: type the key or the stop as really set" in help_
    assert "1 to 5, 1 to 3: the word beside the digit" in help_


def test_a_family_without_gaps_has_no_key_for_one() -> None:
    solid = replace(PEGS, faults=())
    at = View(solid, Stand("play", 1))
    assert press(at, "f")[0].mode == "" and "means nothing here" in press(at, "f")[0].line


def test_its_sheet_is_a_page_without_a_drawing() -> None:
    job: Any = SimpleNamespace(
        setup=pegs(PEGS.said("play", "slack")),
        settings=FIRST,
        status="tuning",
        standing=Standing("tuning", None, None),
        notices=(),
        cautions=(),
    )
    made = sheet(job, "a4", RULER, lambda text, size, bold: size * len(text) / 5)
    texts = [mark.text for page in made for mark in page.marks if isinstance(mark, Words)]
    assert {"key gap", "10.00 mm", "reach", "17.00 mm"} <= set(texts)
    assert {"piece", "key", "stop", "said and measured", "slack"} <= set(texts)
    assert len(made) == 1 and "Story stick, full size" not in texts
    told = sheet_document(job, made, "a4", ["pegs.pdf"])
    assert told["pages"] == 1 and told["ticks"] == told["strips"] == []
