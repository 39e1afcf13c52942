"""The recipes of DEVELOPERS.md, "Where a change goes", carried out: the rows that they name are
changed in a copy of the package, nothing else is, and the copy knows the new thing everywhere.

Another joint is `tests/families/toy_family`.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import brackets
import pytest
from shop import ROOT

NAMES, FIGURES = (f"families/half_blind/{name}.py" for name in ("names", "figures"))
READINGS = "families/half_blind/readings.py"
UNITS = "language/units.py"
Edit = tuple[str, str, str]  # a file, what stands there once, what takes its place
SHELVES = (
    "bit add heron --diameter 12.7 --angle 14 --cutting-length 13",
    "stock add ash --species ash --thickness 18 --width 150",
    "start",
)


class Changed:
    """A copy of the package with a recipe carried out, and a log of its own."""

    def __init__(self, folder: Path, change: str, edits: list[Edit]) -> None:
        self.folder, self.named = folder, row(change)
        # What is compiled comes along, as what is edited is newer; what is being written does not.
        half = shutil.ignore_patterns("*.pyc.*")
        shutil.copytree(ROOT / "fitlog", folder / "fitlog", ignore=half)
        shutil.copytree(ROOT / "data", folder / "data")
        for file, old, new in edits:
            assert Path(file).name in self.named, f"DEVELOPERS does not send one to {file}"
            path = folder / "fitlog" / file
            text = path.read_text(encoding="utf-8")
            assert text.count(old) == 1, (file, old)
            path.write_text(text.replace(old, new), encoding="utf-8")

    def __call__(self, *lines: str, **around: str) -> list[str]:
        """What commands print, one after the other in one process."""
        told = self.printed([sys.executable, "-c", RUN, *lines], **around)
        printed = re.split(r"^\$ (.*)\n", told, flags=re.M)
        assert printed[1::2] == [*lines]
        return printed[2::2]

    def printed(self, command: list[str], **around: str) -> str:
        """What a process prints that ends well."""
        ended = self._run(command, around)
        assert ended.returncode == 0, ended.stderr
        return ended.stdout

    def refused(self, line: str, **around: str) -> str:
        """What a command says that is not understood."""
        ended = self._run([sys.executable, "-m", "fitlog", *line.split()], around)
        assert ended.returncode == 2, ended.stderr
        return ended.stderr

    def _run(self, command: list[str], around: dict[str, str]) -> subprocess.CompletedProcess[str]:
        own = {"PYTHONPATH": str(self.folder), "COLUMNS": "200", "PYTHONIOENCODING": "utf-8"}
        own |= {"FITLOG_DB": str(self.folder / "recipe.db"), **around}
        environment = {**os.environ, **own}
        environment.pop("PYTHONDONTWRITEBYTECODE", None)
        return subprocess.run(
            command, env=environment, cwd=self.folder, capture_output=True, text=True, timeout=120
        )


def row(change: str) -> str:
    """Where DEVELOPERS says that a change goes."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    found = re.findall(rf"^\| {re.escape(change)} \| (.+) \|$", text, re.M)
    assert len(found) == 1, change
    return str(found[0])


def test_a_new_word(tmp_path: Path) -> None:
    """Snug, between slightly tight and good: spoken, weighed, listed, kept and exported."""
    shop = Changed(
        tmp_path,
        "a word of the trade",
        [
            (NAMES, '"slightly tight",\n', '"slightly tight",\n                "snug",\n'),
            (FIGURES, "(-0.06, 0.0, 0.04, 0.10, 0.18", "(-0.06, 0.0, 0.02, 0.04, 0.10, 0.18"),
            (FIGURES, "    0.04,\n    0.08,\n", "    0.04,\n    0.06,\n    0.08,\n"),
        ],
    )
    *_, cut, words, loose, _ = shop(
        *SHELVES, "cut snug --json", "words", "cut very loose --json", "log export out.json"
    )
    told = json.loads(cut)
    assert told["last"]["said"]["fit"] == "snug"
    assert told["moves"]["bit_height"] < 0  # it is tighter than good
    low, high = told["misfit"]["fit"]["interval90"]
    assert low < 0.04 and high > 0.0
    assert re.search(r"^snug +0\.02 to 0\.04 mm", words, re.M)
    assert json.loads(loose)["last"]["said"]["fit"] == "very loose"
    assert '"snug"' in (tmp_path / "out.json").read_text(encoding="utf-8")


def test_a_new_unit(tmp_path: Path) -> None:
    """Decimetres, typed in one place and another."""
    old = '    **dict.fromkeys(("turn", "turns"), ("turn", Fraction(0))),\n'
    shop = Changed(tmp_path, "a unit", [(UNITS, old, f'    "dm": ("mm", Fraction(100)),\n{old}')])
    bit_in_dm = "bit add heron --diameter 0.127dm --angle 14 --cutting-length 0.13dm"
    (bit,) = json.loads(shop(bit_in_dm, "bit list --json")[1])["bits"]
    assert bit["diameter"] == pytest.approx(12.7)


