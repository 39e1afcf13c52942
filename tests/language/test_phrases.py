"""What was said: sentences to verdicts. The grammar is fitlog's own, so the tables here are its
definition.

Outside source: 1 in = 25.4 mm exactly (NIST SP 811, appendix B). The limits of plausible sizes are
common practice, no source.
"""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import pytest
from hypothesis import assume, example, given, seed
from hypothesis import strategies as st

from fitlog.domain import Aspect, Fault, Said, Verdict
from fitlog.errors import FitlogError, NotUnderstood, Refused
from fitlog.families.half_blind.names import FAULT_PLACES, WORDS, judged, say
from fitlog.families.half_blind.speech import (
    EXTRA_WIDTH_LIMIT,
    PULL_GAP_LIMIT,
    SPEECH,
    STEP_LIMIT,
)
from fitlog.language import phrases
from fitlog.language.phrases import FAULT_GAP_LIMIT

VOCABULARY = SPEECH.vocabulary


def parse_phrases(words: Sequence[str] | str, units: str = "mm") -> Verdict:
    """What is said of a half-blind dovetail."""
    return phrases.parse_phrases(words, SPEECH, units=units)


def verdict(
    fit: str = "", centre: str = "", seat: str = "", /, *faults: Fault, **sizes: float
) -> Verdict:
    """Build a verdict from words; sizes go by the aspect's name."""
    words: dict[Aspect, str] = {"fit": fit, "centre": centre, "seat": seat}
    said = {a: say(a, w, sizes.get(a)) if w else None for a, w in words.items()}
    return judged(said["fit"], said["centre"], said["seat"], faults)


ACCEPTED: list[tuple[str, Verdict]] = [
    ("", Verdict()),
    (" ,; ", Verdict()),
    ("good", verdict("good")),
    ("GOOD, Flush", verdict("good", "", "flush")),
    (
        "slightly tight, gap far 0.35, proud 0.2mm",
        verdict("slightly tight", "gap far", "proud", centre=0.35, seat=0.2),
    ),
    (
        "slightly tight gap far 0.35 proud 0.2 mm",
        verdict("slightly tight", "gap far", "proud", centre=0.35, seat=0.2),
    ),
    ("good 0.2", verdict("good", fit=0.2)),
    ("slightly tight 0.1", verdict("slightly tight", fit=0.1)),
    ("loose by 0,4", verdict("loose", fit=0.4)),
    ("very loose", verdict("very loose")),
    ("tight", verdict("tight")),
    ("very tight", verdict("very tight")),
    ("a bit tight", verdict("slightly tight")),
    ("bit tight", verdict("slightly tight")),
    ("a little loose", verdict("slightly loose")),
    ("little loose", verdict("slightly loose")),
    ("a touch proud", verdict("", "", "slightly proud")),
    ("a little bit shy", verdict("", "", "slightly shy")),
    ("too tight", verdict("tight")),
    ("a bit too tight", verdict("slightly tight")),
    ("much too loose", verdict("very loose")),
    ("slightly-tight", verdict("slightly tight")),
    ("very very shy", verdict("", "", "very shy")),
    ("slightly on the tight side", verdict("slightly tight")),
    ("It is the fit: good. It's flush!", verdict("good", "", "flush")),
    ("centred", verdict("", "centred")),
    ("centered", verdict("", "centred")),
    ("gap far", verdict("", "gap far")),
    ("gap at the near edge of 0.3", verdict("", "gap near", centre=0.3)),
    ("shaved far 0.3", verdict("", "gap far", centre=0.3)),
    ("shaved near", verdict("", "gap near")),
    ("tight,gap near", verdict("tight", "gap near")),
    ("tight;gap near and shy but", verdict("tight", "gap near", "shy")),
    ("proud 0,3,tight", verdict("tight", "", "proud", seat=0.3)),
    ("proud 0,3 , tight", verdict("tight", "", "proud", seat=0.3)),
    ("proud +0.3", verdict("", "", "proud", seat=0.3)),
    ("proud 1/16", verdict("", "", "proud", seat=25.4 / 16)),
    ("proud 1/16in", verdict("", "", "proud", seat=25.4 / 16)),
    ("proud 1/16 in.", verdict("", "", "proud", seat=25.4 / 16)),
    ('proud 1/64"', verdict("", "", "proud", seat=25.4 / 64)),
    ("shy 4 thou", verdict("", "", "shy", seat=0.1016)),
    ("gap baseline", verdict("", "", "", Fault("baseline"))),
    ("gap at the baseline of 0.2 mm", verdict("", "", "", Fault("baseline", 0.2))),
    ("gap on the inside", verdict("", "", "", Fault("inside"))),
    ("gap flank 0.2, good", verdict("good", "", "", Fault("flank", 0.2))),
    ("gap at the fence 0.2", verdict("", "gap near", centre=0.2)),
    ("0.3 proud", verdict("", "", "proud", seat=0.3)),
    ("good, about 1/64 proud", verdict("good", "", "proud", seat=25.4 / 64)),
    ("proud by about 0.3", verdict("", "", "proud", seat=0.3)),
    ("proud by a hair", verdict("", "", "slightly proud")),
    ("loose, a hair proud", verdict("loose", "", "slightly proud")),
    ("gap", verdict("", "", "", Fault("unplaced"))),
    ("gap 0.2", verdict("", "", "", Fault("unplaced", 0.2))),
    ("gap tight", verdict("tight", "", "", Fault("unplaced"))),
    ("gap much too tight", verdict("very tight", "", "", Fault("unplaced"))),
    ("gap gap far", verdict("", "gap far", "", Fault("unplaced"))),
    (
        "gap inside 1, gap baseline gap far",
        verdict("", "gap far", "", Fault("baseline"), Fault("inside", 1.0)),
    ),
]


