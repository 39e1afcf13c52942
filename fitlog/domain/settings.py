"""What is adjusted: a family's settings as a value, keyed by the family's own names."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from .family import Family
from .machines import Machine
from .said import Aspect


@dataclass(frozen=True, slots=True)
class Settings:
    """The settings of a family in its order, as true lengths in mm (not as a user's scale reads
    them): `settings[name]`.
    """

    family: Family
    lengths: tuple[float, ...]

    def __post_init__(self) -> None:
        for setting, length in zip(self.family.settings, self.lengths, strict=True):
            setting.check(length)

    @classmethod
    def named(cls, family: Family, lengths: Mapping[str, float]) -> Settings:
        """Return a family's settings from their lengths by name."""
        return cls(family, tuple(lengths[name] for name in family.names))

    def __getitem__(self, name: str) -> float:
        return self.lengths[self.family.place[name]]

    def __iter__(self) -> Iterator[str]:
        return iter(self.family.names)

    def __contains__(self, name: object) -> bool:
        return name in self.family.place

    def keys(self) -> tuple[str, ...]:
        """Return the names of the settings, so that `dict(settings)` is a mapping of them."""
        return self.family.names

    @property
    def lead(self) -> float:
        """The first setting, about which causes are taken, mm."""
        return self.lengths[0]

    def of(self, aspect: Aspect) -> float:
        """Return the setting that belongs to `aspect`, mm."""
        return self[self.family.setting_of[aspect]]

    def with_(self, name: str, value: float) -> Settings:
        """Return these settings with one of them changed."""
        return self.changed(**{name: value})

    def changed(self, **lengths: float) -> Settings:
        """Return these settings with some of them changed, by name; KeyError: no such setting."""
        if unknown := lengths.keys() - self.family.place.keys():
            raise KeyError(sorted(unknown)[0])
        return Settings.named(self.family, {**dict(self), **lengths})

    def moved(self, aspect: Aspect, value: float) -> Settings:
        """Return these settings with the one of `aspect` changed to `value`."""
        return self.with_(self.family.setting_of[aspect], value)

    def on_scale(self, machine: Machine | None) -> dict[str, float]:
        """Return the settings by name as the user's own scales read them, mm."""
        return {
            setting.name: length + (machine.zero(setting.part) if machine else 0.0)
            for setting, length in zip(self.family.settings, self.lengths, strict=True)
        }
