"""The real boards of a lock mitre, and how its settings are got back; in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue


def length(t: Tongue, *, edge: float, longer: float) -> str:
    """How long parts are cut. edge, longer: mm."""
    if longer > 0:
        return (
            f"The edges come out sharp and each end {t.length(edge)} shorter: cut every part "
            f"{t.length(longer)} longer than its outside length; or bit down and fence forward by "
            f"{t.length(edge / 2)} each, so that nothing is lost and the work keeps its bearing."
        )
    blunt = f" (about {t.length(-edge)} of it)" if edge < -0.005 else ""
    return f"A hair of each old end stays{blunt}: cut every part to its outside length."


def flats(t: Tongue, *, height: float, fence: float) -> str:
    """All that lie on the table. height, fence: as the scales read."""
    return (
        f"Bit {t.length(height)} to its top. All flats first, both ends, outside up, in passes by "
        f"the fence: all of them at one fence, then the next, the last and thin one at "
        f"{t.length(fence)}."
    )


def mitre_from(t: Tongue, *, setup: int, by: float) -> str:
    """Where recovered settings come from. by: how much thicker the boards are now, mm."""
    if abs(by) < 1e-6:
        return f"Bit and fence as set-up {setup} ended good with them."
    return (
        f"Bit and fence as set-up {setup} ended good with them, each {t.length(abs(by) / 2)} "
        f"{'more' if by > 0 else 'less'}: half of what the boards are "
        f"{'thicker' if by > 0 else 'thinner'}."
    )


def known_to(t: Tongue, *, height: float, fence: float) -> str:
    """How well the two pairs are known. height, fence: sd of each step, mm."""
    return (
        f"By all set-ups with this bit and machine two flats are known to +-{t.ruler.doubt(height)}"
        f", two uprights to +-{t.ruler.doubt(fence)}."
    )


def test_first(_: Tongue, *, chance: float) -> str:
    """One piece before the boards."""
    return (
        f"Cut a test piece of three ends at it first: it is good with {chance:.0%}. It is the same "
        "only with boards planed alike and the bit as it was ground."
    )


SENTENCES: dict[str, Sentence] = {
    "parts-planed": same(
        "Plane flats and uprights together, as thick as the test pieces: a board thicker by some "
        "takes as much off both pairs."
    ),
    "parts-length": length,
    "all-flats": flats,
    "all-uprights": same(
        "Then all uprights in the same way, inside to the fence, a backer behind each: bit and "
        "last fence as they stood for the flats, nothing moved in between."
    ),
    "keep-ends": same(
        "Keep one flat and one upright end, marked with bit and thickness: as set-up blocks they "
        "bring both settings back."
    ),
    "mitre-from": mitre_from,
    "known-to": known_to,
    "another-bit": same(
        "That was another bit: its profile's middle lies elsewhere. The settings are no more than "
        "a start; go about it as with a new one."
    ),
    "by-blocks": same(
        "With a kept flat and a kept upright end as set-up blocks: bit at rest and unplugged, the "
        "flat end to the bit until the profile fills it, then the fence until the upright's does; "
        "start with --given set-by=blocks."
    ),
    "test-first": test_first,
}
