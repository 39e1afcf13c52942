"""Which layout the real boards of a set-up have."""

from __future__ import annotations

from ....domain import Settings
from ....errors import Mm, Refused
from .. import figures
from ..plan import DovetailPlan
from .layout import Layout, fitting_tails, layout_of


def layout_for(plan: DovetailPlan, settings: Settings, tails: int | None) -> Layout:
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
                "a pitch of {pitch:.2f} gives no half-pins of {LEAST_HALF_PIN} or more at both "
                "edges of a board {board_width} wide",
                "say how many tails with --tails N, or find a pitch that does with fitlog plan",
                pitch=Mm(plan.pitch),
                LEAST_HALF_PIN=Mm(figures.LEAST_HALF_PIN),
                board_width=Mm(plan.board_width),
            )
        return found[0]
    layout = layout_of(bit, height, plan.board_width, count, plan.pitch, spacing)
    if layout is None:
        fit = range(int(plan.board_width // plan.pitch), 0, -1)
        width, pitch = plan.board_width, plan.pitch
        most = next((n for n in fit if layout_of(bit, height, width, n, pitch)), 0)
        raise Refused(
            "no-layout",
            "{count} tails at a pitch of {pitch:.2f} don't fit a board {board_width} wide",
            "take up to {most} tails, or find a pitch for {count} with fitlog plan --tails {count}"
            if most
            else "take a narrower pitch, or find one for {count} with fitlog plan --tails {count}",
            count=count,
            pitch=Mm(plan.pitch),
            board_width=Mm(plan.board_width),
            most=most,
        )
    return layout
