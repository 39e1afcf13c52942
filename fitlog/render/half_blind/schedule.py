"""The order of a batch: which end of which board at which stops, with boxes to tick, as a screen
and as rows for the sheet.
"""

from __future__ import annotations

from collections.abc import Iterable

from ...domain import Remark
from ...families.half_blind.layouts.corners import EDGES, Boards, Depth, End
from ...families.half_blind.layouts.job import Job
from ...families.half_blind.layouts.schedule import Schedule, Step
from ...families.telling import say
from ...language.units import Ruler
from ...texts import tell
from ..screen import Screen

BOX = "[_]"
HEADS = ("", "mark", "board", "end", "at the fence", "stops")


def rows(found: Schedule) -> list[tuple[str, str, str, str, str, str]]:
    """Return a row for each end of each step, in order: box, mark, board, end, edge, stops."""
    return [
        (BOX, end.mark, end.board, end_name(end), _at_fence(step, end), _stops(step))
        for step in found.steps
        for end in step.ends
    ]


def _at_fence(step: Step, end: End) -> str:
    """What of an end lies at the fence in a step."""
    if step.work == "rabbet":
        return tell("inside face")
    if step.work == "edges":
        return tell("{edge}, then turned", edge=tell(end.edge))
    return tell(end.edge)


def end_name(end: End) -> str:
    """Return which end of its board it is."""
    return tell(end.end) if end.kind == "pin" else end.end


def _stops(step: Step) -> str:
    """The numbers of a step's stops."""
    if step.work == "rabbet":
        return tell("rabbet")
    first, last = step.stops[0].number, step.stops[-1].number
    told = str(first) if first == last else f"{first}-{last}"
    return tell("{stops}, both edges", stops=told) if step.work == "edges" else told


def marks(boards: Boards) -> list[tuple[str, str, str]]:
    """Return the marks of each kind of corner, its pin board's end and its tail board's."""
    found = []
    for one in boards.patterns:
        alike = [
            e.mark
            for e in boards.ends
            if e.kind == "pin" and (e.hand, e.back) == (one.hand, one.back)
        ]
        tail = next(e for e in boards.ends if e.kind == "tail" and e.mark == one.mark)
        pin = one.board if boards.second == boards.first else boards.pins[one.back]
        found.append(
            (
                ", ".join(alike),
                tell("{board}, {hand} end", board=pin, hand=one.hand),
                tell(
                    "{hand} {board}, {meets} end", hand=one.hand, board=boards.tail, meets=tail.end
                ),
            )
        )
    return found


def seen_from(boards: Boards) -> str:
    """Return which edges are marked, and where left and right are."""
    if boards.first == "front":
        return tell("Mark every upper edge. L, R: left and right as you stand before the drawer.")
    return tell(
        "Mark the same long edge of every board. L, R: left and right as you look at the {board} "
        "from outside, that edge up.",
        board=boards.first,
    )


def order(screen: Screen, job: Job, ruler: Ruler) -> None:
    """Print what to pencil, and every step in order."""
    found, boards = job.schedule, job.schedule.boards
    screen.line()
    if boards is None:
        screen.head("Mark one long edge of every board; all of them are ripped to one width")
        screen.line(
            "Which end has it at the fence, with boxes to tick: "
            'fitlog stops --boards "front 2, back 2, side 4"'
        )
    else:
        screen.head("Pencil each corner's mark lightly on the outside of both its boards")
        screen.line(seen_from(boards))
        for mark, pin, tail in marks(boards):
            screen.line("{mark}: {pin}; {tail}", mark=mark, pin=pin, tail=tail, indent="  ")
    screen.line()
    screen.head("Cut in this order, all ends at one stop, then the fence out to the next")
    if boards is not None:
        screen.line("Marked, other: the edge at the fence. Every caution: fitlog stops.")
    screen.line(
        "Unplugged to set; before each run bring the fence in past its first stop and come out to "
        "it. On end: a square block, a backing board, right through and on past the bit."
    )
    for number, step in enumerate(found.steps, 1):
        screen.line(f"{number}) {_told(step, job, ruler)}", indent="   ")
        if step.ends:
            screen.line("   {boxes}", boxes=_boxes(step), indent="   ")


