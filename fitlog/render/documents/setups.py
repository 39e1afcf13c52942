"""The JSON of `review` and `show`."""

from __future__ import annotations

from ...document import Document, fixed, found_values, moment, names_of, on_scale, said
from ...domain import STANDING, Machine, Note, Piece, SetUp
from ...domain.standing import ended, ended_at
from ...log import LoggedCut, LoggedFound
from ...service.asked import Shown
from ...service.noting import understood


def shown_document(told: Shown) -> Document:
    """Return a set-up with every entry about its pieces, and what was found at the machine."""
    machine = told.setup.plan.machine
    return {
        "setup": review_row(told.setup, told.status),
        "cuts": [cut_row(cut, told.setup) for cut in told.cuts],
        "found": [found_row(one, machine) for one in told.found],
    }


def cut_row(logged: LoggedCut, setup: SetUp) -> Document:
    """Return one entry about a piece, with the settings that had been advised for it. piece: None
    for a slot in waste.
    """
    cut, machine = logged.cut, setup.plan.machine
    return {
        "entry": cut.entry,
        "piece": None if cut.slot else cut.piece,
        "slot": cut.slot,
        "after": cut.after,
        "retracted": logged.retracted,
        "settings": on_scale(cut.settings, machine),
        "stated": list(cut.stated),
        "advised": on_scale(cut.advised, machine) if cut.advised else None,
        "said": said(cut.settings.family, cut.verdict),
        "readings": [
            {"kind": r.kind, "value": r.value, "rod": r.rod, "other": r.other} for r in cut.readings
        ],
        "note": cut.note,
        "scrap": cut.scrap,
        "by": cut.by,
        "at": moment(cut.at),
        "machine": cut.machine,
        **({"recut_of": cut.end} if setup.plan.family.recuts else {}),
    }


def found_row(logged: LoggedFound, machine: Machine | None) -> Document:
    """Return what was found once, as `show` tells it. remembered: the settings in force then."""
    return {
        "entry": logged.entry,
        "retracted": logged.retracted,
        "found": found_values(logged.remembered.family, logged.settings, machine),
        "remembered": on_scale(logged.remembered, machine),
        "by": logged.by,
        "at": moment(logged.at),
        "machine": logged.machine,
    }


def review_row(setup: SetUp, status: str) -> Document:
    """Return one set-up as `review` lists it; first_moves: how far from the first.

    settings: those of the last piece that it rests on, carried over to the real boards' own size.
    ended: how it ended, null while open.  width: of the boards, and pitch, mm; null for a joint
    without one.  kept: where its sample is, null where nobody said.  pieces: test pieces; checks:
    joints looked at between real boards.
    """
    plan, pieces, real = setup.plan, setup.tuned_on(), ended_at(setup)
    return {
        "setup": setup.number,
        "title": setup.noted("title") or None,
        **names_of(plan),
        "width": plan.board_width,
        "pitch": fixed(plan).get("pitch"),
        "started": moment(setup.started),
        "finished": moment(setup.ended),
        "status": status,
        "ended": ended(setup),
        "pieces": len(setup.tests()),
        "checks": len(setup.checks()),
        "settings": on_scale(real, plan.machine) if real else None,
        "first_moves": _first_moves(setup, pieces[-1]) if pieces else None,
        **_written(setup),
    }


def written_document(setup: SetUp) -> Document:
    """Return what is written down about a set-up."""
    title = setup.noted("title") or None
    return {"setup": setup.number, "title": title, **_written(setup)}


def _written(setup: SetUp) -> Document:
    notes = [_note(setup, note) for note in setup.notes if note.about not in STANDING]
    return {"kept": setup.noted("kept") or None, "notes": notes}


def _note(setup: SetUp, note: Note) -> Document:
    """Return what is written down once. understood: of what became of it, null where nothing is."""
    became = understood(setup, note)
    return {
        "entry": note.entry,
        "about": note.about,
        "text": note.text,
        "understood": None if became is None else became._asdict(),
        "by": note.by,
        "at": moment(note.at),
    }


def _first_moves(setup: SetUp, last: Piece) -> dict[str, float]:
    return {name: round(last.settings[name] - setup.first[name], 4) for name in setup.first}
