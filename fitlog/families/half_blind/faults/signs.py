"""What a set-up itself shows that makes one cause of a fault likelier than another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from .... import defaults
from ....advice.drift import Finding
from ....advice.knowledge import Knowledge
from ....advice.laws import law_of, nominal_of
from ....advice.settled import SAME
from ....domain import Piece, Remark, Settings, remark
from ... import wood
from .. import figures, geometry
from ..plan import DovetailPlan, dovetail
from .figures import tail_root, tails_of

# Common practice, no source: % of moisture, deg, mm.
_DRY, _WET = 6.0, 12.0
_STEEP = 12.0  # from this angle on a tail's corners are thin
_MOUTH_OVER = 0.1
_LAP_TO_SPARE = 0.5
_FIT_KNOWN, _SEAT_KNOWN = 0.06, 0.15  # a misfit known no better than this says nothing


def signs(
    know: Knowledge, pieces: Sequence[Piece], at: Settings, found: Sequence[Finding]
) -> dict[str, Remark]:
    """Return what the set-up shows, by code. at: the settings in question, true mm."""
    plan = know.joint.plan
    shown = (
        *_of_plan(dovetail(plan)),
        *_of_height(dovetail(plan), at),
        *_of_bit(dovetail(plan), pieces),
        *_of_last_moves(pieces),
        *_of_fit(know, pieces, at),
        *_of_centre(know, at),
        *_of_seat(know, pieces, at),
        *_of_log(found),
    )
    return {sign.code.removeprefix("sign-"): sign for sign in shown}


def _of_plan(plan: DovetailPlan) -> Iterator[Remark]:
    machine, tails = plan.machine, tails_of(plan)
    play = None if machine is None else machine.part("height").backlash
    if play is not None:
        if play > 0:
            yield remark("sign-backlash", play=play)
        else:
            yield remark("sign-no-play")
    if plan.many_tails or tails >= figures.MANY_TAILS_FROM:
        yield remark("sign-many-tails", tails=tails)
    yield remark("sign-by-spacer" if plan.spaced else "sign-by-scale")
    yield from _of_woods(plan)
    yield from _of_dryness(plan)
    if plan.board_width >= figures.WIDE_BOARD:
        yield remark("sign-wide-board", width=plan.board_width)
    if plan.bit.sharpenings:
        yield remark("sign-sharpened")
    if plan.rabbet_depth < plan.bit.diameter / 2 - 0.05:
        yield remark("sign-shallow-rabbet", depth=plan.rabbet_depth)


def _of_woods(plan: DovetailPlan) -> Iterator[Remark]:
    species = plan.stock.species, plan.pin_stock.species
    if species[0].casefold() != species[1].casefold():
        yield remark("sign-two-woods", tail=species[0], pin=species[1])
    dry = _contents(plan)
    if dry[0] is not None and dry[1] is not None and plan.stock != plan.pin_stock:
        unequal = abs(dry[0] - dry[1]) > defaults.METER / 2
        yield remark(
            "sign-moisture-differs" if unequal else "sign-equally-dry", tail=dry[0], pin=dry[1]
        )


def _contents(plan: DovetailPlan) -> tuple[float | None, float | None]:
    """Return both boards' moisture, %: on the day of `start`, else as they are stored."""
    tail = wood.content_of(plan.stock) if plan.moisture is None else plan.moisture
    pin = wood.content_of(plan.pin_stock) if plan.pin_moisture is None else plan.pin_moisture
    return tail, pin


def _of_dryness(plan: DovetailPlan) -> Iterator[Remark]:
    known = [content for content in _contents(plan) if content is not None]
    if known and min(known) < _DRY:
        yield remark("sign-dry-wood", content=min(known))
    if known and max(known) > _WET:
        yield remark("sign-wet-wood", content=max(known))


def _of_bit(plan: DovetailPlan, pieces: Sequence[Piece]) -> Iterator[Remark]:
    if not plan.bit.measured:
        yield remark("sign-as-sold", diameter=plan.bit.diameter)
    if plan.bit.angle >= _STEEP:
        yield remark("sign-steep", angle=plan.bit.angle)
    mouths = ((p, r.value) for p in reversed(pieces) for r in p.readings if r.kind == "mouth")
    piece, mouth = next(mouths, (None, 0.0))
    if piece is not None:
        height = piece.settings["bit_height"]
        reckoned = geometry.mouth(plan.bit.diameter, height, plan.bit.theta)
        if mouth - reckoned > _MOUTH_OVER:
            over = round(mouth - reckoned, 4)
            yield remark(
                "sign-mouth-wide", piece=piece.number, mouth=mouth, reckoned=reckoned, over=over
            )