def _boxes(step: Step) -> str:
    """A box for each end, by the edge that it has at the fence; a rabbet asks for none."""
    boxes = {edge: " ".join(f"{BOX}{end.mark}" for end in step.at(edge)) for edge in EDGES}
    if step.work == "rabbet":
        return " ".join(filter(None, boxes.values()))
    return "  ".join(f"{tell(edge)}: {marks_of}" for edge, marks_of in boxes.items() if marks_of)


def ends_told(step: Step) -> str:
    """Return the marks of a step's ends, by what of them lies at the fence."""
    found: dict[str, list[str]] = {}
    for end in step.ends:
        found.setdefault(_at_fence(step, end), []).append(end.mark)
    return "; ".join(f"{edge}: {' '.join(marks_of)}" for edge, marks_of in found.items())


def _told(step: Step, job: Job, ruler: Ruler) -> str:
    """What is done in a step."""
    if step.work == "rabbet":
        fences = [one.fence for one in step.rabbet if one.fence is not None]
        deep = ruler.length(step.rabbet[-1].depth)
        long = ruler.length(job.settings["bit_height"])
        if not fences:
            return tell(
                "Rabbet with a straight bit, in a second router or before the dovetail bit is set: "
                "{deep} deep, {long} long.",
                deep=deep,
                long=long,
            )
        return tell(
            "Rabbet, {deep} deep, {long} long: on end, inside face to the fence, at {at}.",
            deep=deep,
            long=long,
            at=lengths(fences, ruler),
        )
    at = lengths((stop.setting for stop in step.stops), ruler)
    values = {"stops": stop_numbers(step), "at": at}
    if step.work == "edges":
        return tell(
            "Tail boards on end, {stops}: {at}. Each end twice: one edge at the fence, then turned "
            "about its upright axis, the other; never the edge away from the fence, a climb cut. "
            "It pushes the board off the fence: hold it in.",
            **values,
        )
    if step.work == "slots":
        return tell("Tail boards on end, {stops}: {at}.", **values)
    return _sockets(step, job, ruler, values)


def _sockets(step: Step, job: Job, ruler: Ruler, values: dict[str, str]) -> str:
    """What is done in a step of the pin boards: all of it in the first, the depth in the next."""
    assert step.depth is not None
    depth = depth_told(step.depth, job.layout.mouth, ruler, several=len(job.depths) > 1)
    if step.depth != job.depths[0]:
        return tell("Then at the same stops. {depth}.", depth=depth)
    hold = tell(" Later passes of a socket push it off the fence: hold it in.")
    return tell(
        "Pin boards flat, inside face down, {stops}: {at}. {depth}. Never lift it; the way back "
        "runs with the cutter: straight back, both hands on it, never one off to reach a "
        "switch.{hold}",
        depth=depth,
        hold=hold if job.layout.wide else "",
        **values,
    )


def depth_told(depth: Depth, mouth: float, ruler: Ruler, *, several: bool) -> str:
    """Return where the depth stop stands, and for which tail boards where there are several."""
    told = tell(
        "Depth {depth}, {deepest} to the deepest point of the mouth",
        depth=ruler.length(depth.depth),
        deepest=ruler.length(depth.depth + mouth / 2),
    )
    if not several:
        return told
    return tell(
        "For the {hand} tail boards, {thickness} thick: {told}",
        told=told[:1].lower() + told[1:],
        hand=depth.hands[0],
        thickness=ruler.size(depth.thickness),
    )


def stop_numbers(step: Step) -> str:
    """Return a step's stops by their numbers, in words."""
    first, last = step.stops[0].number, step.stops[-1].number
    if first == last:
        return tell("stop {first}", first=first)
    return tell("stops {first} to {last}", first=first, last=last)


def lengths(found: Iterable[float], ruler: Ruler) -> str:
    """Return lengths in a row, their unit once."""
    *most, last = found
    return ", ".join([*(ruler.length(one, bare=True) for one in most), ruler.length(last)])


def spoiling(job: Job) -> list[Remark]:
    """Return what must be known of the fence's marks before a joint is cut by them."""
    said = [remark for _, remarks in job.sections for remark in remarks]
    return [
        one
        for one in said
        if one.code == "shim-edge" or (one.code == "stops-rounded" and dict(one.values)["spoils"])
    ]


def asked_first(screen: Screen, job: Job, ruler: Ruler) -> None:
    """Print what boards of other sizes ask for first."""
    for remark in job.anew:
        screen.line(say(remark, ruler))
