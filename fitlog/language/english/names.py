"""What things are called, in English."""

from __future__ import annotations

from ...domain import Family
from ...texts import tell


def woods(tail: str, pin: str) -> str:
    """Return the names of the tail boards' and the pin boards' wood as one."""
    return tail if tail == pin else tell("{tail} on {pin}", tail=tail, pin=pin)


def names_of(family: Family) -> dict[str, str]:
    """Return what a family's settings and misfits are called where it has no words of its own."""
    names = {f"{setting.part} part": setting.noun for setting in family.settings}
    for aspect, name in family.setting_of.items():
        setting = family.setting(name)
        names |= {
            f"{aspect} head": aspect.capitalize(),
            f"{aspect} setting": setting.noun,
            f"{aspect} misfit": aspect,
            f"{aspect} figures": f"sure enough at this {setting.noun}",
            f"{aspect} figures before": "by the printed figures",
            f"{aspect} follows": "another setting's move moves it too",
            f"{aspect} goes": f"{setting.called} goes {{way}}",
            f"{aspect} stays": f"{setting.called} stays",
            f"{aspect} more": "the other moves add {by}",
            f"{aspect} less": "the other moves take {by} off",
            f"{aspect} zero of": setting.noun,
            f"{aspect} to measure": setting.called,
        }
    return names
