"""What is said of a test piece of a half-blind dovetail: how to cut it, what it showed, what the
next one asks for; in English.
"""

from __future__ import annotations

from ....language.numbers import percent
from ....language.saying import Sentence, Tongue
from .. import figures
from ..names import FENCE, HALF_BLIND, HEIGHT

_GAPS = {
    "baseline": "The gap at the baseline is not the bit's height: leave the bit alone. The pin "
    "board lifted (by the gap's size) or the rabbet is shorter than the tails: hold the board "
    "down, cut the rabbet {height} long (up to {margin} more), and cut another piece. Its fit word "
    "says nothing about the fit. {tests} has the tests.",
    "inside": "A gap on the inside corner only: leave the bit alone. The rabbet is too long or the "
    "board leaned against the fence: cut the rabbet {height} long, hold the board upright, and cut "
    "another piece. {tests} has the tests.",
    "flank": "One flank tight and the other open is a board leaning in its plane: leave the bit "
    "alone. Square the board's end, stand it upright in its carrier, and cut another piece. "
    "{tests} has the tests.",
}


def gap(
    t: Tongue,
    *,
    place: str,
    lead: float = 0.0,
    piece: int | None = None,
    size: float | None = None,
) -> str:
    """A gap that no setting cures: on the last piece, or logged with an earlier one. lead: the
    bit height for the next piece, mm.
    """
    tests = t.act("fault-gap", place=place)
    if piece is None:
        return _GAPS[place].format(
            height=t.length(lead), margin=t.length(figures.RABBET_OVER), tests=tests
        )
    said = t.word((f"gap {place}", size))
    return f"Piece {piece} was logged with a {said}: {tests} has its causes."


def gap_where(t: Tongue) -> str:
    """A gap without its place."""
    return (
        "A gap was logged without its place, and moves nothing: where is it? Add it with "
        f"{t.act('gap-where')} (or near, baseline, inside, flank)."
    )


def no_second_pass(t: Tongue) -> str:
    """A second pass may shave the wall at the fence."""
    return (
        "At this fence offset a second pass may shave the fence side, or too much: make none, "
        f"and measure the two walls beside the cut instead ({t.act('walls', them=' logs them')})."
    )


def fence_side(t: Tongue, *, shaving: float, chance: float) -> str:
    """A second pass is likely to shave the wall at the fence."""
    return (
        f"The chance of a shaving over {t.length(shaving)} on the fence side (a climb cut that "
        f"can snatch) is {chance:.0%}: before the turn, measure the two walls beside the cut; "
        f"half their difference is the error ({t.act('walls', them=' logs it')}), and no second "
        "pass is needed."
    )


def walls_first(t: Tongue, *, most: float) -> str:
    """The walls are measured before any turn. most: by how much the one at the fence may be the
    thicker for a second pass, mm.
    """
    return (
        f"Before any turn measure the two walls beside the slot ({t.act('walls', them='')}): half "
        "their difference is the error of the centre, and says all. A second pass is safe only "
        f"where the wall at the fence is the thicker one, by up to {t.length(most)}."
    )


def centre_known(t: Tongue, *, chance: float) -> str:
    """The centre is known; asked where a piece is judged."""
    return f"The centre is known already ({chance:.0%}): no turn, and {t.act('leave-out')}."


def other_size(
    t: Tongue, *, width: float, thickness: float, piece: int, fence: float, depth: float
) -> str:
    """A piece of another size than the set-up's own was cut."""
    return (
        f"These settings are for a piece {t.size(width)} wide and {t.size(thickness)} thick; for "
        f"one like piece {piece} set the fence to {t.length(fence)} and the socket depth to "
        f"{t.length(depth)}."
    )


def rabbet_follows(t: Tongue, *, height: float) -> str:
    """Another height asks for another rabbet."""
    most = f"{t.length(height)}, up to {t.length(figures.RABBET_OVER)} more"
    return f"The rabbet's length follows the height: {most}."


def word_and_number(t: Tongue, *, word: str, size: float, misfit: float) -> str:
    """A pull-apart gap that its word cannot have."""
    return (
        f'"{word}" and a pull-apart gap of {t.length(size)} don\'t go together: that gap is a '
        f"clearance of {t.length(misfit)}. Check the number; a word alone is better than a "
        "wrong one."
    )


