"""How a sliding dovetail is got back, in English."""

from __future__ import annotations

from ....language.saying import Sentence, Tongue


def slide_from(t: Tongue, *, setup: int, socket: float) -> str:
    """What is taken from the set-up. socket: the height of its sockets, mm."""
    return (
        f"Sockets {t.length(socket)} high and the tongue under them as set-up {setup} had them; "
        "the exposure for the middle of what is good, by all set-ups with this bit and machine."
    )


def sample_read(_: Tongue, *, kinds: tuple[str, ...], left_out: int) -> str:
    """What was measured of the sample. left_out: readings that cannot be."""
    odd = "; one of them does not go with the bit and is left out" if left_out else ""
    return f"The kept sample's {' and '.join(kinds)} were weighed in{odd}."


def one_trial(_: Tongue, *, chance: float) -> str:
    """The setting is known well enough."""
    return f"Cut one tongue at it first ({chance:.0%} that it is good), then the shelves."


def thick_trial(_: Tongue, *, chance: float) -> str:
    """The setting is not known well enough."""
    return (
        f"Good at the first cut with {chance:.0%} only: begin a few tenths thicker (a smaller "
        "exposure) and open it on the same end."
    )


def sockets_anew(_: Tongue, *, bit: str) -> str:
    """Another bit than the one that cut the old sockets."""
    return f"Sockets of another bit don't take a tongue by {bit}: cut them anew with it, too."


SENTENCES: dict[str, Sentence] = {
    "slide-from": slide_from,
    "sample-read": sample_read,
    "one-trial": one_trial,
    "thick-trial": thick_trial,
    "sockets-anew": sockets_anew,
}