def _of_height(plan: DovetailPlan, at: Settings) -> Iterator[Remark]:
    lap = plan.pin_thickness - at["bit_height"]
    if lap < figures.LEAST_LAP:
        yield remark("sign-thin-lap", thickness=plan.pin_thickness, lap=lap)
    elif lap >= figures.LEAST_LAP + _LAP_TO_SPARE:
        yield remark("sign-lap-fine", thickness=plan.pin_thickness, lap=lap)
    height, root = at["bit_height"], tail_root(plan)
    if root < figures.SLENDER * height:
        yield remark("sign-slender-tails", root=root, length=height)
    mouth = geometry.mouth(plan.bit.diameter, height, plan.bit.theta)
    if mouth < figures.SLENDER * height:
        yield remark("sign-slender-pins", root=mouth, length=height)


def _of_last_moves(pieces: Sequence[Piece]) -> Iterator[Remark]:
    if not pieces:
        return
    last = pieces[-1]
    if last.scrap:
        yield remark("sign-other-wood", scrap=last.scrap)
    heights = [p.settings["bit_height"] for p in pieces]
    moved = next((b - a for a, b in reversed(list(pairwise(heights))) if abs(b - a) > SAME), 0.0)
    if moved > 0:
        yield remark("sign-raised", by=moved)
    elif moved < 0:
        yield remark("sign-lowered", by=-moved)
        yield remark("sign-down", by=-moved)


def _of_fit(know: Knowledge, pieces: Sequence[Piece], at: Settings) -> Iterator[Remark]:
    if "fit" not in know.joint.plan.in_play or not pieces:
        return
    clearance, window = nominal_of(know, "fit", at) + know.law("fit").mean, know.joint.window("fit")
    off = clearance, know.law("fit").sd
    if not window.holds(clearance):
        tight = clearance < window.low
        yield remark(
            "sign-tight-now" if tight else "sign-loose-now", clearance=clearance, tight=tight
        )
    elif off[1] <= _FIT_KNOWN:
        yield remark("sign-fit-good", off=off)
        if clearance < (window.low + window.high) / 2:
            yield remark("sign-fit-close", off=off)


def _of_centre(know: Knowledge, at: Settings) -> Iterator[Remark]:
    if "centre" not in know.joint.plan.in_play:
        yield remark("sign-centre-unknown", off=None)
        return
    window = know.joint.window("centre")
    ends = np.array([window.low, window.high]) - nominal_of(know, "centre", at)
    low, high = (float(x) for x in know.law("centre").cdf(ends))
    off = nominal_of(know, "centre", at) + know.law("centre").mean, know.law("centre").sd
    if high - low > 0.8:
        yield remark("sign-centre-good", off=off)
    elif low > 0.8 or high < 0.2:
        yield remark("sign-centre-off", off=off)
    else:
        yield remark("sign-centre-unknown", off=off)


def _of_seat(know: Knowledge, pieces: Sequence[Piece], at: Settings) -> Iterator[Remark]:
    if "seat" not in know.joint.plan.in_play or not pieces:
        return
    window, step = (
        know.joint.window("seat"),
        nominal_of(know, "seat", at) + law_of(know, "seat", at).mean,
    )
    if not window.holds(step):
        yield remark("sign-proud-now" if step > window.high else "sign-shy-now", step=step)
    elif law_of(know, "seat", at).sd <= _SEAT_KNOWN:
        yield remark("sign-seat-good")


def _of_log(found: Sequence[Finding]) -> Iterator[Remark]:
    for f in found:
        if f.kind == "drift" and f.aspect == "fit":
            way = "tighter" if f.move < 0 else "looser"
            yield remark(f"sign-{way}-log", way=way, before=f.before, after=f.after)
            yield remark("sign-fit-drifts")
        elif f.kind == "drift":
            yield remark("sign-centre-drift")
        elif f.aspect == "fit":
            yield remark(f"sign-{f.kind}-log", before=f.before, after=f.after)
