"""A family of joints as plain data: its settings, its aspects with their words, its faults and its
readings, all by the family's own names.

Every other value of the domain is keyed by these names and knows none of them itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from ..errors import Refused
from ..texts import AsTyped, tell
from .checks import finite, positive
from .said import Aspect, AspectKind, Fault, Reading, Said, Verdict


@dataclass(frozen=True, slots=True)
class SettingKind:
    """One thing that is adjusted. called: as a sentence names it, such as "the bit height".

    part: of the machine, which has the step and the scale.  ways: the direction words of a larger
    and of a smaller setting. positive: whether zero is none. with_figures: by how much it moves
    with each mm that a figure of the board is larger, such as its width. from_below: it is come to
    from below, which takes up the play. stage: settings are tuned
    stage by stage, the lower first. scraps: the parts that a move makes scrap once a later stage
    has a piece, such as "the sockets", so that it is frozen from then on; "": none. free: "+", "-"
    or "both", the way it may move for another cut on an end that was cut, where wood only comes
    off; "": a move wants a fresh end.
    """

    name: str
    called: str
    part: str
    ways: tuple[str, str]
    positive: bool = False
    with_figures: Mapping[str, float] = field(default_factory=dict, hash=False)
    from_below: bool = False
    stage: int = 0
    scraps: str = ""
    free: str = ""

    def goes_on(self, move: float) -> bool:
        """Tell whether a move, mm, can be made by another cut on the same end."""
        return self.free == "both" or self.free == ("+" if move > 0 else "-")

    @property
    def noun(self) -> str:
        """What it is called, without its article."""
        return self.called.removeprefix("the ")

    def check(self, value: float) -> None:
        """Raise `Refused` for a length that this setting cannot have, mm."""
        (positive if self.positive else finite)(self.called, value)


@dataclass(frozen=True)
class Family:
    """What a family declares, in the order in which it is set and judged; the same where the name
    is.

    faults: the places of a gap that no setting cures, the last where none was said. readings: what
    may be measured, by kind, with the second number that each needs: "rod", "other" or "". fixed:
    the plan's own fields that stay from `start` to `finish`, as the document tells them. spoken:
    what the joint is called in a sentence, where not by its name.
    """

    name: str
    settings: tuple[SettingKind, ...] = field(compare=False, repr=False)
    kinds: tuple[AspectKind, ...] = field(compare=False, repr=False)
    faults: tuple[str, ...] = field(default=(), compare=False, repr=False)
    readings: Mapping[str, str] = field(default_factory=dict, compare=False, repr=False)
    fixed: tuple[str, ...] = field(default=(), compare=False, repr=False)
    spoken: str = field(default="", compare=False, repr=False)

    def __post_init__(self) -> None:
        stages = [setting.stage for setting in self.settings]
        if stages != sorted(stages):
            raise ValueError("settings are declared in the order of their stages")
        if any(setting.free not in ("", "+", "-", "both") for setting in self.settings):
            raise ValueError("a setting is free to go +, -, both ways or none")
        drivers = {kind.driver for kind in self.kinds if kind.driver is not None}
        if not drivers <= {k.name for k in self.kinds if k.driver is None and k.setting}:
            raise ValueError("a driver is an aspect with a setting that hangs on no other")

    @property
    def called(self) -> str:
        """What the joint is called in a sentence."""
        return self.spoken or self.name

    @cached_property
    def aspects(self) -> tuple[Aspect, ...]:
        """The names of the aspects."""
        return tuple(kind.name for kind in self.kinds)

    @cached_property
    def recuts(self) -> bool:
        """Whether an end that was cut can be cut again at all."""
        return any(setting.free for setting in self.settings)

    @cached_property
    def names(self) -> tuple[str, ...]:
        """The names of the settings."""
        return tuple(setting.name for setting in self.settings)

    @cached_property
    def place(self) -> dict[str, int]:
        """The place of each setting in the family's order, by name."""
        return {name: i for i, name in enumerate(self.names)}

    @cached_property
    def part_of(self) -> dict[str, str]:
        """The part of the machine that each setting is of, by the setting's name."""
        return {setting.name: setting.part for setting in self.settings}

    @cached_property
    def by_aspect(self) -> dict[Aspect, AspectKind]:
        """The aspects by name."""
        return {kind.name: kind for kind in self.kinds}

    @cached_property
    def setting_of(self) -> dict[Aspect, str]:
        """The name of each aspect's own setting, of those that have one."""
        return {kind.name: kind.setting for kind in self.kinds if kind.setting is not None}

    @cached_property
    def aspect_of(self) -> dict[str, Aspect | None]:
        """The aspect that each setting is tuned by, None where by none, in the settings' order."""
        by = {name: aspect for aspect, name in self.setting_of.items()}
        return {name: by.get(name) for name in self.names}

    @cached_property
    def asked(self) -> tuple[Aspect, ...]:
        """The aspects in the order in which a piece shows them: what is tried, for the rest is seen
        on a joint that is together, and last what spoils it.
        """
        order = sorted(self.kinds, key=lambda kind: (kind.shown_last, not kind.tried))
        return tuple(kind.name for kind in order)

    @cached_property
    def tuned(self) -> tuple[Aspect, ...]:
        """The aspects that have a setting, in the order in which they are solved: by stage, each
        after its driver, by the place of its setting.
        """

        def order(kind: AspectKind) -> tuple[int, int, bool, int]:
            own = self.place[self.setting_of[kind.name]]
            driver = own if kind.driver is None else self.place[self.setting_of[kind.driver]]
            return self.settings[own].stage, max(own, driver), driver > own, own

        return tuple(k.name for k in sorted((k for k in self.kinds if k.setting), key=order))

    def stage_of(self, aspect: Aspect) -> int:
        """Return the stage in which an aspect is tuned, that of its own setting."""
        return self.adjusted(aspect).stage

    @cached_property
    def tried(self) -> tuple[Aspect, ...]:
        """The aspects that only a joint that was tried settles."""
        return tuple(kind.name for kind in self.kinds if kind.tried)

    @property
    def lead(self) -> Aspect:
        """The aspect that the wood and the cutter themselves show in: the first one that is tried,
        else the first.
        """
        return next(iter(self.tried), self.aspects[0])

    @cached_property
    def zeroed(self) -> Aspect | None:
        """The aspect that need only be known, from whose zero every stop is computed."""
        return next((kind.name for kind in self.kinds if kind.zeroed), None)

    def kind(self, aspect: Aspect) -> AspectKind:
        """Return an aspect as it was declared; raise `Refused` for none of the family's."""
        if aspect not in self.by_aspect:
            raise Refused(
                "bad-aspect",
                "{aspect!r} is no aspect of the {name}",
                "name {names}",
                aspect=aspect,
                name=self.name,
                names=listed(self.aspects),
            )
        return self.by_aspect[aspect]

    def words(self, aspect: Aspect) -> tuple[str, ...]:
        """Return the words of an aspect, most negative misfit first."""
        return self.kind(aspect).words

    def adjusted(self, aspect: Aspect) -> SettingKind:
        """Return the setting that an aspect is tuned by."""
        return self.setting(self.setting_of[aspect])

    def setting(self, name: str) -> SettingKind:
        """Return a setting as it was declared; KeyError: no such setting."""
        return self.settings[self.place[name]]

    def said(self, aspect: Aspect, word: str, size: float | None = None) -> Said:
        """Return one judged aspect; raise `Refused` for a word that is none of its own."""
        return Said(self.kind(aspect), word, size)

    def check(self, verdict: Verdict, readings: tuple[Reading, ...] = ()) -> None:
        """Raise `Refused` for what this family cannot have been said or read of."""
        for said in verdict.said:
            self.kind(said.aspect)
        for fault in verdict.faults:
            self.check_fault(fault)
        for reading in readings:
            self.check_reading(reading)

    def check_fault(self, fault: Fault) -> None:
        """Raise `Refused` for a gap where this family has none."""
        if fault.place not in self.faults:
            raise Refused(
                "bad-word",
                "{place!r} is no place of a gap",
                "say {places}",
                place=fault.place,
                places=listed(self.faults[:-1]),
            )

    def check_reading(self, reading: Reading) -> None:
        """Raise `Refused` for a reading that this family does not take."""
        if reading.kind not in self.readings:
            raise Refused(
                "bad-reading",
                "{kind!r} is no kind of reading",
                "see fitlog cut --help",
                "load the page again",
                kind=reading.kind,
            )
        second = self.readings[reading.kind]
        if (reading.rod is not None) != (second == "rod"):
            raise Refused(
                "bad-reading",
                "a reading over or between rods needs the rods' diameter",
                "give D and the width",
            )
        if (reading.other is not None) != (second == "other"):
            raise Refused(
                "bad-reading",
                "the walls are two readings",
                "give the wall at the fence, then the far one",
            )


def listed(names: tuple[str, ...]) -> str:
    """What may be typed, as a remedy lists it: "fit, centre or seat"."""
    return AsTyped(tell(" or ").join(filter(None, (", ".join(names[:-1]), *names[-1:]))))
