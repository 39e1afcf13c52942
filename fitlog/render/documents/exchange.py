"""The JSON of `log import`."""

from __future__ import annotations

from ...document import Document, said
from ...service.cuts import CutsIn
from ...service.exchange import Imported


def imported_document(done: Imported, dry_run: bool) -> Document:
    """Return what an import of a whole log did, or would do."""
    merged = done.merged
    renamed = [{"kind": kind, "name": name, "here": here} for kind, name, here in merged.renamed]
    return {
        "dry_run": dry_run,
        "identical": done.identical,
        "added": dict(merged.added),
        "found": dict(merged.found),
        "renamed": renamed,
        "left_out": merged.left_out,
        "setups": len(merged.setups),
        "still_open": list(done.still_open),
        "current": done.kept,
    }


def cuts_document(done: CutsIn, unused: tuple[str, ...], dry_run: bool, stopped: bool) -> Document:
    """Return what an import of trial cuts did, or would do. stopped: nothing was logged."""
    return {
        "dry_run": dry_run,
        "setup": done.setup,
        "setups": [number for number in done.setups if number],
        "started": done.opened,
        "logged": 0 if dry_run or stopped else len(done.cuts),
        "cuts": [
            {"line": line, "piece": cut.piece, "said": said(cut.settings.family, cut.verdict)}
            for line, cut, _ in done.cuts
        ],
        "known": done.known,
        "known_taken_back": done.gone,
        "taken_back": done.back,
        "unused": list(unused),
        "problems": [{"line": p.line, "message": p.message, "hint": p.hint} for p in done.problems],
    }