def far_off_seat(t: Tongue, *, misfit: float) -> str:
    """A step far from what the settings give."""
    return (
        f"A step of {t.length(misfit)} is far from what these settings give: measure the socket "
        "depth from the board's end to the bit's centre (to the deepest point of the mouth it is "
        "half the mouth more). If the number is right, set the depth by hand and log it with "
        f"{t.act('depth')}."
    )


def left_out(t: Tongue, *, kind: str, off: float) -> str:
    """A reading that cannot be."""
    return (
        f"The reading of the {kind.replace('_', ' ')} is {t.length(off)} off what this bit and "
        "pitch can give and was left out: measure it again."
    )


def slot_first(t: Tongue, *, another: bool, saves: float, height: float) -> str:
    """A slot in waste is worth its minute. height: on the user's scale, mm."""
    return (
        f"{'Another slot' if another else 'A slot'} first: it takes a minute, a test piece a "
        f"quarter of an hour, and saves about {saves:.1f} of them. Cut it in waste at "
        f"{t.length(height)}, measure its mouth, and {t.act('slot')}."
    )


def move(t: Tongue, *, twice: bool, before: int, after: int, moved: float, chance: float) -> str:
    """A move that did nothing, or twice what was asked. moved: mm."""
    fit = t.aspect == "fit"
    seems = "seems to have done twice what was asked" if twice else "seems to have done nothing"
    cause = (
        "the lift's play, a lock that held or slipped"
        if fit
        else "a lock that held or slipped, another edge at the fence"
    )
    where = (
        "how high the bit really stands"
        if fit
        else "how far the bit's centre really is from the fence"
    )
    tests = t.act("fault-move", kind="twice" if twice else "nothing")
    asks = f" {tests} has the tests." if fit else ""
    step = t.ruler.move(HALF_BLIND.setting(HEIGHT if fit else FENCE), moved)
    return (
        f"The {t.name('zero of')}'s move between pieces {before} and {after} ({step}) {seems} "
        f"(chance {percent(chance)}): {cause}. Measure {where} before you move again, and cut the "
        f"same setting again.{asks}"
    )


def fit_drifts(
    t: Tongue, *, pieces: tuple[int, int], chance: float, each: float, setting: float
) -> str:
    """A fit that drifts. each: a piece, mm, looser above 0; setting: the same as a height, mm."""
    way, word = ("looser", "loose") if each > 0 else ("tighter", "tight")
    return (
        f"The fit seems to grow {way} from piece {pieces[0]} to piece {pieces[1]} (chance "
        f"{percent(chance)}): about {t.length(abs(each))} of clearance a piece, "
        f"{t.length(setting)} of height. The bit may creep in its collet or the lift in its lock, "
        "or the wood changes. Measure the bit's height before and after a piece; "
        f"{t.act('fault-later', word=word)} has the tests."
    )


def centre_drifts(
    t: Tongue, *, pieces: tuple[int, int], chance: float, each: float, **_: object
) -> str:
    """A centre that drifts. each: a piece, mm, outward above 0."""
    return (
        f"The centre seems to drift from piece {pieces[0]} to piece {pieces[1]} (chance "
        f"{percent(chance)}): about {t.length(abs(each))} {'out' if each > 0 else 'in'} a piece, "
        "as a fence that creeps in its lock. Measure from the fence to the bit's centre before "
        "and after a piece."
    )


SENTENCES: dict[str, Sentence] = {
    "gap-baseline": gap,
    "gap-inside": gap,
    "gap-flank": gap,
    "gap-where": gap_where,
    "no-second-pass": no_second_pass,
    "fence-side": fence_side,
    "walls-first": walls_first,
    "centre-known": centre_known,
    "other-size": other_size,
    "rabbet-follows": rabbet_follows,
    "word-and-number": word_and_number,
    "far-off-seat": far_off_seat,
    "reading-left-out": left_out,
    "slot-first": slot_first,
    "move-did-nothing": move,
    "move-overshot": move,
    "fit-drifts": fit_drifts,
    "centre-drifts": centre_drifts,
}
