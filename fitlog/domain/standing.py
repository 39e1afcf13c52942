"""How a set-up stands: the one decision behind headline, note, sheet, stops and JSON, and the
settings of the real boards.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Literal, NamedTuple

from .. import defaults
from .advice import Advice, Misfit
from .cuts import Figures, Piece
from .said import Aspect, Said
from .settings import Settings
from .setups import Plan, SetUp

_SAME = 0.005  # mm: what reads alike to a hundredth is the same setting
Code = Literal["undone", "tuning", "stopped", "doubted", "confirm", "weak", "ready"]
Ended = Literal["good", "as it is", "abandoned"]


class Standing(NamedTuple):
    """How a set-up stands.

    code: "tuning", an aspect in play is open; "stopped", it was finished, and the last joint that
    was looked at in its run was off; settled otherwise: "doubted", the figures hardly believe it;
    "confirm", one more piece in the real stock is worth its wood; "weak", what is tried is sure
    enough, all together is not; "ready", all of it is. ended: how it ended, None while it is open.
    chance: that the real boards come out inside all windows, None while tuning. weakest: the aspect
    least sure to. other: the real boards want other settings than the next test piece.
    """

    code: Code
    ended: Ended | None
    chance: float | None = None
    weakest: Aspect | None = None
    other: bool = False

    @property
    def settled(self) -> bool:
        """Whether these settings were found good, by words, readings or figures, and nothing ended
        it short of that.
        """
        return self.code not in ("undone", "tuning", "stopped") and self.ended in (None, "good")

    @property
    def more(self) -> bool:
        """Whether one more piece in the real stock comes before the real boards."""
        return self.code in ("doubted", "confirm")


def standing(setup: SetUp, advice: Advice) -> Standing:
    """Return how a set-up stands, by the values of the advice on it."""
    how = ended(setup)
    if setup.undone:
        return Standing("undone", None)
    if how == "good" and any(said.code == "run-stop" for said in advice.notices):
        return Standing("stopped", how)
    open_ = [aspect for aspect in setup.plan.in_play if aspect not in advice.settled]
    if open_ or (how is None and advice.status == "tuning"):
        return Standing("tuning", how)
    chances = chances_of(advice)
    aspects = setup.plan.family.aspects
    known = {a: c for a in aspects if (c := chances.get(a)) is not None}
    weakest = min(known.items(), key=lambda pair: pair[1])[0] if known else None
    real = for_real_boards(setup, advice)
    other = any(abs(real[name] - advice.settings[name]) > _SAME for name in real)
    tried = [
        known[kind.name] for kind in setup.plan.family.kinds if kind.tried and kind.name in known
    ]
    together = chances.get("all")
    code = _in_run(setup, _settled(min(tried, default=None), together))
    return Standing(code, how, together, weakest, other)


def _in_run(setup: SetUp, code: Code) -> Code:
    """How a settled set-up stands once joints of its real boards were looked at: one in the real
    stock comes first only where the last one was called off.
    """
    pieces = setup.tuned_on()
    if code == "doubted" or not any(piece.check for piece in pieces):
        return code
    last = pieces[-1].verdict
    if pieces[-1].check and (last.faults or any(said.side for said in last.said)):
        return "confirm"
    return "weak" if code == "confirm" else code


def _settled(tried: float | None, together: float | None) -> Code:
    if (together or 0.0) < defaults.DOUBTFUL:
        return "doubted"
    if tried is not None and worth_a_piece(tried):
        return "confirm"
    return "weak" if worth_a_piece(together or 0.0) else "ready"


def worth_a_piece(chance: float) -> bool:
    """Tell whether a test piece costs less than what it saves, given the chance that the joint is
    good without it.
    """
    return (1 - chance) * defaults.SPOILED_JOINT > 1


def chances_of(advice: Advice) -> dict[str, float | None]:
    """Return the chances that the real boards come out inside, by aspect and "all"."""
    return advice.chance_real


def ended(setup: SetUp) -> Ended | None:
    """Return how a set-up ended, None while it is open.

    One that older versions finished without a piece, or on a piece that was neither good nor
    measured in what is tried, is no good end.
    """
    if setup.outcome is None:
        return None
    if setup.outcome == "abandoned":
        return "abandoned"
    return "as it is" if setup.as_it_is or _never_good(setup) else "good"


def _never_good(setup: SetUp) -> bool:
    # A joint of the run that was called off takes nothing from the test pieces that were good.
    rests_on, in_play = setup.tuned_on(), setup.plan.in_play
    pieces = tuple(piece for piece in rests_on if not piece.check) or rests_on
    if not pieces:
        return True
    tried = (aspect for aspect in setup.plan.family.tried if aspect in in_play)
    return any(_left_bad(pieces, aspect) for aspect in tried)


def _left_bad(pieces: tuple[Piece, ...], aspect: Aspect) -> bool:
    """Whether the last piece judged in an aspect was neither good in it nor measured."""
    judged: list[tuple[Piece, Said]] = [
        (piece, said) for piece in pieces if (said := piece.verdict.of(aspect)) is not None
    ]
    if not judged:
        return False
    piece, said = judged[-1]
    return not said.settles and said.size is None and not piece.readings


def on_real_boards(plan: Plan, settings: Settings, sizes: Figures | None = None) -> Settings:
    """Return the settings of a piece carried over to the real boards; sizes: its own, where they
    are not the set-up's pieces'.
    """
    return _carried(plan, settings, plan.figures(sizes), plan.boards())


def on_test_piece(plan: Plan, piece: Piece) -> Piece:
    """Return a joint of the real boards as a test piece of the set-up's own size that shows the
    same misfits.
    """
    settings = _carried(plan, piece.settings, plan.figures(piece.sizes), plan.figures())
    return replace(piece, settings=settings, sizes={})


def _carried(plan: Plan, settings: Settings, here: Figures, there: Figures) -> Settings:
    """Settings of a piece of some figures as one of others wants them, its misfits unchanged."""
    moved = {
        kind.name: settings[kind.name]
        + sum(by * (there[name] - here[name]) for name, by in kind.with_figures.items())
        for kind in plan.family.settings
    }
    return Settings.named(plan.family, moved)


def ended_at(setup: SetUp) -> Settings | None:
    """Return the settings of the last piece that a set-up rests on, carried over to the real
    boards; None without a piece.
    """
    pieces = setup.tuned_on()
    last = pieces[-1] if pieces else None
    return None if last is None else on_real_boards(setup.plan, last.settings, last.sizes)


def for_real_boards(setup: SetUp, advice: Advice) -> Settings:
    """Return what to set for the real boards: as the advice says.

    Of a set-up that ended short of ready, what it ended at: what would have come next was never
    tried.
    """
    at = None if setup.outcome is None else ended_at(setup)
    if at is not None and ended(setup) != "good":
        return at
    assert (
        advice.real is not None
    )  # whoever makes an advice knows what it means for the real boards
    return advice.real


def zero_error(advice: Advice, real: Settings) -> Misfit | None:
    """Return the error of what is known by its zero, of a cut made on the real boards at `real`,
    mm; None where it is not in play.
    """
    zero, aspect = advice.zero, real.family.zeroed
    if zero is None or advice.real is None or aspect is None:
        return None
    further, (low, high) = real.of(aspect) - advice.real.of(aspect), zero.interval90
    return Misfit(zero.mean + further, zero.sd, (low + further, high + further))
