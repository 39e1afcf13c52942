"""The families that fitlog knows, as what each declares: no geometry, so that the log and the
readers of text may ask here too.
"""

from __future__ import annotations

from collections.abc import Iterable

from ..domain import Family, Plan, SettingKind
from ..errors import Refused
from .box.names import BOX
from .box.plan import BoxPlan
from .box_steps.names import BOX_STEPS
from .box_steps.plan import StepsPlan
from .half_blind.names import HALF_BLIND
from .half_blind.plan import DovetailPlan
from .half_lap.names import HALF_LAP
from .half_lap.plan import LapPlan
from .housing.names import HOUSING
from .housing.plan import HousingPlan
from .lock_mitre.names import LOCK_MITRE
from .lock_mitre.plan import MitrePlan
from .rabbet.names import RABBET
from .rabbet.plan import RabbetPlan
from .sliding.names import SLIDING
from .sliding.plan import SlidingPlan
from .tenon.names import TENON
from .tenon.plan import TenonPlan
from .tongue_groove.names import TONGUE_GROOVE
from .tongue_groove.plan import TonguePlan

FAMILIES: dict[str, Family] = {
    family.name: family
    for family in (
        HALF_BLIND,
        BOX,
        BOX_STEPS,
        SLIDING,
        TENON,
        TONGUE_GROOVE,
        HALF_LAP,
        HOUSING,
        RABBET,
        LOCK_MITRE,
    )
}
# What a plan of each is: its own fields are the family's named figures.
PLANS: dict[str, type[Plan]] = {
    HALF_BLIND.name: DovetailPlan,
    BOX.name: BoxPlan,
    BOX_STEPS.name: StepsPlan,
    SLIDING.name: SlidingPlan,
    TENON.name: TenonPlan,
    TONGUE_GROOVE.name: TonguePlan,
    HALF_LAP.name: LapPlan,
    HOUSING.name: HousingPlan,
    RABBET.name: RabbetPlan,
    LOCK_MITRE.name: MitrePlan,
}


_OWN_OPTION = ("height", "fence", "depth")  # parts whose setting has an option of its own in `cut`


def joints() -> tuple[str, ...]:
    """Return the joints that are known, in the order in which their families were registered."""
    return tuple(FAMILIES)


def first_joint() -> str:
    """Return the joint that is meant where none is named: that of the family registered first."""
    return joints()[0]


def family_of(joint: str) -> Family:
    """Return what the family of a joint declares; raise `Refused` for one this version does not
    know.
    """
    if joint not in FAMILIES:
        raise Refused(
            "unknown-joint",
            "this version does not know the joint {joint!r}",
            "update fitlog",
            joint=joint,
        )
    return FAMILIES[joint]


def machine_parts() -> tuple[str, ...]:
    """Return the parts of machines that the settings of the known joints are of, in their order."""
    kinds = (kind for family in FAMILIES.values() for kind in family.settings)
    return tuple(dict.fromkeys(kind.part for kind in kinds))


def in_order(parts: Iterable[str]) -> list[str]:
    """Return parts in the order of `machine_parts`, and behind them the user's own by name."""
    known = machine_parts()
    return sorted(
        parts, key=lambda name: (known.index(name) if name in known else len(known), name)
    )


def setting_called(name: str) -> SettingKind:
    """Return what a setting of any family is, by its name; KeyError: of none."""
    for family in FAMILIES.values():
        if name in family.place:
            return family.setting(name)
    raise KeyError(name)


def typed_by(family: Family, name: str) -> str:
    """Return what a setting is typed behind at `cut`: an option of its own, or --set and its
    name.
    """
    part = family.part_of[name]
    return f"--{part} " if part in _OWN_OPTION else f"--set {name}="
