"""What an answer does: it is an entry of the log once, or a sentence that says why not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from ...domain import SetUp
from ...errors import Refused
from ...language.doubts import Doubt
from ...render.answer import told
from ...service.asked import Reported
from ...service.bench import Workbench
from ...service.doubts import settled
from ...service.possible import check_settings
from ...service.reader.cuts import CutTyped, Dialled, all_dialled, changed
from ...service.slips import doubts_on
from ...texts import tell
from ..bench import last_word, stand, takes_number
from ..bench.deeds import TELLING, TYPED, told_by
from . import deeds
from .desk import Sitting
from .said import Said, begun

_KINDS = {
    "undo": ("retract",),
    "redo": ("redo",),
    "finish": ("finish", "finish-as-is", "abandon"),
    "as-it-is": ("finish", "finish-as-is", "abandon"),
    "abandon": ("finish", "finish-as-is", "abandon"),
    "note": ("note",),
    "found": ("found",),
}
_BESIDE = {"check": "looked", "note": "keep", "found": "found"}  # no piece: the screen after it


@dataclass(frozen=True, slots=True)
class Meanwhile(Exception):
    """Somebody said something of the set-up that whoever answers had not seen: it does not count
    before they have. said: None where nothing was, but a piece was to be cut.
    """

    setup: SetUp
    told: Sequence[str]
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class Another(Exception):
    """Who holds the phone now is another than who said it there: it counts under neither name
    before they have seen it.
    """

    said: Said


@dataclass(frozen=True, slots=True)
class InDoubt(Exception):
    """What was typed no shop would mean, unless it is said again as meant."""

    setup: SetUp
    doubt: Doubt
    said: Said


def hear(sitting: Sitting, number: int, said: Said) -> str:
    """Do what was said of a set-up, once; return the screen that comes next.

    Said again under its number it does nothing, and the answer is what it would be now. Raises
    Another, Meanwhile, InDoubt, NotUnderstood, Refused: then nothing is logged.
    """
    kinds = _KINDS.get(said.what, ("cut",))
    if sitting.given_again(said.key, *kinds) is not None:
        return after(sitting.log.setup(number), said)
    require_own(sitting, said)
    setup, bench = sitting.at(number)
    require_seen(sitting, setup, said.seen, said)
    bench.under(said.key)
    if said.what in TELLING:
        bench.require_open(setup)
        cut = bench.record(setup, _told(sitting, setup, bench, said))
        # Nothing came between, else it would not be in the log: so the set-up stands now.
        return after(replace(setup, cuts=(*setup.cuts, cut), newest=cut.entry), said)
    if said.what in _BESIDE:
        _beside(sitting, setup, bench, said)
    else:
        _do(bench, setup, said.what, whole=said.deed.text == "whole")
        sitting.desk.learnt_more()
    return after(sitting.log.setup(number), said)


def require_seen(sitting: Sitting, setup: SetUp, told: str, said: Said | None = None) -> None:
    """Refuse what was said, or a cut, by somebody who had not seen all. told: the newest entry on
    their screen, as `Said.seen`. Raises Meanwhile.
    """
    seen = _seen(sitting, setup.number, told)
    if seen != setup.newest:
        raise Meanwhile(setup, since(sitting, setup, seen), said)


def require_own(sitting: Sitting, said: Said) -> None:
    """Refuse what somebody else said on this phone. Raises Another."""
    if said.by not in ("", sitting.by):
        raise Another(said)


def after(setup: SetUp, said: Said) -> str:
    """Return the screen that follows an answer which is in the log. setup: as it stands now."""
    number = setup.number
    if said.what in _BESIDE:
        return f"/s/{number}/{_BESIDE[said.what]}"
    at, word = stand(setup), last_word(setup)
    if said.what == "word" and not setup.plan.words_only:
        this = word is not None and word.aspect == said.deed.what
        if this and word is not None and word.size is None and takes_number(word):
            return f"/s/{number}/number"
    if said.what == "slot":
        return f"/s/{number}/set"
    if at.at == "over" or said.what in ("undo", "redo"):
        return f"/s/{number}"
    return f"/s/{number}/now" if at.at == "settings" else f"/s/{number}/judge"


def since(sitting: Sitting, setup: SetUp, seen: int | None) -> list[str]:
    """Return what was said of a set-up after an entry, the newest last, with who said it."""
    found = []
    for cut, gone in sitting.log.cut_entries(setup.number):
        if seen is None or cut.entry > seen:
            what = told(cut, sitting.ruler(setup.plan.machine))
            by = tell("you") if cut.by == sitting.by else cut.by
            sentence = tell(
                "{by}, piece {piece}: {what} (taken back)"
                if gone
                else "{by}, piece {piece}: {what}",
                by=by,
                piece=cut.piece,
                what=what,
            )
            found.append(sentence)
    return found or [tell("The set-up has another entry since.")]


def _seen(sitting: Sitting, number: int, told: str) -> int | None:
    """Return the newest entry that was seen, None for one that is not there."""
    entry = told[1:20]
    if told.startswith("e") and entry.isascii() and entry.isdecimal():
        return int(entry)
    return sitting.log.entry_of(number, begun(told[1:])) if told.startswith("k") else None


def _told(sitting: Sitting, setup: SetUp, bench: Workbench, said: Said) -> Reported:
    """Return what is told of a piece, with every doubt about it put right or confirmed."""
    reader, deed = sitting.reader, said.deed
    if deed.kind == "number" and last_word(setup) is None:
        raise Refused("no-piece", "there is no word that a number could belong to", "say it first")
    otherwise = CutTyped(settings={name: Dialled(text) for name, text in said.held.items()})
    held, _ = changed(reader, setup, all_dialled(setup.plan.joint, otherwise))
    check_settings(setup.plan, setup.shown.changed(**held), held, {})
    # Only where ends are cut again does the advice say on which one a piece was cut.
    ends = deed.kind == "cut" and setup.plan.family.recuts
    advice = bench.look_at(setup).advice if ends else None
    reported = told_by(deed, setup, reader, held, advice)
    if not deed.meant and (deed.kind in TYPED or held):
        doubts = doubts_on(bench, setup, reported)
        return settled(reported, doubts, said.mend, lambda doubt: InDoubt(setup, doubt, said))
    return reported


def _do(bench: Workbench, setup: SetUp, what: str, *, whole: bool) -> None:
    if what == "undo":
        bench.take_back(setup, whole=whole)
    elif what == "redo":
        bench.redo(setup)
    elif what in _KINDS:
        bench.finish(setup, abandon=what == "abandon", as_it_is=what == "as-it-is")
    else:
        raise Refused("bad-answer", "this answer is not known", "load the page again")


def _beside(sitting: Sitting, setup: SetUp, bench: Workbench, said: Said) -> None:
    fields = said.fields or {}
    if said.what == "check":
        deeds.check(sitting, setup, bench, fields, lambda doubt: InDoubt(setup, doubt, said))
    elif said.what == "note":
        deeds.write_down(sitting, setup, bench, fields)
    else:
        deeds.as_found(sitting, setup, bench, fields)


def with_seen(setup: SetUp, said: Said) -> dict[str, str]:
    """Return the fields of an answer for saying it again, now that all was seen."""
    return {
        **{k: v for k, v in (said.fields or {}).items() if k not in ("key", "seen")},
        "seen": f"e{setup.newest}",
    }


__all__ = [
    "Another",
    "InDoubt",
    "Meanwhile",
    "after",
    "hear",
    "require_own",
    "require_seen",
    "with_seen",
]
