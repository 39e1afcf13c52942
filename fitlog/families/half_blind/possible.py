"""What can be set and what can have been cut: refusals before anything is logged."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from ...domain import Figures, Plan, Reading, Settings, Verdict
from ...errors import Least, Mm, Most, Refused
from .. import joint_of
from .limits import height_limit
from .names import DEPTH, FENCE, FIT, HEIGHT, set_to
from .plan import dovetail

# mm from the piece's middle; a fence further off is a slip of the ruler or of the piece's width
MOST_OFF = 5.0
SLOT_READINGS = ("mouth", "between_rods")  # what can be measured of a slot by itself
HOPELESS = (
    1.0  # mm of clearance by printed figures from the middle of the window; no bit is that far off
)


def check_height(plan: Plan, height: float) -> None:
    """Refuse a bit height that no such cut can have."""
    if height >= plan.pin_thickness:
        raise Refused(
            "no-lap",
            "a bit height of {height:.2f} leaves no lap in a pin board of {pin_thickness}",
            "stay at or below {high:.2f}, or give the board with --pin-thickness",
            "stay at or below {high:.2f}",
            height=Mm(height),
            pin_thickness=Mm(plan.pin_thickness),
            high=Mm(height_limit(dovetail(plan)).high),
        )
    if height >= plan.bit.cutting_length:
        raise Refused(
            "beyond-limit",
            "a bit height of {height:.2f} is beyond this bit's cutting length of {cutting_length}",
            "check the unit, or the bit with fitlog bit show",
            "check the unit",
            height=Mm(height),
            cutting_length=Mm(plan.bit.cutting_length),
        )


def check_first_height(plan: Plan, height: float, *, given_pitch: bool) -> None:
    """Refuse to open a set-up at a height past a limit, or at one that its pitch makes hopeless."""
    check_height(plan, height)
    joint = joint_of(plan)
    limit = height_limit(dovetail(plan))
    if not limit.low <= height <= limit.high + 1e-6:
        why, remedy = map(limit.told, limit.beyond(height))
        raise Refused(
            "beyond-limit",
            "a bit height of {height:.2f} goes against {why}",
            "{remedy}, or stay within {low:.2f} and {high:.2f}",
            height=Mm(height),
            why=why,
            remedy=remedy,
            low=Least(limit.low),
            high=Most(limit.high),
        )
    middle = joint.window(FIT).middle
    settings = set_to(height, plan.board_width / 2, plan.tail_thickness)
    play = joint.nominal(FIT, settings, plan.boards())
    if given_pitch and abs(play - middle) > HOPELESS:
        raise Refused(
            "pitch-and-height",
            "a pitch of {pitch:.2f} at a bit height of {height:.2f} gives a clearance of "
            "{play:.2f}",
            "give one of the two: the height wants a pitch of about {wanted:.1f}",
            pitch=Mm(dovetail(plan).pitch),
            height=Mm(height),
            play=Mm(play),
            wanted=Mm(dovetail(plan).pitch + play - middle),
        )


def check(
    plan: Plan,
    settings: Settings,
    changed: Mapping[str, float],
    sizes: Figures,
) -> None:
    """Refuse settings that cannot have been cut, before anything is logged.

    changed: the settings the user named.  sizes: the piece's own, where they are not the set-up's.
    """
    check_height(plan, settings[HEIGHT])
    own = plan.figures(sizes)
    wide = own["width"]
    off, radius = settings[FENCE] - wide / 2, plan.bit.diameter / 2
    edge = abs(abs(off) - radius) < min(1.5, radius / 2)  # a caliper reads to an edge of the tip
    shown = settings.on_scale(plan.machine)[FENCE]
    if abs(off) > MOST_OFF or (FENCE in changed and edge):
        raise Refused(
            "beyond-limit",
            "a fence offset of {shown:.2f} is {off:.1f} from the middle of a {wide} piece",
            "that is the reading to an edge of the tip: give {centre:.2f}"
            if edge
            else "give the distance from the fence to the bit's centre with --fence, and the "
            "piece's width with --scrap-width",
            "that is the reading to an edge of the tip: give {centre:.2f}"
            if edge
            else "give the distance from the fence to the bit's centre",
            shown=Mm(shown),
            off=Mm(abs(off)),
            wide=Mm(wide),
            centre=Mm(shown - math.copysign(radius, off)),
        )
    if DEPTH in changed and not 0 < settings[DEPTH] < own["thickness"] + 5:
        raise Refused(
            "beyond-limit",
            "a socket depth of {depth:.2f} does not fit a tail board of {thickness}",
            "give how far the bit's centre went past the board's end",
            depth=Mm(settings[DEPTH]),
            thickness=Mm(own["thickness"]),
        )


def check_slot(
    verdict: Verdict, readings: Sequence[Reading], changed: Mapping[str, float], later: bool
) -> None:
    """Refuse what nobody can say of a slot in waste: it has a height and a width, and is
    no joint.
    """
    if not verdict.empty or later:
        raise Refused(
            "bad-slot",
            "a slot in waste is no joint and no piece",
            "leave the words out, and measure it: --mouth",
            "say how wide it is",
        )
    strange = [
        reading.kind.replace("_", " ") for reading in readings if reading.kind not in SLOT_READINGS
    ]
    strange += [name.replace("_", " ") for name in sorted(changed) if name != HEIGHT]
    if strange:
        raise Refused(
            "bad-slot",
            "a slot in waste has no {what}",
            "give its mouth, and its height where that is not as advised",
            what=strange[0],
        )
    if not readings:
        raise Refused(
            "bad-slot",
            "a slot in waste is measured, not judged",
            "say how wide it is: fitlog cut --slot --mouth WIDTH",
            "say how wide it is",
        )
