"""The machine-readable form of layouts and stops: lengths in mm, every key always there."""

from __future__ import annotations

from ...document import Document, on_scale, remarks_document
from ...families.half_blind.layouts import Found, Layout, Stops
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.tail import LastTail
from ...families.telling import say
from ...language.units import Ruler
from ...service.boards import Planned


def planned_document(told: Planned, ruler: Ruler) -> Document:
    """Return the JSON of `plan`."""
    return {
        "layouts": [found_document(one, ruler) for one in told.layouts],
        "more": told.more,
        "notices": remarks_document(told.notes, ruler),
    }


def job_document(job: Job, ruler: Ruler) -> Document:
    """Return a job as JSON, lengths in mm; settings as the user's own scales read them.

    zero_sd: how unsure the zero is; last_tail: the play of the tail at the far edge, with its
    chance of being in the window.
    """
    return {
        "setup": job.setup.number,
        "status": job.status,
        "ended": job.standing.ended,
        "standing": job.standing.code,
        "layout": layout_document(job.layout),
        "settings": on_scale(job.settings, job.setup.plan.machine),
        "fence_step": job.stops.step,
        "zero": round(job.stops.zero, 4),
        "zero_sd": None if job.zero_sd is None else round(job.zero_sd, 4),
        "last_tail": _tail(job.last_tail),
        "largest_rounding": round(job.stops.largest_error, 4),
        "play_lost": round(job.stops.play_lost, 4),
        "rabbet": [
            {"takes": one.takes, "depth": one.depth, "fence": one.fence} for one in job.rabbet
        ],
        "stops": stops_list(job.stops),
        "steps": {heading: [say(r, ruler) for r in steps] for heading, steps in job.sections},
        "notices": remarks_document(job.notices, ruler),
        "cautions": remarks_document(job.cautions, ruler),
    }


def _tail(tail: LastTail | None) -> dict[str, float] | None:
    if tail is None:
        return None
    return {"mean": round(tail.mean, 4), "sd": round(tail.sd, 4), "chance": round(tail.chance, 4)}


def layout_document(layout: Layout) -> Document:
    """Return one layout. pin, tail, half_pin: their least and greatest widths; passes: of each
    socket.
    """
    return {
        "bit": layout.bit.name,
        "board_width": round(layout.width, 4),
        "tails": layout.tails,
        "middle": layout.middle,
        "wide_tails": layout.wide,
        "pitch": round(layout.pitch, 4),
        "spacing": round(layout.spacing, 4),
        "bit_height": round(layout.height, 4),
        "mouth": round(layout.mouth, 4),
        "pin": _pair(layout.pin),
        "tail": _pair(layout.tail),
        "half_pin": _pair(layout.half_pin),
        "exact_half_pins": layout.exact,
        "cuts": layout.cuts,
        "passes": [[round(at, 4) for at in passes] for passes in layout.sockets],
    }


def found_document(one: Found, ruler: Ruler) -> Document:
    """Return a layout that `plan` found, with its rank's reasons; fewer points are better. Height:
    true, by what is known.

    play_lost, largest_rounding: by rounding to the fence's step, the zero on a mark; null where no
    marks set the pitch.
    """
    marks = [{"points": round(mark.points, 3), "text": say(mark.told, ruler)} for mark in one.marks]
    own = {
        "lap": round(one.lap, 4),
        "bit_height_sd": round(one.height_sd, 4),
        "points": round(one.points, 3),
        "marks": marks,
    }
    cost = one.rounded
    fence = {
        "on_marks": one.true,
        "play_lost": None if cost is None else round(cost.lost, 4),
        "largest_rounding": None if cost is None else round(cost.largest, 4),
    }
    return {**layout_document(one.layout), **own, **fence}


def stops_list(found: Stops) -> list[Document]:
    """Return every stop. fence_exact, fence: as the user's scale reads it, before and after
    rounding.
    """
    return [
        {
            "stop": stop.number,
            "board": stop.cut.board,
            "cut": stop.cut.kind,
            "part": stop.cut.part,
            "from_edge": round(stop.cut.position, 4),
            "fence_exact": round(stop.exact, 4),
            "fence": round(stop.setting, 4),
            "rounding": round(stop.error, 4),
            "edges": "both" if stop.cut.kind == "edge" else "as marked",
        }
        for stop in found.stops
    ]


def _pair(sizes: tuple[float, float]) -> list[float]:
    return [round(size, 4) for size in sizes]
