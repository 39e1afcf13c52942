"""An answer that is not in the log: what came between, who said it, or what is doubted, and how it
can be said all the same.
"""

from __future__ import annotations

from ....language.units import quoted
from ....texts import tell
from ..answers import Another, InDoubt, Meanwhile, with_seen
from ..desk import Sitting
from ..said import Said, given_on
from .common import Values, common, new_key
from .recipe import Odd

_OF_WHAT_STANDS = ("undo", "redo", "finish", "as-it-is", "abandon")


def meanwhile(sitting: Sitting, found: Meanwhile) -> Values:
    """Return what was said by others before this answer. again: its fields, none where it is to be
    looked at anew: what ends something or takes it back would meet something else now.
    """
    said = found.said
    return {
        **common(sitting, found.setup),
        "told": found.told,
        "mine": "" if said is None else _mine(said),
        "again": {}
        if said is None or said.what in _OF_WHAT_STANDS
        else with_seen(found.setup, said),
        "old": "" if said is None else said.raw,
    }


def odd(sitting: Sitting, found: Odd) -> Values:
    """Return the question about a setting before a piece is cut at it."""
    fields = {name: text for name, text in found.fields.items() if name != "meant"}
    meant, confirmed = found.doubt.meant, found.fields.get("meant", "").split()
    return {
        **common(sitting, found.setup),
        "question": found.doubt.question,
        "meant": meant,
        "insist": tell(found.doubt.insist),
        "typed": {**fields, "meant": " ".join((*confirmed, found.name))},
        "mended": {**fields, f"set.{found.name}": meant, "meant": " ".join(confirmed)},
        "back_to": given_on(found.setup.number, {**fields, "what": "cut"}),
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
        "back_to": given_on(found.setup.number, found.said.fields or {}),
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
    if said.what in ("undo", "redo") and (was := (said.fields or {}).get("was")):
        return tell("take back: {what}" if said.what == "undo" else "bring back: {what}", what=was)
    names = {
        "check": "a joint looked at",
        "found": "what was found",
        "skip": "not judged",
        "undo": "take back",
        "redo": "bring back",
        "start": "begin a set-up",
    }
    return tell(names.get(said.what, "end it"))
