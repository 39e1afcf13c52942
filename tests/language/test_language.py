"""Every remark is data until a front says it: each code has its sentence, each sentence its code,
and another language would be one catalogue.
"""

from __future__ import annotations

import ast
import inspect
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from shop import ROOT, Shop

from fitlog.advice.cautions import GENERAL
from fitlog.domain import Remark
from fitlog.families import folder_of, telling
from fitlog.families.half_blind.names import ASPECTS, HALF_BLIND
from fitlog.families.names import family_of, joints
from fitlog.language.english.actions import COMMANDS, KEYS
from fitlog.language.saying import Catalogue, Sentence, Tongue
from fitlog.language.units import Ruler

PACKAGE = ROOT / "fitlog"
FILES = sorted(PACKAGE.rglob("*.py"))
# What an f-string of a code is made with, by the name of the expression's last part.
PARTS = {
    "aspect": ASPECTS,
    "place": ("baseline", "inside", "flank"),
    "way": ("tighter", "looser"),
    "kind": ("nothing", "twice"),
    "direction": ("tight", "loose"),
    "_step(can)": ("step", "stack"),
}
# Codes that are looked up and not written where the remark is made.
LOOKED_UP = {
    "advice/cautions.py": tuple(r.code for r in GENERAL),
}


def written(code: ast.expr) -> list[str] | None:
    """The codes that an expression can stand for; None where they are looked up."""
    if isinstance(code, ast.Constant):
        return [str(code.value)]
    if isinstance(code, ast.IfExp):
        found = [written(code.body), written(code.orelse)]
        return [c for some in found for c in some or []]
    if isinstance(code, ast.JoinedStr):
        codes = [""]
        for part in code.values:
            texts = [ast.unparse(part)]
            if isinstance(part, ast.Constant):
                texts = [str(part.value)]
            elif isinstance(part, ast.FormattedValue):
                texts = list(PARTS[ast.unparse(part.value).split(".")[-1]])
            codes = [a + b for a in codes for b in texts]
        return codes
    return None


@cache
def raised() -> tuple[tuple[str, str, set[str] | None], ...]:
    """All that `_raised` finds, looked for once."""
    return tuple(_raised())


def _raised() -> Iterator[tuple[str, str, set[str] | None]]:
    """Every code that can be raised: file, code, and the names of its values, None where they are
    put together.
    """
    for path in FILES:
        name = str(path.relative_to(PACKAGE))
        if name == "domain/advice.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            assert node.func.id != "Remark", f"{name}:{node.lineno} makes a remark by hand"
            if node.func.id == "remark":
                names = {k.arg for k in node.keywords}
                given = None if None in names else {n for n in names if n is not None}
                for code in written(node.args[0]) or LOOKED_UP[name]:
                    yield name, code, given


OURS = telling.catalogue(HALF_BLIND.name)
# The joints that a folder of the families speaks for, where that is not the half-blind's own.
FOLDERS = {
    "fingers": ("box", "box-steps"),
    "flip": ("tenon", "tongue-groove", "half-lap"),
    "sheets": ("housing", "rabbet"),
    "symptoms.py": tuple(j for j in joints()[1:] if j != "sliding"),  # which has a table of its own
    **{folder_of(j).split(".")[-1]: (j,) for j in joints()[1:]},
}


def others(file: str) -> tuple[str, ...]:
    """The other joints whose remarks a file makes."""
    parts = file.split("/")
    return FOLDERS.get(parts[1], ()) if parts[0] == "families" else ()


def sentence(code: str, known: Catalogue = OURS) -> tuple[str, Sentence]:
    """The key of a code in a catalogue and its sentence."""
    parts = (*ASPECTS, *PARTS["place"], "creep", "corner", "bottom", "lean")
    keys = [code, *(code.replace(part, "*", 1) for part in parts if part in code)]
    key = next(k for k in keys if k in known.sentences)
    return key, known.sentences[key]


# What is remarked on whatever the family is: each of these has a sentence for a family without own.
SHARED = {
    f"advice/{name}.py"
    for name in (
        *("__init__", "cautions", "doubles", "drift", "lapses", "notices", "reasons"),
        *("surprises", "telltales"),
    )
}


def test_every_code_has_a_sentence_and_every_sentence_a_code() -> None:
    assert len(raised()) > 80
    used = {sentence(code)[0] for file, code, _ in raised() if not others(file)}
    shared = [code for file, code, _ in raised() if file in SHARED]
    assert len(shared) > 40
    used |= {sentence(code, telling.GENERAL)[0] for code in shared}
    assert used == set(OURS.sentences)


@pytest.mark.parametrize("joint", joints()[1:])
def test_every_sentence_of_another_joint_has_a_code(joint: str) -> None:
    known, places = telling.catalogue(joint), family_of(joint).faults[:-1]
    used = {code for _, code, _ in raised()} | {f"gap-{place}" for place in places}
    assert used >= known.sentences.keys() - telling.GENERAL.sentences.keys()


