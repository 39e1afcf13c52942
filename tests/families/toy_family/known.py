"""The invented family, known for as long as a test patches what is registered."""

from __future__ import annotations

import pytest

from fitlog import families
from fitlog.families import names

from .joint import PEGS, PegsPlan


def make_known(monkeypatch: pytest.MonkeyPatch) -> None:
    """Register the pegs; undone with the patch."""
    monkeypatch.setitem(names.FAMILIES, PEGS.name, PEGS)
    monkeypatch.setitem(names.PLANS, PEGS.name, PegsPlan)
    monkeypatch.setitem(families.FOLDERS, PEGS.name, "toy_family")
    families.register(PEGS, PegsPlan, "toy_family")
