"""What a set-up shows that makes a cause of a fault likelier or less likely, in English."""

from __future__ import annotations

from functools import wraps

from ....language.saying import Sentence, Tongue


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
    return f"the board has about {tails} tails"


def two_woods(_: Tongue, *, tail: str, pin: str) -> str:
    """Boards of two woods."""
    return f"the boards are of two woods, {tail} and {pin}"


def dryness(_: Tongue, *, tail: float, pin: float) -> str:
    """How dry the boards are, %."""
    return f"the boards are at {tail:.1f} and {pin:.1f} % moisture"


def wide_board(t: Tongue, *, width: float) -> str:
    """A wide board, mm."""
    return f"a board {t.size(width)} wide moves a good deal"


def shallow_rabbet(t: Tongue, *, depth: float) -> str:
    """A shallow rabbet, mm."""
    return f"the rabbet is planned shallower than half the bit, {t.length(depth)}"


def thin_lap(t: Tongue, *, thickness: float, lap: float) -> str:
    """A thin lap, mm."""
    return f"at this height a pin board of {t.size(thickness)} keeps a lap of {t.length(lap)}"


def lap_fine(t: Tongue, *, thickness: float, lap: float) -> str:
    """A lap that is thick enough, mm."""
    return (
        f"by the set-up a pin board of {t.size(thickness)} keeps a lap of {t.length(lap)}, which "
        "is enough"
    )


def dry_wood(_: Tongue, *, content: float) -> str:
    """Wood that is very dry, %."""
    return f"a board is at only {content:.1f} % moisture"


def wet_wood(_: Tongue, *, content: float) -> str:
    """Wood that is not dry yet, %."""
    return f"a board is at {content:.1f} % moisture"


def as_sold(t: Tongue, *, diameter: float) -> str:
    """A diameter that nobody measured, mm."""
    return f"its {t.size(diameter)} is as sold, not measured"


def steep(_: Tongue, *, angle: float) -> str:
    """A steep bit, deg."""
    return f"a bit of {angle:g} deg makes thin corners"


def mouth_wide(t: Tongue, *, piece: int, mouth: float, reckoned: float, over: float) -> str:
    """A mouth that was measured wider than reckoned, mm."""
    return (
        f"piece {piece} was logged with a mouth of {t.length(mouth)}, {t.length(over)} over the "
        f"{t.length(reckoned)} reckoned"
    )


def slender(t: Tongue, *, root: float, length: float) -> str:
    """Slender tails or pins, mm."""
    return f"they are {t.length(root)} at the root for a length of {t.length(length)}"


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


def fit_good(t: Tongue, *, off: tuple[float, float]) -> str:
    """A joint with the play that is good, mm."""
    return f"by the log the joint has good play, {t.spread(off)}"


def fit_close(t: Tongue, *, off: tuple[float, float]) -> str:
    """A joint with little of the play that is good, mm."""
    return f"by the log its play is in the closer half of good, {t.spread(off)}"


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
    "sign-lap-fine": lap_fine,
    "sign-dry-wood": dry_wood,
    "sign-wet-wood": wet_wood,
    "sign-as-sold": as_sold,
    "sign-steep": steep,
    "sign-mouth-wide": mouth_wide,
    "sign-slender-tails": slender,
    "sign-slender-pins": slender,
    "sign-other-wood": other_wood,
    "sign-raised": raised,
    "sign-lowered": lowered,
    "sign-down": down,
    "sign-tight-now": fit_now,
    "sign-loose-now": fit_now,
    "sign-fit-good": fit_good,
    "sign-fit-close": fit_close,
    "sign-centre-good": centre_good,
    "sign-centre-off": centre_off,
    "sign-centre-unknown": centre_unknown,
    "sign-proud-now": step_now,
    "sign-shy-now": step_now,
    "sign-seat-good": _same("by the log the seat is good"),
    "sign-tighter-log": grows,
    "sign-looser-log": grows,
    "sign-fit-drifts": _same("the log shows the fit drifting from piece to piece"),
    "sign-centre-drift": _same("the log shows the centre drifting from piece to piece"),
    "sign-nothing-log": moved,
    "sign-twice-log": moved,
}
SENTENCES: dict[str, Sentence] = {code: _since(told) for code, told in _SIGNS.items()}
