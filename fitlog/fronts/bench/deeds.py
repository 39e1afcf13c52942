"""What a deed tells of a piece, as a use case takes it."""

from __future__ import annotations

from collections.abc import Mapping

from ...domain import Advice, Fault, SetUp, Verdict
from ...service.asked import Reported
from ...service.reader import Reader
from ...service.reader.cuts import numbered
from ...service.reader.readings import readings
from .press import Deed
from .stand import last_word, not_judged

TELLING = ("cut", "word", "skip", "gap", "number", "reading", "slot")  # the deeds about a piece
# What is typed, where a slip of the hand is asked about.
TYPED = ("number", "reading", "slot")


def told_by(
    deed: Deed,
    setup: SetUp,
    reader: Reader,
    held: Mapping[str, float],
    advice: Advice | None,
) -> Reported:
    """Return what one of the deeds of `TELLING` tells.

    held: settings really set otherwise, true mm by name; advice: what the piece was cut by, None
    where that is not at hand. Raises NotUnderstood, Refused for what cannot be read.
    """
    if deed.kind == "cut":
        # As it was advised, on the end that was cut; set otherwise it may not go on there.
        reasons = advice.reasons if advice is not None and not held else ()
        again = any(reason.code == "same-end" for reason in reasons)
        return Reported(Verdict(), changed=dict(held), unjudged=True, same_end=again)
    if deed.kind == "word":
        said = setup.plan.family.said(deed.what, deed.text)
        return Reported(Verdict((said,)), deed.text, later=True)
    if deed.kind == "skip":
        return Reported(Verdict(), note=not_judged(deed.what), later=True)
    if deed.kind == "gap":
        fault = Fault(deed.what)
        return Reported(Verdict(faults=(fault,)), f"gap {deed.what}", later=True)
    if deed.kind == "number":  # the last word again, with its number
        word = last_word(setup)
        assert word is not None, "a number belongs to a word"
        return numbered(reader, setup.plan.joint, word, deed.text)
    typed = (deed.text, deed.other) if deed.other else deed.text
    read = readings(reader, setup.plan.joint, [(deed.what, typed)])
    if deed.kind == "reading":
        return Reported(Verdict(), readings=read, later=True)
    # A cut in waste at what is set, measured; the settings held stay held.
    return Reported(Verdict(), readings=read, changed=dict(held), slot=True)