def test_a_new_reading(tmp_path: Path) -> None:
    """The play itself, by a feeler: it needs no layout, no option and no CHECK."""
    shop = Changed(
        tmp_path,
        "a reading, an instrument",
        [
            (NAMES, '        "pull_gap": "",\n', '        "pull_gap": "",\n        "play": "",\n'),
            (
                READINGS,
                "    return combine([(factor * gap, factor * defaults.FEELER) for gap in gaps])\n",
                '    play = [(r.value, 0.03) for r in piece.readings if r.kind == "play"]\n'
                "    found = [(factor * gap, factor * defaults.FEELER) for gap in gaps]\n"
                "    return combine([*play, *found])\n",
            ),
        ],
    )
    cut = "cut slightly loose --read play=0.15 --json"
    before, after = map(json.loads, shop(*SHELVES, "next --json", cut)[-2:])
    assert after["misfit"]["fit"]["sd"] < before["misfit"]["fit"]["sd"] / 2
    assert after["misfit"]["fit"]["mean"] == pytest.approx(0.15, abs=0.03)


# What no language changes: numbers, units, names that are the user's own, words of a verdict, what
# is typed or to be typed, a log's head, and what the library for command lines says itself.
AS_TYPED = """
knot chest shelf
snug mira heron ash poplar lean-to plough bit_height fence_offset socket_depth mm in to
fitlog Options Arguments very slightly
tight loose good gap baseline flank inside far near shaved centred flush proud shy turn deg health
"""
NO_TEXT = re.compile(
    r"fitlog [a-z]+(?= --)|half-blind dovetail|[0-9.]+-[0-9a-f]{32}"
    r"|Usage: .*|Show this message and exit\.|\[env var: \w+\]"
)
IN_BRACKETS = f"""
{SHELVES[0]}
{SHELVES[1]}
machine add lean-to --height-turn 1.6 --fence-step 0.5 --backlash 0.1
start --scrap-width 90 --scrap poplar
next
why
cut tight, proud 0.5, gap baseline 0.2 --walls 70.5 70.0
cut tight, gap flank --same-piece
fault gap baseline
cut slightly loose 0.4, centred, flush
cut good, centred, flush --down 0.05
cut good --height 400
cut snog
cut slightly
cut very slightly tight
cut slightly good
cut slightly gap near
cut slightly centred
cut fit
cut fence
cut seat
cut not tight
cut gap sideways
cut shaved
cut loose, tight
cut tight, tight
cut gap baseline, gap baseline
cut shy -0.5
cut loose -0.5
cut good 0.4
cut tight 0.4
cut loose 0
cut flush 0
cut gap flank 0
cut loose 9
cut 0.4
cut near
cut loose 1/2turn
cut gap flank 1/2turn
cut loose --down 1/8
cut loose --down 30
cut loose --down 0.1 --height 11
cut loose --set plough=1
cut loose --move up=1 --read mouth=1,2
cut loose --read walls=1
undo
redo
bit edit heron --diameter 12
bit edit heron --diameter 12 --angle 12
machine edit lean-to --height-zero 1
words --person nobody
show
note knot --title chest --kept shelf
note
undo
redo
outcome 1 loose
outcome
review nowhere
review
words
progress
stops
plan --width 150
finish
finish --as-it-is
outcome 1 loose
outcome 1 good
outcome
cut good
bit list
log where
log health
log health --help
start --stock oak
"""
RUN = """
import sys
from fitlog.fronts.cli import COMMANDS, app_of
app, sys.stderr = app_of(COMMANDS), sys.stdout
for line in sys.argv[1:]:
    print("$", line)
    try:
        app(line.split(), prog_name="fitlog")
    except SystemExit:
        pass
"""


def test_a_language(tmp_path: Path) -> None:
    """English in brackets, made of every text in the source: of these screens, refusals and help
    pages no word is outside of them but what is typed or somebody's own (`AS_TYPED`, `NO_TEXT`).

    Of a text its own words alone are in brackets, so a value put into it must be told itself. A
    sentence of a catalogue, and what a family's own screens say, is in brackets as a whole: what is
    put into those is not looked into.
    """
    row_of = ("texts.py", "LANGUAGES = (ENGLISH,)", 'LANGUAGES = (ENGLISH, "brackets")')
    shop = Changed(tmp_path, "a language", [row_of])
    own = tmp_path / "fitlog" / "families" / "half_blind" / "brackets"
    own.mkdir()
    for path, text in (
        (tmp_path / "fitlog" / "language" / "brackets.py", brackets.of_language()),
        (own / "__init__.py", brackets.OF_FAMILY),
        (own / "screens.py", brackets.SCREENS),
    ):
        path.write_text(text, encoding="utf-8")
    lines = IN_BRACKETS.strip().splitlines()
    told = shop(*lines, FITLOG_LANGUAGE="brackets", LOGNAME="mira")
    for line, out in zip(lines, told, strict=True):
        out = out.replace(str(tmp_path / "recipe.db"), "")
        typed = {*line.split(), *re.findall(r"--[a-z-]+|[A-Z]{2,}", out)}
        left = re.findall(r"[A-Za-z_]{2,}(?:-[a-z]+)*", NO_TEXT.sub("", brackets.outside(out)))
        left = [word for word in left if word not in AS_TYPED.split() and f"--{word}" not in typed]
        assert not set(left) - typed, (line, left)
        assert "«" in out, line
    missing = shop.refused("next", FITLOG_LANGUAGE="elvish")
    assert "elvish" in missing and "brackets" in missing