@pytest.mark.parametrize(("text", "expected"), ACCEPTED, ids=[t or "empty" for t, _ in ACCEPTED])
def test_understands(text: str, expected: Verdict) -> None:
    assert parse_phrases(text) == expected
    assert parse_phrases(text.split()) == expected


@pytest.mark.parametrize(
    "text", ["proud 1 1/16in", "proud 1 1/16 in", "proud 1-1/16in", "proud 1 1/16"]
)
def test_mixed_fractions_are_one_size(text: str) -> None:
    # 1 1/16 in is 26.9875 mm: read whole it is refused, read as 1 in + a stray 1/16 it would be
    # another error
    with pytest.raises(Refused) as caught:
        parse_phrases(text)
    assert caught.value.code == "absurd-size"
    assert parse_phrases(text.replace("1", "0", 1)).of("seat") == say("seat", "proud", 25.4 / 16)


@pytest.mark.parametrize(("units", "size"), [("mm", 0.1), ("inch", 2.54), ("fraction", 2.54)])
def test_bare_sizes_are_in_the_preferred_unit(units: str, size: float) -> None:
    assert parse_phrases("gap far 0.1", units=units).of("centre") == say("centre", "gap far", size)
    assert parse_phrases("gap far 0.1 mm", units=units).of("centre") == say(
        "centre", "gap far", 0.1
    )


