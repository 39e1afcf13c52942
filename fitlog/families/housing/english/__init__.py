"""The sentences and names of a housing, in English."""

from __future__ import annotations

from ....language.english.care import same
from ....language.saying import Sentence, Tongue
from ....language.units import counted
from ...sheets import english as shared
from ...sheets.english import learnt, thickness


def second_from(
    t: Tongue, *, bit: float, play: float, sheet: float, sold: bool, taught: int, sd: float
) -> str:
    """The first second pass."""
    return (
        f"Second pass: {thickness(t, sheet, sold=sold)} less a {t.size(bit)} bit, and "
        f"{t.length(play)} of play{learnt(taught)}; the play is known to +-{t.ruler.doubt(sd)}, so "
        "it begins on the narrow side: a tight slot is passed again."
    )


def scraps(t: Tongue, *, thick: float, long: float) -> str:
    """What a trial is cut in. long: mm."""
    return (
        f"A scrap of the real side, {t.size(thick)} thick, {t.size(long)} or longer, its reference "
        "edge marked; an offcut of the real sheet, its thickest edge."
    )


def first(t: Tongue, *, height: float, read: bool) -> str:
    """The first pass."""
    told = ": read its place from the edge by caliper, and its depth" if read else ""
    depth = f" ({t.act('read', typed='cut_depth=L')})" if read else ""
    return f"First pass across, bit {t.length(height)} high{told}{depth}."


def first_short(t: Tongue, *, height: float, read: bool) -> str:
    """The first pass."""
    return f"First pass, bit {t.length(height)} high{'; read its depth' if read else ''}."


def second_pass(t: Tongue, *, second: float) -> str:
    """The second pass."""
    return (
        f"Second pass with the fence {t.length(second)} further out, by a dial or a spacer block: "
        "it takes the wall away from the fence and pushes the board off it, so hold it in."
    )


def second_short(t: Tongue, *, second: float) -> str:
    """The second pass."""
    return f"Second pass {t.length(second)} further out; hold it in."


def stock_of(
    t: Tongue, *, count: int, ends: int, width: float, thickness: float, length: float
) -> str:
    """Scraps that take several housings side by side."""
    long = t.size(length) if t.ruler.units == "mm" else "12 in"
    return (
        f"{counted(count, 'scrap')} of the side {t.size(width)} wide, {t.size(thickness)} thick, "
        f"{long} long or more, for {counted(ends, 'housing')} side by side; an offcut of the sheet."
    )


def recovered_from(t: Tongue, *, play: float | None, setup: int | None, sheet: float) -> str:
    """What a recovered second pass comes from. play: that of the kept sample, mm."""
    if play is not None:
        return (
            f"The kept offcut has {t.length(play)} of play in its slot: that is aimed at, for "
            f"today's sheet of {t.size(sheet)}."
        )
    return f"As the good slot of set-up {setup} was cut, for today's sheet of {t.size(sheet)}."


def sides_first(t: Tongue, *, height: float) -> str:
    """The first passes of all sides."""
    return (
        f"First passes of all sides at each place, bit {t.length(height)} high, before the fence "
        "moves on to the next."
    )


def sides_second(t: Tongue, *, second: float) -> str:
    """The second passes of all sides."""
    return (
        f"Then all second passes, {t.length(second)} further out; or each side to the end with a "
        f"spacer block of {t.length(second)} between fence and stop. The block is for this bit and "
        "this batch of sheets only: write their names on it."
    )


def shelf_cut(t: Tongue, *, shelf: float, clear: float, depth: float) -> str:
    """How long a shelf is."""
    return (
        f"Shelves {t.length(shelf)} long: the clear width of {t.size(clear)} and twice the "
        f"{t.length(depth)} that they go in."
    )


SENTENCES: dict[str, Sentence] = {
    **shared.SENTENCES,
    "housing-pass-from": second_from,
    "housing-scraps": scraps,
    "housing-first": first,
    "housing-second": second_pass,
    "housing-try": same(
        "Push the offcut in dry: say how it goes in, and what one feeler blade goes in beside it. "
        "A tight one is widened by another pass further out in the same slot."
    ),
    "stock-housings": stock_of,
    "sides-one-edge": same(
        "Both sides of a case from the same end and the same edge to the fence: mark it on each."
    ),
    "sides-first": sides_first,
    "sides-second": sides_second,
    "sides-try": same(
        "Try each sheet in its own slot before the stop is moved: a tight one is passed again, a "
        "hair further out. A loose one is past help, so begin on the narrow side."
    ),
    "shelf-cut": shelf_cut,
    "width-recovered": recovered_from,
    "recovered-check": same(
        "Cut one slot in waste first and push an offcut of today's sheet in, at its thickest."
    ),
    "shelf-sorted": same(
        "Sort the sheets: the thickest goes into the slot that is cut last, which may be passed "
        "again. A stopped housing ends round, by half the bit: square it, or cut the corner back."
    ),
    "second-out": same(
        "Widen a slot only by a pass further out, so that it takes the wall away from the fence, "
        "and by half the bit at most; never pass it again with the fence further in."
    ),
}
SHORT: dict[str, Sentence | None] = {
    **shared.SHORT,
    "housing-scraps": None,
    "housing-first": first_short,
    "housing-second": second_short,
    "housing-try": same("Push the offcut in dry: fit, and one feeler beside it."),
}
NAMES = {
    **shared.NAMES,
    "fit head": "Fit",
    "fit setting": "second pass",
    "fit misfit": "play",
    "fit figures": "sure enough at this second pass",
    "fit goes": "the second pass goes {way}",
    "fit stays": "the second pass stays",
    "fit zero of": "second pass",
    "fit to measure": "how far the fence is really moved on for the second pass",
}
