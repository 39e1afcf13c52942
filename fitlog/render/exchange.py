"""What came into the log, or would come."""

from __future__ import annotations

from ..domain import TrialCut
from ..language.numbers import together
from ..language.units import Ruler, counted
from ..service.cuts import CutsIn
from ..service.exchange import Imported
from ..texts import tell
from .screen import Screen

_WHAT = (
    ("entry", "entry", "entries"),
    ("advice", "advice", "advices"),
    ("bit", "bit", "bits"),
    ("stock", "stock", "stocks"),
    ("machine", "machine", "machines"),
    ("sharpening", "sharpening", "sharpenings"),
    ("preference", "preference", "preferences"),
)
_MOST = 40


def exported(screen: Screen, count: int, what: str, file: str) -> None:
    """Print how much was written where."""
    screen.line("{rows} written to {file}", rows=counted(f"{count:,}", what), file=file)


def imported(screen: Screen, done: Imported, file: str, dry_run: bool) -> None:
    """Print what an import of a whole log did. done: an `Imported` of the workbench."""
    merged = done.merged
    screen.line(
        "Would add {rows} from {file}." if dry_run else "Added {rows} from {file}.",
        rows=_counts(merged.added),
        file=file,
    )
    if sum(merged.found.values()):
        screen.line("Here already: {counts}.", counts=_counts(merged.found))
    for kind, name, here in merged.renamed:
        screen.line(
            "- The {kind} {name} has other figures here, so theirs is called {here}.",
            indent="  ",
            kind=kind,
            name=name,
            here=here,
        )
    for reason in merged.left_out[:_MOST]:
        screen.line("- Left out: {reason}.", indent="  ", reason=reason)
    if len(merged.left_out) > _MOST:
        screen.line("- Left out, too: {count} more.", count=len(merged.left_out) - _MOST)
    if done.still_open and not done.identical:
        shown = ", ".join(map(str, done.still_open[:8])) + (
            tell(" and more") if len(done.still_open) > 8 else ""
        )
        screen.line(
            "Still open among the new set-ups: {shown}. End them with fitlog finish --setup N.",
            shown=shown,
        )
    if done.kept is not None and merged.setups:
        screen.line("Set-up {kept} stays the current one.", kept=done.kept)
    if dry_run:
        screen.line("Nothing was stored.")


def cuts_in(
    screen: Screen, done: CutsIn, unused: tuple[str, ...], ruler: Ruler, nothing: bool
) -> None:
    """Print what an import of trial cuts did, or would do. done: a `CutsIn` of the workbench."""
    for problem in done.problems:
        screen.line(
            "Line {line}: {message}: {hint}",
            indent="  ",
            line=problem.line,
            message=problem.message,
            hint=problem.hint,
        )
    if unused:
        screen.line("Columns that were not used: {unused}.", unused=", ".join(unused))
    if nothing:
        for line, cut, machine in done.cuts[:_MOST]:
            sizes = " / ".join(
                ruler.length(value) for value in cut.settings.on_scale(machine).values()
            )
            screen.line(
                "Line {line} would be piece {piece}: {said}; at {sizes}.",
                indent="  ",
                line=line,
                piece=cut.piece,
                said=_said(cut),
                sizes=sizes,
            )
        if len(done.cuts) > _MOST:
            screen.line("And {count} more.", count=len(done.cuts) - _MOST)
    if done.known:
        screen.line(
            "{count} line is in the log already."
            if done.known == 1
            else "{count} lines are in the log already.",
            count=done.known,
        )
    if done.gone:
        screen.line(
            "{count} of them was taken back here; --again logs all lines anew."
            if done.gone == 1
            else "{count} of them were taken back here; --again logs all lines anew.",
            count=done.gone,
        )
    if done.back:
        screen.line(
            "{count} line was taken back there, and left out."
            if done.back == 1
            else "{count} lines were taken back there, and left out.",
            count=done.back,
        )
    _where_to(screen, done, nothing)


def _where_to(screen: Screen, done: CutsIn, nothing: bool) -> None:
    """Print how many cuts went where, or would go."""
    where = tell("set-up {setup}", setup=done.setup) if done.setup else tell("a new set-up")
    if len(done.setups) > 1:
        where = tell("set-ups {setups}", setups=", ".join(map(str, sorted(done.setups))))
    if nothing:
        screen.line(
            "{cuts} would go to {where}; nothing was logged.",
            cuts=counted(len(done.cuts), "cut"),
            where=where,
        )
    elif not done.cuts:
        screen.line("Nothing new to log.")
    else:
        started = tell(", started for them") if done.opened else ""
        see = tell(" See fitlog next --setup {setup}.", setup=done.setup) if done.setup else ""
        screen.line(
            "{cuts} logged to {where}{started}.{see}",
            cuts=counted(len(done.cuts), "cut"),
            where=where,
            started=started,
            see=see,
        )


def _said(cut: TrialCut) -> str:
    parts = [] if cut.verdict.empty else [str(cut.verdict)]
    parts += [tell(reading.kind.replace("_", " ")) for reading in cut.readings]
    return ", ".join(parts) or tell("a note")


def _counts(rows: dict[str, int]) -> str:
    told = [counted(f"{rows[kind]:,}", one, many) for kind, one, many in _WHAT if rows.get(kind)]
    return together(told) if told else tell("nothing")
