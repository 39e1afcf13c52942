"""Which layout the real boards of a set-up have."""

from __future__ import annotations

from ....domain import Settings
from ....errors import Refused
from ....language.units import Ruler
from .. import figures
from ..plan import DovetailPlan
from .layout import Layout, fitting_tails, layout_of


def layout_for(plan: DovetailPlan, settings: Settings, tails: int | None, ruler: Ruler) -> Layout:
    """Return the layout of a set-up's boards. tails: how many; None: as the set-up says, or as its
    pitch and width give.

    Raises Refused: no-layout.
    """
    bit, height, count = plan.bit, settings["bit_height"], tails or plan.tails
    spacing = plan.spacing if tails in (None, plan.tails) else None
    if count is None:
        found = fitting_tails(bit, height, plan.board_width, plan.pitch, figures.LEAST_HALF_PIN)
        if not found:
            raise Refused(
                "no-layout",
                "a pitch of {pitch} gives no half-pins of {LEAST_HALF_PIN} or more at both "
                "edges of a board {board_width} wide",
                "say how many tails with --tails N, or find a pitch that does with fitlog plan",
                pitch=ruler.length(plan.pitch),
                LEAST_HALF_PIN=ruler.length(figures.LEAST_HALF_PIN),
                board_width=ruler.size(plan.board_width),
            )
        return found[0]
    layout = layout_of(bit, height, plan.board_width, count, plan.pitch, spacing)
    if layout is None:
        most = int(plan.board_width // plan.pitch)
        raise Refused(
            "no-layout",
            "{count} tails at a pitch of {pitch} don't fit a board {board_width} wide",
            "take up to {most} tails, or find a pitch for {count} with fitlog plan --tails {count}",
            count=count,
            pitch=ruler.length(plan.pitch),
            board_width=ruler.size(plan.board_width),
            most=most,
        )
    return layout
