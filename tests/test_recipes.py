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
from typing import Any

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

    def __call__(self, line: str) -> str:
        """What a command prints."""
        around = {**os.environ, "PYTHONPATH": str(self.folder), "COLUMNS": "200"}
        around["FITLOG_DB"] = str(self.folder / "recipe.db")
        around.pop("PYTHONDONTWRITEBYTECODE", None)  # the copy is compiled once, not per command
        command = [sys.executable, "-m", "fitlog", *line.split()]
        ended = subprocess.run(
            command, env=around, cwd=self.folder, capture_output=True, text=True, timeout=120
        )
        assert ended.returncode == 0, ended.stderr
        return ended.stdout

    def json(self, line: str) -> Any:
        """The document that a command prints."""
        return json.loads(self(f"{line} --json"))


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
    for line in SHELVES:
        shop(line)
    told = shop.json("cut snug")
    assert told["last"]["said"]["fit"] == "snug"
    assert told["moves"]["bit_height"] < 0  # it is tighter than good
    low, high = told["misfit"]["fit"]["interval90"]
    assert low < 0.04 and high > 0.0
    assert re.search(r"^snug +0\.02 to 0\.04 mm", shop("words"), re.M)
    assert shop.json("cut very loose")["last"]["said"]["fit"] == "very loose"
    shop("log export out.json")
    assert '"snug"' in (tmp_path / "out.json").read_text(encoding="utf-8")


def test_a_new_unit(tmp_path: Path) -> None:
    """Decimetres, typed in one place and another."""
    old = '    **dict.fromkeys(("turn", "turns"), ("turn", Fraction(0))),\n'
    shop = Changed(tmp_path, "a unit", [(UNITS, old, f'    "dm": ("mm", Fraction(100)),\n{old}')])
    shop("bit add heron --diameter 0.127dm --angle 14 --cutting-length 0.13dm")
    (bit,) = shop.json("bit list")["bits"]
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
    for line in SHELVES:
        shop(line)
    before = shop.json("next")["misfit"]["fit"]["sd"]
    after = shop.json("cut slightly loose --read play=0.15")
    assert after["misfit"]["fit"]["sd"] < before / 2
    assert after["misfit"]["fit"]["mean"] == pytest.approx(0.15, abs=0.03)
