"""Taking entries of a set-up back and bringing them back: what an undo is about, and how that is
called.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from ..domain import SetUp
from ..errors import Refused
from ..log import Log, Stamp
from ..log.entries import AS_IT_IS
from ..texts import AsTyped, tell
from .asked import named

# What each kind of entry is called, where it is no piece's.
_KINDS = {
    "cut": "the newest cut",
    "found": "what was found",
    "start": "the start of set-up {number}",
    "finish": "the finish",
    AS_IT_IS: "the finish",
    "abandon": "the abandon",
    "note": "what was written down",
}
_NOTED = {
    "title": 'the title "{said}"',
    "kept": 'where the sample is kept: "{said}"',
    "note": 'the note "{said}"',
    "outcome": 'what became of it: "{said}"',
}


def is_start(log: Log, setup: SetUp) -> bool:
    """Tell whether nothing but its start is left of a set-up, so that an undo takes back the whole
    of it.
    """
    newest = log.newest_live(setup.number)
    return newest is not None and newest[1] == "start"


def only_begun(log: Log, setup: SetUp) -> bool:
    """Tell whether nothing but its start and what was written down with that is left."""
    live = [] if setup.cuts else log.live(setup.number, len(setup.notes) + 2)
    return bool(live) and _begun(setup, live)


def newest(log: Log, setup: SetUp) -> str:
    """Return what an undo of a set-up, of the whole of one that is only begun, would take back, ""
    where nothing is left.
    """
    last = [(cut.entry, "cut") for cut in setup.cuts if cut.entry == setup.newest]
    live = last or log.live(setup.number, len(setup.notes) + 2)
    if not live:
        return ""
    return _called(setup, live[::-1] if _begun(setup, live) else live[:1])


def undone_last(log: Log, setup: SetUp) -> str:
    """Return what a redo of a set-up would bring back, "" where it would bring back nothing."""
    back = log.would_redo(setup.number)
    every = tuple(logged.cut for logged in log.cut_entries(setup.number)) if back else ()
    return _called(replace(setup, cuts=every), back) if back else ""


def take_back(log: Log, setup: SetUp, piece: int | None, stamp: Stamp, *, whole: bool) -> str:
    """Take back the newest entry of a set-up, or all about one piece; return what was taken back.

    Raises Refused: unknown-piece; nothing-to-undo; log-moved-on where others wrote since it was
    read; whole-setup for its start, unless the `whole` set-up is to go.
    """
    if piece is not None:
        return _piece_back(log, setup, piece, stamp)
    live = log.live(setup.number, len(setup.notes) + 2)
    if not live:
        raise Refused(
            "nothing-to-undo",
            "nothing is left to take back in set-up {number}",
            "see fitlog review",
            "look at the other set-ups",
            number=setup.number,
        )
    if live[0][1] == "start" and not whole:
        raise Refused(
            "whole-setup",
            "undo would take back the whole of set-up {number}, since only its start is left",
            "say --yes for that; fitlog redo brings it back",
            "load the page again: then it says so, and takes it back",
            number=setup.number,
        )
    # What was written down at the start is part of it for whoever wants the whole set-up gone.
    back = live if whole and _begun(setup, live) else live[:1]
    what = _called(setup, back[::-1])
    newest, *older = (entry for entry, _ in back)
    log.retract(newest, stamp, *older, seen=setup.newest)
    return what


def _begun(setup: SetUp, live: Sequence[tuple[int, str]]) -> bool:
    """Tell whether a set-up's entries that stand are its start and what was written down with
    that.
    """
    *notes, (_, first) = live
    at_once = all(note.at == setup.started for note in setup.notes)
    return first == "start" and at_once and all(kind == "note" for _, kind in notes)


def bring_back(log: Log, setup: SetUp, stamp: Stamp) -> str:
    """Bring back what a set-up's last undo took back; return what that is. Raises Refused:
    nothing-to-redo, still-tuning, log-moved-on.
    """
    back = log.redo(setup.number, stamp, seen=setup.newest)
    return _called(log.setup(setup.number), back)


def _piece_back(log: Log, setup: SetUp, piece: int, stamp: Stamp) -> str:
    found = [c.entry for c in setup.cuts if c.piece == piece and not c.slot]
    if not found:
        known = ", ".join(str(p.number) for p in setup.pieces()) or "none"
        raise Refused(
            "unknown-piece",
            "set-up {number} has no piece {piece}",
            "pieces: {known}",
            number=setup.number,
            piece=piece,
            known=known,
        )
    *older, newest = found
    log.retract(newest, stamp, *reversed(older), seen=setup.newest)
    return tell("piece {piece}", piece=piece)


def _called(setup: SetUp, entries: Sequence[tuple[int, str]]) -> str:
    """Return entries of a set-up, number and kind, in a few words; several are all about
    one piece, or its start with what was written down then.
    """
    entry, kind = entries[0] if entries[0][1] == "start" else entries[-1]
    cut = next((cut for cut in setup.cuts if cut.entry == entry), None)
    if cut is not None:
        return named(cut) if len(entries) == 1 else tell("piece {piece}", piece=cut.piece)
    note = next((note for note in setup.notes if note.entry == entry), None)
    if note is not None:
        return tell(_NOTED[note.about], said=AsTyped(note.text))
    return tell(_KINDS[kind], number=setup.number)
