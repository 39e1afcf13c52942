"""What makers say of tenons, tongues and laps, and what it means. Which words they use: common
practice, no source.
"""

from __future__ import annotations

import pytest

from fitlog.errors import NotUnderstood
from fitlog.families.typed import speech_of
from fitlog.language.phrases import parse_phrases

HEARD = {
    "tenon": {
        "very tight": "won't start",
        "tight": "a mallet would drive it; needs a mallet",
        "slightly tight": "goes half way; not all the way",
        "good": "firm hand in, pulled out by hand; push fit",
        "slightly loose": "slides in, holds its weight",
        "loose": "drops out when turned over; sloppy; wobbles",
        "very loose": "it rattles",
        "proud 0.30": "rail stands proud 0.3; stile sits low 0.3; stile shy 0.3",
        "shy 0.30": "rail sits low 0.3; stile proud 0.3; stile stands out 0.3; below flush 0.3",
        "flush": "faces level; flush all round; level to the touch",
        "open 0.40": "gap at shoulder 0.4; shoulder gaps 0.4; bottoms out 0.4",
        "closed": "no light at either shoulder; shoulders tight",
        "gap line": "gap at one shoulder",
    },
    "tongue-groove": {
        "very tight": "wont go in",
        "slightly tight": "hard push; drags",
        "good": "light hand, holds its own weight; moves by itself",
        "slightly loose": "slips together, drops when shaken",
        "proud 0.20": "tongue board proud 0.2; groove board sits low 0.2",
        "shy 0.20": "tongue board low 0.2; groove board proud 0.2",
        "flush": "boards level",
    },
    "half-lap": {
        "proud 0.30": "web 0.3; skin 0.3; too shallow 0.3; not deep enough 0.3; ridge 0.3",
        "slightly proud": "paper web; fuzz left",
        "flush": "meets; they just meet; web just goes; level to the touch",
        "shy 0.10": "notch 0.1; too deep 0.1; overcut 0.1",
    },
}


@pytest.mark.parametrize(
    ("joint", "typed", "meant"),
    [
        (joint, typed.strip(), meant)
        for joint, told in HEARD.items()
        for meant, phrases in told.items()
        for typed in phrases.split(";")
    ],
)
def test_what_makers_say_is_heard(joint: str, typed: str, meant: str) -> None:
    assert str(parse_phrases(typed, speech_of(joint))) == meant


@pytest.mark.parametrize(
    ("joint", "typed", "choices"),
    [
        ("tenon", "too fat", ("tight", "very tight")),
        ("tenon", "snug", ("slightly tight", "good")),
        # A firm hand is good for a tenon, and a little too much for boards that slide together.
        ("tongue-groove", "firm hand", ("slightly tight", "good")),
        ("half-lap", "hairline", ("closed", "slightly open")),
    ],
)
def test_what_may_mean_two_things_is_asked(
    joint: str, typed: str, choices: tuple[str, ...]
) -> None:
    with pytest.raises(NotUnderstood) as asked:
        parse_phrases(typed, speech_of(joint))
    assert asked.value.code == "which-meaning"
    assert tuple(choice.say for choice in asked.value.choices) == choices


@pytest.mark.parametrize(
    ("joint", "typed", "remedy"),
    [
        ("tenon", "tenon 8.08", "--read jaws=MORTISE:TENON"),
        ("tongue-groove", "groove 6.9", "--read jaws=GROOVE:TONGUE"),
    ],
)
def test_a_measure_is_told_where_it_goes(joint: str, typed: str, remedy: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        parse_phrases(typed, speech_of(joint))
    assert remedy in refused.value.hint
