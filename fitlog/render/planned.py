"""What is decided before the first cut of a joint, as a screen and as JSON, with the command that
starts it.
"""

from __future__ import annotations

import shlex
from collections.abc import Mapping

from ..document import Document
from ..language.english.names import woods
from ..language.units import Ruler
from ..service.plans import Laid
from ..texts import tell
from .screen import Screen
from .tables import cells, numbers, rows_document


def planned(screen: Screen, told: Laid, given: Mapping[str, str], ruler: Ruler) -> None:
    """Print tables, lengths and notes, the start last. given: figures of the joint, as typed."""
    plan = told.job.setup.plan
    screen.head(
        "{joint}: {bit}, {wood}, {width} wide, {thick} thick.",
        joint=plan.joint,
        bit=plan.bit.name,
        wood=woods(plan.stock.name, plan.pin_stock.name),
        width=ruler.size(plan.board_width),
        thick=ruler.size(plan.tail_thickness),
    )
    for table in told.found.tables:
        screen.line()
        screen.head(table.heading)
        screen.table(list(table.columns.values()), cells(table, ruler), right=numbers(table))
    if told.found.lengths:
        rows = [[tell(name), ruler.length(mm)] for name, mm in told.found.lengths.items()]
        screen.line()
        screen.table(["what", "length"], rows, right=(1,))
    screen.line()
    for note in told.found.notes:
        screen.line(f"- {note}", indent="  ")
    for name, why in told.out.items():
        screen.line("- Left out: {name}, {why}.", indent="  ", name=name, why=why)
    screen.line(
        "- By what is known now; once it is tuned, fitlog stops tells it as it came out.",
        indent="  ",
    )
    screen.line()
    screen.line("Start it: {command}", command=shlex.join(start_of(told, given, ruler)))


def start_of(told: Laid, given: Mapping[str, str], ruler: Ruler) -> list[str]:
    """Return the command that starts what was planned."""
    wanted, plan = told.wanted, told.job.setup.plan
    parts = ["fitlog", "start", "--joint", plan.joint, "--bit", plan.bit.name]
    parts += ["--stock", plan.stock.name]
    if plan.pin_stock.name != plan.stock.name:
        parts += ["--pin-stock", plan.pin_stock.name]
    if plan.machine is not None:
        parts += ["--machine", plan.machine.name]
    figures = dict(told.found.figures)
    for option, value, usual in (
        ("--width", figures.pop("width", plan.board_width), wanted.stock.width),
        ("--thickness", plan.tail_thickness, wanted.stock.thickness),
        ("--pin-thickness", plan.pin_thickness, wanted.pin_stock.thickness),
    ):
        parts += [option, ruler.exact(value)] if abs(value - usual) > 1e-9 else []
    said = {**given, **{name: _typed(value, ruler) for name, value in figures.items()}}
    for name, text in said.items():
        parts += ["--given", f"{name}={text}"]
    return parts


def _typed(value: float, ruler: Ruler) -> str:
    return str(value) if isinstance(value, int) else ruler.exact(value)


def planned_document(told: Laid, given: Mapping[str, str], ruler: Ruler) -> Document:
    """Return a plan as JSON, lengths in mm; start: the arguments of the command that takes it."""
    plan = told.job.setup.plan
    return {
        "joint": plan.joint,
        "bit": plan.bit.name,
        "stock": plan.stock.name,
        "pin_stock": plan.pin_stock.name,
        "machine": plan.machine.name if plan.machine else None,
        "board_width": round(plan.board_width, 4),
        **{table.name: rows_document(table) for table in told.found.tables},
        "lengths": {name: round(mm, 4) for name, mm in told.found.lengths.items()},
        "notes": list(told.found.notes),
        "left_out": dict(told.out),
        "start": start_of(told, given, ruler)[1:],
    }