REFUSED: list[tuple[str, str, str]] = [  # text, code, part of message or hint
    ("tight, loose", "contradiction", 'both "tight" and "loose" were said of the fit'),
    ("good, slightly loose", "contradiction", "one cut per piece"),
    ("tight tight", "contradiction", '"tight" was said twice of the fit'),
    ("proud 0.2 proud 0.3", "contradiction", '"proud" was said twice of the seat'),
    ("centred gap far", "contradiction", "of the centre"),
    ("gap far shaved near", "contradiction", "of the centre"),
    ("gap far shaved far", "contradiction", '"gap far" was said twice'),
    ("flush, shy", "contradiction", "of the seat"),
    ("gap inside gap inside 0.2", "contradiction", '"gap inside" was said twice'),
    ("gap, gap", "contradiction", '"gap" was said twice'),
    ("tight 0.2", "tight-with-gap", "say tight without a number"),
    ("very tight 0.2", "tight-with-gap", "say very tight without a number"),
    ("loose 6.1", "absurd-size", "6 mm"),
    ("gap far 0.3in", "absurd-size", "did you mean 0.3 mm?"),
    ("proud 10.1", "absurd-size", "10 mm"),
    ("gap baseline 0.5 in", "absurd-size", "did you mean 0.5 mm?"),
    ("proud 3 in the", "absurd-size", "did you mean 3 mm?"),
    ("centred 0.1", "no-size", "say gap far 0.1 or gap near 0.1"),
    ("flush 0.1", "no-size", "say proud 0.1 or shy 0.1"),
    ("flush -0.1", "no-size", "say proud 0.1 or shy 0.1"),
    ("slightly good", "bad-degree", "slightly tight or slightly loose"),
    ("very flush", "bad-degree", "slightly proud or slightly shy"),
    ("slightly centred", "bad-degree", "gap far or gap near"),
    ("slightly gap", "bad-degree", "gap far 0.25"),
    ("very shaved far", "bad-degree", "shaved far 0.25"),
    ("slightly very tight", "bad-degree", "only one of them"),
    ("slightly", "dangling-degree", "say slightly tight"),
    ("slightly, tight", "dangling-degree", "say slightly tight"),
    ("good much too", "dangling-degree", "say very tight"),
    ("gap slightly far", "stray-place", "say gap far"),
    ("far", "stray-place", "say gap far"),
    ("tight baseline", "stray-place", "say gap baseline"),
    ("gap near baseline", "stray-place", "say gap baseline"),
    ("gap, far", "stray-place", "say gap far"),
    ("shaved", "no-place", "shaved far or shaved near"),
    ("shaved baseline", "no-place", "shaved far or shaved near"),
    ("0.3", "stray-number", '"0.3"'),
    ("0.3, proud", "stray-number", "then its size"),
    ("good, 0.3 proud 0.2", "stray-number", '"0.3"'),
    ("proud 0.3 0.4", "stray-number", '"0.4"'),
    ("proud -0.2", "bad-size", "say shy 0.2"),
    ("slightly shy -0.2mm", "bad-size", "say proud 0.2mm"),
    ("gap far -0.2", "bad-size", "say gap near 0.2"),
    ("loose -0.2", "bad-size", "negative"),
    ("gap flank -0.2", "bad-size", "negative"),
    ("proud 0", "bad-size", "say flush"),
    ("gap near 0.0", "bad-size", "say centred"),
    ("good 0", "bad-size", "leave the number out"),
    ("gap inside 0", "bad-size", "leave out a gap"),
    ("proud 1e3", "bad-length", '"1e3"'),
    ("proud 5/8 mm", "bad-length", "0.625 mm"),
    ("proud 0,3,0,4", "bad-length", '"0,3,0,4"'),
    ("proud 1/8 turn", "bad-length", "cannot be in turns"),
    ("proud 2turns", "bad-length", "cannot be in turns"),
    ("proud 1/0", "bad-length", "divides by zero"),
    ("thight", "unknown-word", "did you mean tight"),
    ("quite tight", "which-meaning", "say slightly tight (firm hand pressure)"),
    ("not tight", "which-meaning", "slightly loose, loose or very loose"),
    ("not very tight", "unknown-word", "leave out"),
    ("no gap", "unknown-word", "leave out"),
    ("much tight", "unknown-word", '"much"'),
    ("seat tight", "bad-word", "flush, proud or shy"),
    ("centre flush", "bad-word", "gap far or gap near"),
    ("gap lid", "unknown-word", "far, near, baseline, inside or flank"),
    ("gap corner", "which-meaning", "gap baseline or gap inside"),
    ("gap on the side", "unknown-word", "far, near, baseline, inside or flank"),
    ("gap flnk", "unknown-word", "flank"),
    ("gap at the fnece", "unknown-word", "did you mean gap at the fence"),
    ("fence", "unknown-word", "say gap near"),
    ("good?", "unknown-word", "did you mean good"),
    ("good -", "unknown-word", '"-"'),
    ("good \x1b[31m", "unknown-word", '"\\x1b[31m"'),
    ("good --height 3", "unknown-option", '"--height" is no option of cut'),
    ("gap -x", "unknown-option", '"-x" is no option of cut'),
    ("it is", "nothing-said", "judges nothing"),
    ("x" * 500, "unknown-word", "x" * 40 + "..."),
    ("good " * 500, "text-too-long", "2500"),
]
EXIT_ONE = {"contradiction", "tight-with-gap", "absurd-size"}


@pytest.mark.parametrize(("text", "code", "part"), REFUSED, ids=[t[:30] for t, _, _ in REFUSED])
def test_refuses(text: str, code: str, part: str) -> None:
    with pytest.raises(FitlogError) as caught:
        parse_phrases(text)
    error = caught.value
    assert error.code == code
    assert part in f"{error.message} | {error.hint}"
    assert error.hint
    assert error.exit_code == (1 if code in EXIT_ONE else 2)
    assert error.message.isprintable()
    assert len(error.message) < 140


