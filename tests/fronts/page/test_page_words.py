"""Nothing that a phone shows is a command to type, an option or anything else of a terminal: on
every screen of every joint, in what is refused, and in the sentences that no screen shows here.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator

import pytest
from paging import Page, Seen, paged
from shop import ROOT, Shop, command_line

from fitlog.families.example import example_of
from fitlog.families.faults import faults_of
from fitlog.families.names import FAMILIES
from fitlog.families.typed import typed_of
from fitlog.fronts.bench import read_at
from fitlog.language.english.actions import COMMANDS, KEYS, PAGE

_TOLD = ast.Module | ast.ClassDef | ast.FunctionDef
VERBS = "|".join(sorted(command_line().commands))
TYPED = re.compile(rf"fitlog (?:{VERBS})\b|(?<![\w-])--[a-z]|`")
# What only the shop's computer does: a change of the catalogue, a layout, a start by an option.
THERE = re.compile(
    rf"at the shop's computer: fitlog (?:{VERBS})(?: [a-z]+)?(?: NAME)?(?: --[^,;:.)]+)*"
    r"|fitlog plan at the shop's computer"
)
# What no screen of the page says: what `recover` tells, what is said of words that mean nothing to
# `fault`, where the page has a bar for each symptom, and the spelling of actions itself.
ELSEWHERE = ("recovery.py", "faults/words.py", "faults/vocabulary.py", "/actions.py")
BLOCKS = "start with --given set-by=blocks"  # `recover` again, of a lock mitre
SCREENS = (
    *("set", "cut", "judge", "number", "now", "boards", "check", "looked", "fault", "keep"),
    *("found", "found?again=1", "back", "finish", "progress", "begun"),
)
NONSENSE = ("wide", "-3", "4000", "1/8turn")


def complaints(text: str) -> list[str]:
    """What of a text is to be typed at a terminal, with a little of what stands around it."""
    told = THERE.sub("", text)
    return [told[max(0, m.start() - 60) : m.end() + 30] for m in TYPED.finditer(told)]


class Walk:
    """A walk over the page, on which every screen that is seen is read."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def see(self, seen: Seen) -> Seen:
        shown = " ".join([seen.text, *re.findall('aria-label="([^"]*)"', seen.html)])
        assert not complaints(shown), f"{seen.url}: {complaints(shown)}"
        assert seen.status != 500 and seen.code != "page-failed", seen.url
        return seen

    def get(self, *paths: str) -> None:
        for path in paths:
            self.see(self.page.get(path))

    def of(self, *screens: str) -> None:
        self.get(*(f"/s/1/{name}" for name in screens))

    def say(self, at: str, **fields: str) -> Seen:
        return self.see(self.page.say(f"/s/1/{at}", **fields))


def begun(shop: Shop, joint: str) -> None:
    example = example_of(joint)
    for command in (*example.BEFORE, example.EXAMPLE):
        shop.run(*command)


@pytest.mark.parametrize("joint", FAMILIES)
def test_no_screen_shows_what_is_to_be_typed(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, joint)
    family = FAMILIES[joint]
    with paged(shop.db) as page:
        walk = Walk(page)
        walk.get("/", "/start", "/start?new=1", f"/start?joint={joint.replace(' ', '%20')}")
        walk.of(*SCREENS)
        for symptom in faults_of(joint).looked_for(None, None, (), "mm").list:
            found = walk.see(page.get(f"/s/1/fault?what={symptom.code}"))
            assert f"{symptom.title} " in found.text and "Cure:" in found.text
            if symptom.size:
                walk.of(f"fault?what={symptom.code}&size=wide")
        for setting in family.names:
            for typed in NONSENSE:
                walk.see(page.cut(**{f"set.{setting}": typed}))
        walk.say("found", what="found", **{f"set.{family.names[0]}": "4000"})
        walk.say("cut", what="cut")
        for aspect in family.asked:
            walk.of("judge")
            for kind in read_at(family, aspect):
                other = {"other": "9"} if family.readings[kind] else {}
                for typed in ("", *NONSENSE):
                    walk.say("judge", what="reading", aspect=kind, text=typed, **other)
            walk.say("judge", what="word", aspect=aspect, text=family.words(aspect)[0])
            for typed in NONSENSE if "number" in walk.page.get("/s/1/number").url else ():
                walk.say("number", what="number", text=typed)
        walk.of("set", "now")
        words = {f"word.{aspect}": family.words(aspect)[0] for aspect in family.asked}
        walk.say("check", what="check", after="9", gap="", meant="1", **words)
        walk.of("boards?boards=nonsense", "boards?boards=front+1")
        for what in ("finish", "as-it-is", "finish"):
            walk.say("now", what=what)
        for about in ("title", "note", "kept", "outcome"):
            walk.say("keep", what="note", about=about, text="zzz")
        walk.of("found", "check", "keep")


@pytest.mark.parametrize("joint", FAMILIES)
def test_no_start_is_refused_with_what_is_to_be_typed(
    shop: Shop, monkeypatch: pytest.MonkeyPatch, joint: str
) -> None:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(begun, joint)
    shop.words("undo --yes")
    bit, stock, *_ = (command[2] for command in example_of(joint).BEFORE)
    angle = "0" if joint in ("half-blind dovetail", "sliding") else "7"  # of no such joint
    shop.words(f"bit add other --diameter 20 --angle {angle} --cutting-length 20")
    with paged(shop.db) as page:
        walk, own = Walk(page), {"what": "start", "joint": joint, "bit": bit, "stock": stock}
        tried = [{"bit": "other"}, {"bit": "none"}, {"again": "1"}, {"width": "x"}]
        names = [f"figure.{name}" for name in typed_of(joint).FIGURES]
        tried += [{name: typed} for name in names for typed in ("wide", "0.6", "90")]
        for n, fields in enumerate(tried):
            walk.see(page.post("/start", key=f"number-{n:04}", **{**own, **fields}))


def test_each_action_has_a_place_to_touch_or_is_of_the_computer() -> None:
    assert PAGE.keys() == COMMANDS.keys() == KEYS.keys()
    command = "fitlog bit edit"
    for action, spelled in PAGE.items():
        assert not complaints(spelled.replace("{command}", command)), action


def sentences() -> Iterator[tuple[str, str]]:
    """Each text of what remarks and faults say, with its file: all of it is said on the page too,
    in the page's spelling of actions.
    """
    families, shared = ROOT / "fitlog/families", ROOT / "fitlog/language/english"
    ways = ("*/english/*.py", "*/faults/*.py", "*/faults.py", "*/symptoms.py")
    for path in [*shared.glob("*.py"), *(path for way in ways for path in families.glob(way))]:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        nodes = [n for n in ast.walk(tree) if isinstance(n, _TOLD)]
        documented = {ast.get_docstring(node, clean=False) for node in nodes}
        for node in ast.walk(tree):
            match node:
                case ast.Constant(value=str(text)) if text not in documented:
                    yield path.as_posix(), text


def test_no_sentence_has_a_command_in_it_but_by_an_action() -> None:
    wrong = [
        f"{path}: {found}"
        for path, text in sentences()
        for found in complaints(text)
        if not path.endswith(ELSEWHERE)
        and BLOCKS not in text
        and not text.startswith("fitlog ")  # that alone is what the action "keep" is given
    ]
    assert not wrong, "\n".join(wrong)
