"""The invented pegs, known for one test."""

from __future__ import annotations

import pytest
from toy_family.joint import PEGS, PegsPlan

from fitlog import families


@pytest.fixture
def pegs(registry: None) -> None:
    families.register(PEGS, PegsPlan, "toy_family")
