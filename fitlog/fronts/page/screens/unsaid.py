"""An answer that is not in the log: what came between, who said it, or what is doubted, and how it
can be said all the same.
"""

from __future__ import annotations

from ....language.units import quoted
from ....texts import tell
from ..answers import Another, InDoubt, Meanwhile, with_seen
from ..desk import Sitting
from ..said import Said
from .common import Values, common, new_key


def meanwhile(sitting: Sitting, found: Meanwhile) -> Values:
    """Return what was said by others before this answer."""
    return {
        **common(sitting, found.setup),
        "told": found.told,
        "mine": _mine(found.said),
        "again": with_seen(found.setup, found.said),
        "old": found.said.raw,
    }


def in_doubt(sitting: Sitting, found: InDoubt) -> Values:
    """Return the question about what was typed."""
    return {
        **common(sitting, found.setup),
        "question": found.doubt.question,
        "meant": found.doubt.meant if found.doubt.mend else "",
        "insist": tell(found.doubt.insist),
        "again": with_seen(found.setup, found.said),
        "old": found.said.raw,
    }


def another(sitting: Sitting, found: Another, number: int | None = None) -> Values:
    """Return what somebody else said on this phone. number: of the set-up, None where it starts
    one.
    """
    fields = found.said.fields or {}
    return {
        "key": new_key(),
        "holder": sitting.by,
        "was": found.said.by,
        "number": number,
        "mine": _mine(found.said),
        "to": "/start" if number is None else f"/s/{number}/answer",
        "again": {k: v for k, v in fields.items() if k not in ("key", "by")},
        "old": found.said.raw,
        "paired": sitting.phone.number > 0,
    }


def _mine(said: Said) -> str:
    """Return an answer in a few words."""
    deed = said.deed
    if said.what == "cut":
        return tell("the piece is cut")
    if said.what == "word":
        return quoted(deed.text)
    if said.what in ("number", "reading", "slot"):
        return quoted(" ".join(filter(None, (deed.text, deed.other))))
    if said.what == "gap":
        return tell("gap {place}", place=deed.what)
    if said.what == "note":
        return quoted(deed.text)
    names = {
        "check": "a joint looked at",
        "found": "what was found",
        "skip": "not judged",
        "undo": "take back",
        "redo": "bring back",
        "start": "begin a set-up",
    }
    return tell(names.get(said.what, "end it"))
