"""Past set-ups, newest first: a table where it fits, a few lines each where it does not."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from ..document import Document
from ..domain import SettingKind
from ..families.names import FAMILIES, setting_called
from ..language.english.names import woods
from ..language.units import Ruler
from ..service.reviewing import There
from ..texts import tell
from .local import day
from .screen import Screen
from .standing import pieces_of

_MOST = 8  # values that a set-up could be found by, of each kind


def review(screen: Screen, rows: Sequence[Document], ruler: Ruler) -> None:
    """Print set-ups, newest first."""
    columns = _columns(rows)
    out = [_cells(row, columns, ruler) for row in rows]
    # Nobody looks at a column that nothing stands in.
    shown = [name for name in out[0] if any(cells[name] for cells in out)]
    told = [[cells[name] for name in shown] for cells in out]
    if screen.holds(shown, told):
        screen.table(shown, told, right=(0, 4, *range(6, 7 + len(columns))))
    else:
        for row, cells in zip(rows, out, strict=True):
            _briefly(screen, row, list(cells.values()), columns, ruler)
    unit = {"mm": tell("Settings in mm. "), "inch": tell("Settings in inches. ")}.get(
        ruler.units, ""
    )
    lead = " or the ".join(dict.fromkeys(_lead(r["settings"]).part for r in rows if r["settings"]))
    screen.line(
        "{unit}Since first: how far the {lead} moved from the first guess.",
        unit=unit,
        lead=lead or columns[0],
    )


def _cells(row: Document, columns: Sequence[str], ruler: Ruler) -> dict[str, str]:
    """What stands in each column of a set-up's row, by its header."""
    dial, moves = row["settings"] or {}, row["first_moves"] or {}
    status = how_ended(row["status"], row["ended"])
    pitch, looks = row["pitch"], f" + {row['checks']}" if row["checks"] else ""
    return {
        tell("set-up"): str(row["setup"]),
        tell("started"): day(datetime.fromisoformat(row["started"])),
        tell("bit"): row["bit"],
        tell("stock"): woods(row["stock"], row["pin_stock"]),
        tell("pitch"): "-" if pitch is None else ruler.length(pitch, bare=True),
        tell("status"): tell("{status}, current", status=status) if row["current"] else status,
        tell("pieces"): f"{row['pieces']}{looks}",
        **{tell(part): _of_part(dial, part, ruler) for part in columns},
        tell("since first"): _first_move(moves, ruler),
        tell("title"): row["title"] or "",
        tell("became of it"): "; ".join(
            note["text"] for note in row["notes"] if note["about"] == "outcome"
        ),
    }


def _briefly(
    screen: Screen, row: Document, cells: Sequence[str], columns: Sequence[str], ruler: Ruler
) -> None:
    """Print one set-up in a few lines, from the cells of its row."""
    number, started, bit, wood, pitch, status, _, *dial, move, title, became = cells
    room = " " * (len(number) + 2)
    lead = f"{number}  "
    if title:
        screen.line(lead + title, indent=room)
        lead = room
    done = pieces_of(row["pieces"], row["checks"])
    screen.line(f"{lead}{started}, {status}, {done}", indent=room)
    parts = [bit, wood, tell("{width} wide", width=ruler.size(row["width"]))]
    parts += [] if row["pitch"] is None else [tell("pitch {pitch}", pitch=pitch)]
    screen.line(room + ", ".join(parts), indent=room)
    if row["settings"]:
        told = ", ".join(f"{tell(part)} {at}" for part, at in zip(columns, dial, strict=True))
        since = tell("since first: {move}", move=move)
        screen.line(f"{room}{told}; {since}", indent=room)
    if became:
        screen.line(room + tell("became of it: {became}", became=became), indent=room)


def nothing_found(screen: Screen, there: There, ruler: Ruler) -> None:
    """Print that no set-up is like that, and by what there are others."""
    screen.line("No set-up is like that, of {count}. There is:", count=there.setups)
    known = {
        tell("titles"): [f'"{title}"' for title in there.titles],
        tell("widths"): [ruler.size(width) for width in there.widths],
        tell("pitches"): [ruler.length(pitch) for pitch in there.pitches],
        tell("years"): [str(year) for year in there.years],
    }
    for what, values in known.items():
        if values:
            screen.line("  {what}: {few}", indent="    ", what=what, few=_few(values))
    screen.line("All of them: fitlog review --all")


def _few(values: Sequence[str]) -> str:
    more = len(values) - _MOST
    return ", ".join([*values[:_MOST], *([tell("{more} more", more=more)] if more > 0 else [])])


def _columns(rows: Iterable[Document]) -> list[str]:
    """The parts of the machine that set-ups were set at; of the first family where none says."""
    names = [name for r in rows for name in r["settings"] or ()] or next(
        iter(FAMILIES.values())
    ).names
    return list(dict.fromkeys(setting_called(name).part for name in names))


def _of_part(dial: Mapping[str, float], part: str, ruler: Ruler) -> str:
    """What a part was set to, by the settings of a set-up's own family."""
    at = (length for name, length in dial.items() if setting_called(name).part == part)
    return next((ruler.length(length, bare=True) for length in at), "-")


def _first_move(moves: Mapping[str, float], ruler: Ruler) -> str:
    """How far the first setting moved."""
    if not moves:
        return "-"
    name = next(iter(moves))
    return ruler.move(setting_called(name), moves[name])


def _lead(dial: Mapping[str, float]) -> SettingKind:
    return setting_called(next(iter(dial)))


def how_ended(status: str, ended: str | None) -> str:
    """Return a set-up's status, and what is no good end called by its name."""
    return tell("ended as it is") if ended == "as it is" else tell(status)
