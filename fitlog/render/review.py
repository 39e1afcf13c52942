"""Past set-ups as a table, newest first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from ..document import Document
from ..domain import SettingKind
from ..families.names import FAMILIES, setting_called
from ..language.english.names import woods
from ..language.units import Ruler
from ..texts import tell
from .screen import Screen


def review(screen: Screen, rows: Sequence[Document], ruler: Ruler) -> None:
    """Print set-ups, newest first."""
    out, columns = [], _columns(rows)
    for r in rows:
        dial, moves = r["settings"] or {}, r["first_moves"] or {}
        wood = woods(r["stock"], r["pin_stock"])
        out.append(
            [
                str(r["setup"]),
                r["started"][:10],
                r["bit"],
                wood,
                how_ended(r["status"], r["ended"]),
                f"{r['pieces']} + {r['checks']}" if r["checks"] else str(r["pieces"]),
            ]
            + [_of_part(dial, part, ruler) for part in columns]
            + [_first_move(moves, ruler)]
        )
    headers = [
        "set-up",
        "started",
        "bit",
        "stock",
        "status",
        "pieces",
        *columns,
        "since first",
    ]
    screen.table(headers, out, right=(0, *range(5, 6 + len(columns))))
    unit = {"mm": tell("Settings in mm. "), "inch": tell("Settings in inches. ")}.get(
        ruler.units, ""
    )
    lead = " or the ".join(dict.fromkeys(_lead(r["settings"]).part for r in rows if r["settings"]))
    screen.line(
        "{unit}Since first: how far the {lead} moved from the first guess.",
        unit=unit,
        lead=lead or columns[0],
    )


def _columns(rows: Sequence[Document]) -> list[str]:
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
