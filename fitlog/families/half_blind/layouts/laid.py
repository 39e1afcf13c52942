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
                "say how many tails, or another pitch",
                pitch=Mm(plan.pitch),
                LEAST_HALF_PIN=Mm(figures.LEAST_HALF_PIN),
                board_width=Mm(plan.board_width),
            )
        return found[0]
    layout = layout_of(bit, height, plan.board_width, count, plan.pitch, spacing)
    if layout is None:
        fit = _fitting(plan, height, spacing)
        raise Refused(
            "no-layout",
            "{count} tails at a pitch of {pitch:.2f} don't fit a board {board_width} wide",
            "take up to {most} tails, or find a pitch for {count} with fitlog plan --tails {count}"
            if fit and count > fit[-1]
            else "take {least} to {most} tails, or another spacing"
            if fit
            else "take a narrower pitch, or find one for {count} with fitlog plan --tails {count}",
            "take up to {most} tails, or another pitch"
            if fit and count > fit[-1]
            else "take {least} to {most} tails, or another spacing"
            if fit
            else "take a narrower pitch",
            count=count,
            pitch=Mm(plan.pitch),
            board_width=Mm(plan.board_width),
            least=fit[0] if fit else 0,
            most=fit[-1] if fit else 0,
        )
    return layout


def check_tails(plan: DovetailPlan, settings: Settings) -> None:
    """Refuse more tails than fit the board, as `layout_for` does. With too few the half-pins are
    too wide to be cut, but the test pieces can be.
    """
    fit = _fitting(plan, settings["bit_height"], plan.spacing)
    if plan.tails is not None and plan.tails > max(fit, default=plan.board_width / plan.pitch):
        layout_for(plan, settings, None)


def _fitting(plan: DovetailPlan, height: float, spacing: float | None) -> list[int]:
    """The numbers of tails that there are layouts of, in order."""
    bit, width, pitch = plan.bit, plan.board_width, plan.pitch
    counts = range(1, int(width // pitch) + 3)
    return [n for n in counts if layout_of(bit, height, width, n, pitch, spacing)]