def test_limits_are_still_plausible() -> None:
    text = (
        f"loose {PULL_GAP_LIMIT} gap far {EXTRA_WIDTH_LIMIT} proud {STEP_LIMIT} gap flank "
        f"{FAULT_GAP_LIMIT}"
    )
    said = parse_phrases(text)
    assert said.of("seat") == say("seat", "proud", STEP_LIMIT)
    assert said.faults == (Fault("flank", FAULT_GAP_LIMIT),)


def test_vocabulary_holds_every_word_of_the_domain() -> None:
    spoken = {part for words in WORDS.values() for word in words for part in word.split()}
    assert spoken | set(FAULT_PLACES[:-1]) | {"shaved"} == set(VOCABULARY)
    assert len(VOCABULARY) == len(set(VOCABULARY))


_UNSIZED = {"tight", "very tight", "centred", "flush"}
_SIZES = st.one_of(
    st.none(), st.integers(1, 600).map(lambda n: n / 100)
)  # two decimals, as they are shown


def _said(aspect: Aspect) -> st.SearchStrategy[Said | None]:
    words = st.sampled_from(WORDS[aspect])
    pairs = st.tuples(words, _SIZES).map(
        lambda p: say(aspect, p[0], None if p[0] in _UNSIZED else p[1])
    )
    return st.one_of(st.none(), pairs)


def _verdicts() -> st.SearchStrategy[Verdict]:
    chosen = st.lists(st.sampled_from(FAULT_PLACES), unique=True)
    in_order = chosen.map(lambda places: sorted(places, key=FAULT_PLACES.index))
    faults = in_order.flatmap(
        lambda places: st.tuples(*(st.builds(Fault, st.just(p), _SIZES) for p in places))
    )
    return st.builds(judged, _said("fit"), _said("centre"), _said("seat"), faults)


@given(_verdicts())
@seed(11)
def test_what_is_shown_is_understood_again(said: Verdict) -> None:
    assume(not said.empty)
    assert parse_phrases(str(said)) == said
    assert parse_phrases(str(said).split()) == said


@given(_said("fit"), _said("centre"), _said("seat"))
@seed(12)
def test_order_does_not_matter_and_commas_hardly_do(
    fit: Said | None, centre: Said | None, seat: Said | None
) -> None:
    expected = judged(fit, centre, seat)
    phrases = [str(said) for said in (fit, centre, seat) if said]
    for order in itertools.permutations(phrases):
        for separator in (", ", ",  ", "; ", " and "):
            assert parse_phrases(separator.join(order)) == expected
        try:
            assert parse_phrases(" ".join(order)) == expected
        except NotUnderstood as error:  # a number that two words could have is asked about
            assert error.code == "which-meaning"
            assert expected in [_answered(choice.instead) for choice in error.choices]


def _answered(text: str) -> Verdict:
    """What was said, in which every number asked about is that of the word before it."""
    try:
        return parse_phrases(text)
    except NotUnderstood as error:
        assert error.code == "which-meaning"
        return _answered(error.choices[1].instead)


@given(st.text(), st.sampled_from(["mm", "inch", "fraction"]))
@seed(13)
@example("good " + "9" * 1900, "mm")
@example("proud 1" + " 1/2" * 400, "inch")
@example("\ud800 \x00 \u202e", "mm")
def test_any_text_is_a_verdict_or_an_expected_error(text: str, units: str) -> None:
    try:
        assert isinstance(parse_phrases(text, units=units), Verdict)
    except FitlogError as error:
        assert error.message.isprintable()


_PIECES = (
    *VOCABULARY,
    "a",
    "bit",
    "too",
    "much",
    "the",
    "and",
    ",",
    ";",
    "0.3",
    "0,3",
    "-1",
    "1",
    "1/16",
    "in",
    "mm",
    "turn",
    "-x",
    "\u2033",
    "nonsense",
    ".",
    "1e3",
    "far,0.2",
)


@given(st.lists(st.sampled_from(_PIECES), max_size=8))
@seed(14)
def test_any_words_are_a_verdict_or_an_expected_error(words: list[str]) -> None:
    try:
        said = parse_phrases(words)
    except (Refused, NotUnderstood) as error:
        assert error.hint
    else:
        judged = [w for w in words if w in VOCABULARY]
        assert said.empty == (not judged)
