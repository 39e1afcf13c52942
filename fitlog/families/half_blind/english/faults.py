"""Faults in English: what a set-up shows, and the causes with their tests and cures, whose
sentences are rows of the faults' own tables.
"""

from __future__ import annotations

from functools import wraps

from ....language.saying import Sentence, Tongue
from ....language.units import MM_PER_INCH
from ....texts import tell


def _since(told: Sentence) -> Sentence:
    """Say a sign as what moves a cause. likelier: or less likely."""

    @wraps(told)
    def since(t: Tongue, *, likelier: bool, **values: object) -> str:
        return f"{'likelier' if likelier else 'less likely'}, since {told(t, **values)}"

    return since


def _same(text: str) -> Sentence:
    return lambda _: text


def backlash(t: Tongue, *, play: float) -> str:
    """The lift's play, mm."""
    return f"this lift has {t.length(play)} of play"


def many_tails(_: Tongue, *, tails: int) -> str:
    """Many tails."""
    return f"the board has about {tails} tails, and small errors of the steps add up"


def two_woods(_: Tongue, *, tail: str, pin: str) -> str:
    """Boards of two woods."""
    return f"the boards are of two woods, {tail} and {pin}"


def dryness(_: Tongue, *, tail: float, pin: float) -> str:
    """How dry the boards are, %."""
    return f"the boards are stored at {tail:.1f} and {pin:.1f} % moisture"


def wide_board(t: Tongue, *, width: float) -> str:
    """A wide board, mm."""
    return f"a board {t.size(width)} wide moves a good deal"


def shallow_rabbet(t: Tongue, *, depth: float) -> str:
    """A shallow rabbet, mm."""
    return f"the rabbet is planned shallower than half the bit, {t.length(depth)}"


def thin_lap(t: Tongue, *, thickness: float, lap: float) -> str:
    """A thin lap, mm."""
    return f"at this height a pin board of {t.size(thickness)} keeps a lap of {t.length(lap)}"


def other_wood(_: Tongue, *, scrap: str) -> str:
    """A piece in another wood."""
    return f"the last piece was cut in {scrap}"


def raised(t: Tongue, *, by: float) -> str:
    """The bit was raised, mm."""
    return f"the bit was last raised by {t.length(by)}: a rabbet as before is that much too short"


def lowered(t: Tongue, *, by: float) -> str:
    """The bit was lowered, mm."""
    return f"the bit was last lowered by {t.length(by)}: a rabbet as before is that much too long"


def down(t: Tongue, *, by: float) -> str:
    """The last move was down, mm."""
    return f"the last move of the height, {t.length(by)}, was down"


def fit_now(t: Tongue, *, clearance: float, tight: bool) -> str:
    """A joint tighter or looser than good, mm."""
    shown = t.length(clearance) if clearance >= 0 else f"{t.length(-clearance)} of interference"
    return f"by the log the joint is {'tighter' if tight else 'looser'} than good, {shown}"


def centre_good(t: Tongue, *, off: tuple[float, float]) -> str:
    """A centre that is right."""
    return f"by the log the centre is right, off by {t.spread(off)}"


def centre_off(t: Tongue, *, off: tuple[float, float]) -> str:
    """A centre that is off."""
    return f"by the log the centre is off by {t.spread(off)}"


def centre_unknown(t: Tongue, *, off: tuple[float, float] | None) -> str:
    """A centre that is not known; None: not in play."""
    if off is None:
        return "the centre is not in play in this set-up"
    return f"the centre is not sure to be inside its window, off by {t.spread(off)}"


def step_now(t: Tongue, *, step: float) -> str:
    """A step outside its window, mm."""
    return f"by the log the step is {t.length(abs(step))} {'proud' if step > 0 else 'shy'}"


def grows(_: Tongue, *, way: str, before: int, after: int) -> str:
    """A fit that drifts one way."""
    return f"the log shows the fit growing {way} from piece {before} to piece {after}"


def moved(_: Tongue, *, before: int, after: int) -> str:
    """A move that did not do what was asked."""
    return f"the log shows it between pieces {before} and {after}"


