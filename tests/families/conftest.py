"""The invented pegs, known for one test."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from toy_family.joint import PEGS, PegsPlan

from fitlog import families
from fitlog.families import names


@pytest.fixture
def pegs(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    for module, held in ((names, "FAMILIES"), (names, "PLANS"), (families, "FOLDERS")):
        monkeypatch.setattr(module, held, dict(getattr(module, held)))
    monkeypatch.setattr(families, "FAMILIES", names.FAMILIES)
    monkeypatch.setattr(families, "PLANS", names.PLANS)
    families.register(PEGS, PegsPlan, "toy_family")
    yield
