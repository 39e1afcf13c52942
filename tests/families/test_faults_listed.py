"""Each symptom is asked for by the words that it is listed by, commas and all, among others too."""

from __future__ import annotations

import pytest
from shop import Shop

from fitlog.advice.history import History
from fitlog.families.example import example_of
from fitlog.families.faults import faults_of
from fitlog.families.names import FAMILIES
from fitlog.service.session import opened


@pytest.mark.parametrize("joint", FAMILIES)
def test_what_is_listed_is_accepted_as_listed(shop: Shop, joint: str) -> None:
    for command in (*example_of(joint).BEFORE, example_of(joint).EXAMPLE):
        shop.run(*command)
    known = faults_of(joint)
    every = known.looked_for(None, None, (), "mm").list
    with opened(str(shop.db), create=False) as (log, _):
        setup = log.setup(1)

    def seen(text: str) -> list[tuple[str, float | None]]:
        asked = known.looked_for(setup, History(), (text,), "mm").asked
        return [(one.symptom.code, one.size if one.source == "said" else None) for one in asked]

    for one, next_ in zip(every, (*every[1:], every[0]), strict=True):
        assert seen(one.words) == [(one.code, None)]
        size = 0.3 if one.size else None
        text = f"{one.words}{' 0.3' if one.size else ''}, {next_.words}"
        assert seen(text) == [(one.code, size), (next_.code, None)], text
        assert seen(f"{next_.words}; {one.words}") == [(next_.code, None), (one.code, None)]


@pytest.mark.parametrize("words", ["starts well, binds half way", "Starts well ,binds half way"])
def test_a_comma_within_a_symptom_parts_nothing(shop: Shop, words: str) -> None:
    for command in (*example_of("sliding").BEFORE, example_of("sliding").EXAMPLE):
        shop.run(*command)
    (found,) = shop.run("fault", words, "--json").document["found"]
    assert found["words"] == "starts well, binds half way"
    assert shop.refused("fault", f"{words} -3", code=2)