def size_of(_: Tongue, *, what: str, piece: int | None) -> str:
    """What the size of a symptom is from: "piece", "centre", "drift" or "move"."""
    return {
        "piece": f"piece {piece}",
        "centre": "twice the centre's error",
        "drift": f"the drift up to piece {piece}",
        "move": f"the move before piece {piece}",
    }[what]


Amounts = tuple[tuple[str, float], ...]


def cause(
    t: Tongue,
    *,
    symptom: str,
    cause: str,
    part: str,
    figures: Amounts,
    play_stored: bool,
    turn: float | None,
    zero: float,
) -> str:
    """The sentence of a cause, by the table of the symptoms. part: "text", "test" or "cure"; zero:
    of the height's scale, mm.
    """
    # Tables of many sentences: imported by the one command that says them.
    from ..faults.table import SYMPTOMS

    of = next(s for s in SYMPTOMS if s.code == symptom)
    template: str = getattr(next(c for c in of.causes if c.code == cause), part)
    return tell(template, **texts(t, figures, play_stored, turn, zero))


def texts(
    t: Tongue, figures: Amounts, play_stored: bool, turn: float | None, zero: float
) -> dict[str, str]:
    """The figures that a cause can name, in the person's unit: without _mm, _deg, _percent, _n."""
    values = dict(figures)
    out = dict(_text(t, name, value) for name, value in figures)
    if not play_stored:
        assumed = "{play} (assumed, since this lift's play is not stored)"
        out["play"] = tell(assumed, play=out["play"])
    return {
        **out,
        # What a person dials is on their own scale.
        "dial": t.length(values["h"] + zero),
        "highest": t.length(values["highest_mm"] + zero),
        "asked": out["d"],
        "c": out["clearance"],
        "coefficient": f"{values['coefficient']:.4f}",
        "turn_known": tell("; fitlog has {turn} stored", turn=t.length(turn)) if turn else "",
    }


def _text(t: Tongue, name: str, value: float) -> tuple[str, str]:
    stem, _, kind = name.rpartition("_")
    if kind == "deg":
        return stem, f"{value:.2f} deg"
    if kind == "percent":
        return stem, f"{value:.1g} %" if value < 1 else f"{value:.0f} %"
    if kind == "n":
        return stem, f"{value:.0f}"
    if name in ("board", "pin"):
        return name, t.size(value)
    short = stem if kind == "mm" else name
    return short, _fine(t, value) if name == "per_step_mm" else t.length(value)


def _fine(t: Tongue, mm: float) -> str:
    """A length that is smaller than any setting is dialled: in thousandths of a mm, or tenths of a
    thou.
    """
    return f"{mm:.3f} mm" if t.ruler.units == "mm" else f"{mm / MM_PER_INCH * 1000:.1f} thou"


_SIGNS: dict[str, Sentence] = {
    "sign-backlash": backlash,
    "sign-no-play": _same("this lift is stored as having no play"),
    "sign-many-tails": many_tails,
    "sign-by-spacer": _same("the pitch is stepped by a spacer"),
    "sign-by-scale": _same("the pitch is stepped by a scale"),
    "sign-two-woods": two_woods,
    "sign-moisture-differs": dryness,
    "sign-equally-dry": dryness,
    "sign-wide-board": wide_board,
    "sign-sharpened": _same("this bit was sharpened"),
    "sign-shallow-rabbet": shallow_rabbet,
    "sign-thin-lap": thin_lap,
    "sign-other-wood": other_wood,
    "sign-raised": raised,
    "sign-lowered": lowered,
    "sign-down": down,
    "sign-tight-now": fit_now,
    "sign-loose-now": fit_now,
    "sign-centre-good": centre_good,
    "sign-centre-off": centre_off,
    "sign-centre-unknown": centre_unknown,
    "sign-proud-now": step_now,
    "sign-shy-now": step_now,
    "sign-tighter-log": grows,
    "sign-looser-log": grows,
    "sign-fit-drifts": _same("the log shows the fit drifting from piece to piece"),
    "sign-centre-drift": _same("the log shows the centre drifting from piece to piece"),
    "sign-nothing-log": moved,
    "sign-twice-log": moved,
}
SENTENCES: dict[str, Sentence] = {
    **{code: _since(told) for code, told in _SIGNS.items()},
    "size-of": size_of,
    "cause": cause,
}
