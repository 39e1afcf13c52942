"""What only some families offer (stops, faults, a way back): the pegs without any, and with some.

No outside source: these are promises of the use cases themselves; the pegs are invented.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
import toy_family
from building import BIT, STARTED, STOCK
from toy_family.joint import PEGS, PegsPlan, set_to

from fitlog.advice.history import History
from fitlog.domain import SetUp
from fitlog.errors import Refused
from fitlog.families.boards import boards_of
from fitlog.families.faults import faults_of
from fitlog.families.recovering import recovering
from fitlog.language.units import Ruler
from fitlog.render.sheet.pages import sheet
from fitlog.service.boards import for_sheet
from fitlog.service.faults import faults

PLAN = PegsPlan(BIT, STOCK, STOCK, None, 150.0, 17.0, 17.0, spacing=30.0)
SETUP = SetUp(1, PLAN, set_to(10.0, 17.0), set_to(10.0, 17.0), STARTED)
BENCH: Any = SimpleNamespace(past=lambda _: History(), ruler=Ruler("mm"))
FAULTS = """
from fitlog.families.faults import Faults, Symptom

VOCABULARY = ("split",)


def looked_for(setup, past, words, units):
    return Faults(setup, (), (), (Symptom("split", "split", "A peg splits", (), ()),), ())
"""

pytestmark = pytest.mark.usefixtures("pegs")


@pytest.mark.parametrize("offer", [boards_of, faults_of, recovering])
def test_a_family_without_gets_one_sentence(offer: Callable[[str], object]) -> None:
    with pytest.raises(Refused) as told:
        offer(PEGS.name)
    assert told.value.code == "other-joint"
    assert PEGS.name in told.value.message and "--setup N" in told.value.hint


def test_a_family_offers_its_own_faults(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    (tmp_path / "faults.py").write_text(FAULTS, encoding="utf-8")
    monkeypatch.setattr(toy_family, "__path__", [*toy_family.__path__, str(tmp_path)])
    monkeypatch.setitem(sys.modules, "toy_family.faults", None)  # forgotten after the test
    del sys.modules["toy_family.faults"]
    found = faults(BENCH, SETUP, (), "mm")
    assert found.setup is SETUP and [symptom.code for symptom in found.list] == ["split"]


def test_a_sheet_needs_no_stops() -> None:
    job = for_sheet(BENCH, SETUP, None)
    assert job.setup is SETUP and job.status == "tuning" and job.standing.code == "tuning"
    assert job.settings.family is PEGS and job.cautions
    assert len(sheet(job, "a4", Ruler("mm"), lambda text, size, _: size * len(text) / 5)) == 1
    with pytest.raises(Refused, match=PEGS.name):
        for_sheet(BENCH, SETUP, 5)  # so many tails mean nothing here
