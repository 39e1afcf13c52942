"""The sizes of what the shop has: their options, and between which limits each is read."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from .session import Session

Diameter = Annotated[
    str, typer.Option(metavar="L", help="Cutting diameter at the tip, the widest part.")
]
Angle = Annotated[
    float, typer.Option(metavar="DEG", help="Side angle from the bit's axis, degrees.")
]
CuttingLength = Annotated[str, typer.Option(metavar="L", help="Length of the cutting edges.")]
Neck = Annotated[
    str | None, typer.Option(metavar="L", help="Thinnest part above the edges, if known.")
]
HeightStep = Annotated[str | None, typer.Option(metavar="L", help="Smallest step of the lift.")]
HeightTurn = Annotated[str | None, typer.Option(metavar="L", help="Or its travel per turn.")]
DepthStep = Annotated[
    str | None,
    typer.Option(metavar="L", help="Smallest step of the stop that sets the socket depth."),
]
FenceStep = Annotated[str | None, typer.Option(metavar="L", help="Smallest step of the fence.")]
Backlash = Annotated[str | None, typer.Option(metavar="L", help="Play of the lift.")]
HeightZero = Annotated[
    str | None, typer.Option(metavar="L", help="What your height scale shows less the true height.")
]
FenceZero = Annotated[
    str | None, typer.Option(metavar="L", help="What your fence scale shows less the true offset.")
]
Between = Annotated[
    str | None,
    typer.Option(
        metavar="PARTS",
        help="Scales that you set by eye between their marks too: height,fence,depth; or none.",
    ),
]

_LIMITS: dict[str, tuple[str, float, float, str]] = {
    "diameter": ("the cutting diameter", 3, 80, "any dovetail bit"),
    "cutting_length": ("the cutting length", 2, 80, "any dovetail bit"),
    "neck": ("the neck", 1, 60, "any dovetail bit"),
    "thickness": ("the thickness", 3, 60, "any board for this joint"),
    "width": ("the width", 15, 1500, "any board for this joint"),
    "height_step": ("the height step", 0.001, 2, "any lift"),
    "height_turn": ("the travel per turn", 0.1, 10, "any lift"),
    "fence_step": ("the fence step", 0.001, 2, "any fence"),
    "depth_step": ("the depth step", 0.001, 5, "any depth stop"),
    "backlash": ("the backlash", 0, 2, "any lift"),
    "height_zero": ("the height scale's zero", -100, 100, "any scale"),
    "fence_zero": ("the fence scale's zero", -1000, 1000, "any scale"),
}


def scales_of(text: str | None) -> tuple[str, ...] | None:
    """Return the scales that --between names, none for "none"; None when it was not given. Raises
    NotUnderstood.
    """
    from ...domain import ADJUSTED
    from ...errors import NotUnderstood
    from .options import one_of

    if text is None or text.strip().lower() == "none":
        return None if text is None else ()
    words = [one_of(word, ADJUSTED, "--between") for word in text.replace(",", " ").split()]
    if not words:
        raise NotUnderstood(
            "bad-choice", "--between names no scale", f"name some of {','.join(ADJUSTED)}, or none"
        )
    return tuple(part for part in ADJUSTED if part in words)


def sizes_of(session: Session, texts: dict[str, str | None]) -> dict[str, float]:
    """Return the sizes that were given, mm, by name; raises NotUnderstood, or Refused beyond a
    limit.
    """
    found = {key: session.size(text, *_LIMITS[key]) for key, text in texts.items()}
    return {key: value for key, value in found.items() if value is not None}
