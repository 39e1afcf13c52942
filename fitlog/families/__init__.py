"""The joints fitlog can tune, by family. Geometry only: nothing here knows of logs, grids
or screens.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from importlib import import_module
from importlib.util import find_spec
from types import ModuleType
from typing import TYPE_CHECKING

from ..domain import Aspect, Family, Plan
from ..errors import Refused
from .box.names import BOX
from .box_steps.names import BOX_STEPS
from .family import Joint, Limit
from .half_blind.names import HALF_BLIND
from .half_lap.names import HALF_LAP
from .housing.names import HOUSING
from .lock_mitre.names import LOCK_MITRE
from .names import FAMILIES, PLANS, family_of
from .rabbet.names import RABBET
from .sliding.names import SLIDING
from .tenon.names import TENON
from .tongue_groove.names import TONGUE_GROOVE

if TYPE_CHECKING:
    from ..estimator.evidence import Voices

    Opener = Callable[[Plan, Voices | None, str, str | None], Joint]

__all__ = ["Joint", "Limit", "folder_of", "joint_of", "offered", "part_of", "register", "word_sets"]


# Where the folder of each is: its modules are found by name, since some build on the advice.
FOLDERS: dict[str, str] = {
    HALF_BLIND.name: f"{__name__}.half_blind",
    BOX.name: f"{__name__}.box",
    BOX_STEPS.name: f"{__name__}.box_steps",
    SLIDING.name: f"{__name__}.sliding",
    TENON.name: f"{__name__}.tenon",
    TONGUE_GROOVE.name: f"{__name__}.tongue_groove",
    HALF_LAP.name: f"{__name__}.half_lap",
    HOUSING.name: f"{__name__}.housing",
    RABBET.name: f"{__name__}.rabbet",
    LOCK_MITRE.name: f"{__name__}.lock_mitre",
}


def register(family: Family, plan: type[Plan], folder: str) -> None:
    """Add a family. plan: the class of its plans; folder: the package with its modules `joint` (a
    class `Opened` of the shape of `Joint`), `craft`, `truth` and, where words have a scale,
    `figures`.
    """
    FAMILIES[family.name], PLANS[family.name], FOLDERS[family.name] = family, plan, folder


def folder_of(joint: str) -> str:
    """Return the package of a joint's family; raise `Refused` for one that is not known."""
    return FOLDERS[family_of(joint).name]


def part_of(joint: str, name: str) -> ModuleType | None:
    """Return a module of a joint's folder that not every family has; name: dotted within it."""
    module = folder_of(joint)
    for step in name.split("."):  # a folder that is not there has no spec to ask
        module = f"{module}.{step}"
        if find_spec(module) is None:
            return None
    return import_module(module)


def offered(joint: str, name: str, what: str) -> ModuleType:
    """Return such a module; raise `Refused` ("other-joint") without it. what: it tells."""
    found = part_of(joint, name)
    if found is None:
        raise Refused(
            "other-joint",
            "fitlog knows no {what} of the {joint}",
            "name a set-up of another joint with --setup N",
            "take a set-up of another joint",
            what=what,
            joint=family_of(joint).called,
        )
    return found


def word_sets(joint: str, aspect: Aspect) -> Mapping[str, tuple[float, ...]]:
    """Return the edges between the words of an aspect whose scale is learnt, mm, by
    `Plan.word_set`: the family's module `figures` says them.
    """
    found: Callable[[Aspect], Mapping[str, tuple[float, ...]]]
    found = import_module(f"{folder_of(joint)}.figures").word_sets
    return found(aspect)


def joint_of(
    plan: Plan, voices: Voices | None = None, by: str = "", wood: str | None = None
) -> Joint:
    """Return the joint of a plan; raise `Refused` for one this version does not know.

    voices: how people use their words, where that is known.  by: the person at work.
    wood: what the pieces at work are cut in (`Plan.wood`); None: what the plan says.
    """
    opened: Opener = import_module(f"{folder_of(plan.joint)}.joint").Opened
    return opened(plan, voices, by, wood)