def test_a_sentence_takes_the_values_of_its_remark() -> None:
    for file, code, given in raised():
        told = [sentence(code, telling.catalogue(joint))[1] for joint in others(file)]
        told = told or [sentence(code)[1]]
        told += [sentence(code, telling.GENERAL)[1]] if file in SHARED else []
        for taken in (list(inspect.signature(one).parameters.values())[1:] for one in told):
            if given is None or any(p.kind is p.VAR_KEYWORD for p in taken):
                continue
            needed = {p.name for p in taken if p.default is p.empty}
            assert needed <= given <= {p.name for p in taken}, (file, code)


def test_nothing_below_the_language_knows_a_unit_or_a_command() -> None:
    """Advice makes no sentence: it imports no ruler, and spells no command of the shell."""
    for path in (PACKAGE / "advice").glob("*.py"):
        text = path.read_text(encoding="utf-8")
        assert "language" not in re.findall(r"from \.+(\w+)", text), path
        assert "`fitlog" not in text and "`--" not in text, path


def test_each_front_spells_every_action() -> None:
    named = set()
    for path in FILES:
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            func = node.func if isinstance(node, ast.Call) else None
            if isinstance(node, ast.Call) and getattr(func, "attr", "") == "act":
                assert isinstance(node.args[0], ast.Constant), path
                named.add(node.args[0].value)
    assert named <= set(COMMANDS) and set(KEYS) == set(COMMANDS)
    assert set(COMMANDS) - named == {"finish"}  # of how a set-up stands, which is no remark


ENGLISH = telling.catalogue


class Shouting:
    """A language of its own: a sentence is its code in brackets. said: what English would say."""

    def __init__(self) -> None:
        self.said: dict[str, set[str]] = {}

    @cache  # noqa: B019
    def catalogue(self, joint: str) -> Catalogue:
        """What `telling.catalogue` is in this language."""
        known = ENGLISH(joint)
        sentences = {code: self._shout(told) for code, told in known.sentences.items()}
        short = {code: told and self._shout(told) for code, told in known.short.items()}
        return known._replace(sentences=sentences, short=short)

    def _shout(self, told: Sentence) -> Sentence:
        def shout(t: Tongue, **values: object) -> str:
            english = told(t, **values)
            if not english:  # it can wait for `why`
                return ""
            bracketed = f"<{len(self.said):03d}-{told.__name__.strip('<>')}>"
            bracketed = next((b for b, e in self.said.items() if english in e), bracketed)
            self.said.setdefault(bracketed, set()).add(english)
            return bracketed

        return shout


@pytest.fixture
def shouting(monkeypatch: pytest.MonkeyPatch) -> Shouting:
    made = Shouting()
    monkeypatch.setattr(telling, "catalogue", made.catalogue)
    return made


LINES = (
    "start --scrap-width 90",
    "next",
    "cut tight, proud 0.5, gap baseline 0.2 --walls 70.5 70.0",
    "cut tight, gap flank --same-piece",
    "fault",
    "fault gap baseline",
    "cut slightly loose 0.4, centred, flush",
    "cut good, centred, flush --down 0.05",
    "stops",
    "recover --pitch 23 --mouth 10.1 --tail-width 12.9",
    "finish --as-it-is",
    "stops --why",
)


def one_line(text: str) -> str:
    return " ".join(text.split())


def texts(document: Any) -> Iterator[str]:
    """What a document says, wherever in it."""
    if isinstance(document, dict):
        yield from (document[name] for name in ("text", "test", "cure") if name in document)
        yield from (why for why in document.get("why", ()))
        yield from (text for part in document.values() for text in texts(part))
    elif isinstance(document, list):
        yield from (text for part in document for text in texts(part))


@pytest.mark.parametrize("as_json", [False, True])
def test_no_remark_reaches_a_screen_but_through_the_catalogue(
    shop: Shop, shouting: Shouting, as_json: bool
) -> None:
    shop.stocked(machine={"height-turn": "1.6", "fence-step": "0.5", "backlash": "0.1"})
    for line in LINES:
        result = shop.words(f"{line} --json" if as_json else line)
        out = one_line(result.out)
        for english in (e for told in shouting.said.values() for e in told):
            assert english not in out, (line, english)
        if as_json:
            assert all(text in shouting.said for text in texts(result.document)), line
        else:
            told = re.findall(r"^(?:- |[0-9]+\. )(<[^>]*>|.*$)", result.out, re.M)
            assert all(t in shouting.said for t in told), line
    assert len(shouting.said) > 40


def test_another_language_changes_no_decision(shop: Shop, shouting: Shouting) -> None:
    """The settings hang on no sentence."""
    shop.stocked(machine={"height-turn": "1.6", "fence-step": "0.5"})
    found = shop.json("start")
    assert all(r["text"] in shouting.said for r in found["reasons"])
    assert found["settings"]["bit_height"] > 1


def test_an_unknown_code_is_an_error_of_ours() -> None:
    with pytest.raises(KeyError):
        telling.say(Remark("no-such-code"), Ruler())
