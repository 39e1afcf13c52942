"""What to dial from where the machine was found, which the estimator never hears of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from ..domain import Remark, Settings, SetUp
from . import approach
from .craft import craft_of


@dataclass(frozen=True)
class Finding:
    """What was found, true mm by setting. left: where the machine was left by what the log says;
    approach: how to come to a height; cautions: what the moves to the settings advised make new.
    """

    setup: SetUp
    entry: int
    found: Mapping[str, float]
    left: Settings
    approach: Mapping[str, Remark]
    cautions: tuple[Remark, ...]

    @property
    def off(self) -> dict[str, float]:
        """How far each setting is from where it was left, mm."""
        return {name: value - self.left[name] for name, value in self.found.items()}

    @property
    def moves(self) -> dict[str, float]:
        """How far each setting is to be moved to what is advised, mm."""
        return {name: self.setup.shown[name] - value for name, value in self.found.items()}


def left_at(setup: SetUp) -> Settings:
    """Return where a set-up left the machine: at its last piece; before the first, at what was
    advised.
    """
    last = setup.last_piece()
    return last.settings if last else setup.shown


def finding(setup: SetUp, entry: int, found: Mapping[str, float]) -> Finding:
    """Return what there is to say of settings found, true mm by setting."""
    moves = dict.fromkeys(setup.plan.family.names, 0.0)
    moves |= {name: setup.shown[name] - value for name, value in found.items()}
    care = craft_of(setup.plan).cautions(setup.plan, moves)
    return Finding(setup, entry, found, left_at(setup), approach(moves, setup), care)
