"""What came into the log, or would come."""

from __future__ import annotations

from ..domain import TrialCut
from ..language.units import Ruler, counted
from ..service.cuts import CutsIn
from ..service.exchange import Imported
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
    screen.line(f"{count:,} {what}{'' if count == 1 else 's'} written to {file}")


def imported(screen: Screen, done: Imported, file: str, dry_run: bool) -> None:
    """Print what an import of a whole log did. done: an `Imported` of the workbench."""
    merged, would = done.merged, "Would add" if dry_run else "Added"
    screen.line(f"{would} {_counts(merged.added)} from {file}.")
    if sum(merged.found.values()):
        screen.line(f"Here already: {_counts(merged.found)}.")
    for kind, name, here in merged.renamed:
        screen.line(
            f"- The {kind} {name} has other figures here, so theirs is called {here}.", indent="  "
        )
    for reason in merged.left_out[:_MOST]:
        screen.line(f"- Left out: {reason}.", indent="  ")
    if len(merged.left_out) > _MOST:
        screen.line(f"- Left out, too: {len(merged.left_out) - _MOST} more.")
    if done.still_open and not done.identical:
        shown = ", ".join(map(str, done.still_open[:8])) + (
            " and more" if len(done.still_open) > 8 else ""
        )
        screen.line(
            f"Still open among the new set-ups: {shown}. End them with fitlog finish --setup N."
        )
    if done.kept is not None and merged.setups:
        screen.line(f"Set-up {done.kept} stays the current one.")
    if dry_run:
        screen.line("Nothing was stored.")


def cuts_in(
    screen: Screen, done: CutsIn, unused: tuple[str, ...], ruler: Ruler, nothing: bool
) -> None:
    """Print what an import of trial cuts did, or would do. done: a `CutsIn` of the workbench."""
    for problem in done.problems:
        screen.line(f"Line {problem.line}: {problem.message}: {problem.hint}", indent="  ")
    if unused:
        screen.line(f"Columns that were not used: {', '.join(unused)}.")
    if nothing:
        for line, cut, machine in done.cuts[:_MOST]:
            sizes = " / ".join(
                ruler.length(value) for value in cut.settings.on_scale(machine).values()
            )
            screen.line(
                f"Line {line} would be piece {cut.piece}: {_said(cut)}; at {sizes}.", indent="  "
            )
        if len(done.cuts) > _MOST:
            screen.line(f"And {len(done.cuts) - _MOST} more.")
    if done.known:
        screen.line(
            f"{counted(done.known, 'line')} {'is' if done.known == 1 else 'are'} in the log "
            "already."
        )
    if done.gone:
        screen.line(
            f"{done.gone} of them {'was' if done.gone == 1 else 'were'} taken back here; --again "
            "logs all lines anew."
        )
    if done.back:
        screen.line(
            f"{counted(done.back, 'line')} {'was' if done.back == 1 else 'were'} taken back there, "
            "and left out."
        )
    where = f"set-up {done.setup}" if done.setup else "a new set-up"
    if len(done.setups) > 1:
        where = f"set-ups {', '.join(map(str, sorted(done.setups)))}"
    if nothing:
        screen.line(f"{counted(len(done.cuts), 'cut')} would go to {where}; nothing was logged.")
    elif not done.cuts:
        screen.line("Nothing new to log.")
    else:
        started = ", started for them" if done.opened else ""
        see = f" See fitlog next --setup {done.setup}." if done.setup else ""
        screen.line(f"{counted(len(done.cuts), 'cut')} logged to {where}{started}.{see}")


def _said(cut: TrialCut) -> str:
    parts = [] if cut.verdict.empty else [str(cut.verdict)]
    parts += [reading.kind.replace("_", " ") for reading in cut.readings]
    return ", ".join(parts) or "a note"


def _counts(rows: dict[str, int]) -> str:
    told = [
        f"{rows[kind]:,} {one if rows[kind] == 1 else many}"
        for kind, one, many in _WHAT
        if rows.get(kind)
    ]
    return (
        f"{', '.join(told[:-1])} and {told[-1]}"
        if len(told) > 1
        else told[0]
        if told
        else "nothing"
    )
