"""A repeat: which earlier set-up `start` can repeat, and the plan that comes of it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from .. import defaults
from ..advice.history import History
from ..advice.opening import pitch_for, sensible_height
from ..domain import Plan, SetUp
from ..domain.standing import ended
from ..errors import Refused
from ..families.half_blind.names import HALF_BLIND
from ..families.half_blind.plan import DovetailPlan, dovetail
from ..language.units import quoted
from .asked import Bench, PlanValue, Wanted
from .possible import check_first_height

# What of a plan a repeat keeps; the rest is named (bit, boards' stocks, machine) or of the day
# (moisture).
KEPT = (
    "pitch",
    "tails",
    "spacing",
    "many_tails",
    "board_width",
    "tail_thickness",
    "pin_thickness",
    "rabbet_depth",
    "rabbet_bit",
    "wanted_step",
    "in_play",
    "words_only",
    "by_eye",
    "spaced",
    "scrap",
    "piece_width",
    "piece_thickness",
)
LAYOUT = KEPT[:4]
# Where set-ups differ in none of these they are one set-up, cut again: the newest stands for them.
ALIKE = (*LAYOUT, "board_width", "rabbet_depth", "rabbet_bit", "wanted_step", "in_play")
# of the newest set-ups, where nobody named one: who has worked otherwise for so long means that
LOOKED_AT = 24
_made: Callable[..., DovetailPlan] = partial(DovetailPlan, family=HALF_BLIND)


@dataclass(frozen=True, slots=True)
class Named:
    """By which names a repeat is sought; None: any, or not said."""

    bit: str | None = None
    stock: str | None = None
    pin_stock: str | None = None
    machine: str | None = None

    def fits(self, plan: DovetailPlan) -> bool:
        """Tell whether a plan has what is named; one without a machine may be repeated at any."""
        board = _is(self.stock, plan.stock.name) and _is(self.pin_stock, plan.pin_stock.name)
        return (
            board
            and _is(self.bit, plan.bit.name)
            and (plan.machine is None or _is(self.machine, plan.machine.name))
        )


def numbered(bench: Bench, number: int) -> SetUp:
    """Return the set-up that is to be repeated by its number. Raises Refused: unknown-setup,
    undone-setup, still-tuning.
    """
    setup = bench.log.setup(number)
    if setup.undone:
        raise Refused("undone-setup", f"set-up {number} was undone", "name another with --again N")
    if setup.outcome is None and bench.status(setup) != "ready":
        said = f"set-up {number} is still tuning: there is nothing to repeat yet"
        raise Refused("still-tuning", said, "go on with it, or name another with --again N")
    return setup


def last(bench: Bench, named: Named) -> SetUp:
    """Return the newest set-up that ended good and has what is named; where none is of that stock,
    of any other.

    Raises Refused: nothing-to-repeat, unknown-name.
    """
    either = (named, replace(named, stock=None, pin_stock=None))
    found = next((setup for one in either for setup in _newest(bench, one)), None)
    if found is None:
        what = " and ".join(quoted(name) for name in (named.bit, named.machine) if name)
        said = f"no set-up{f' with {what}' if what else ''} was finished yet that could be repeated"
        raise Refused(
            "nothing-to-repeat", said, "leave --again out, or name any other set-up with --again N"
        )
    return found


def alike(bench: Bench, named: Named) -> list[SetUp]:
    """Return the newest of each kind of set-up that a plain `start` may mean, of the newest of the
    log, newest first.
    """
    found: list[SetUp] = []
    for setup in _newest(bench, named, LOOKED_AT):
        if not any(
            _same(dovetail(setup.plan), dovetail(other.plan)) for other in found
        ) and not retired(dovetail(setup.plan), named):
            found.append(setup)
    return found


def like(bench: Bench, wanted: Wanted) -> SetUp | None:
    """Return the newest set-up of the newest few that has the same bit, boards and machine as a new
    one; or None.
    """
    at = wanted.machine.name if wanted.machine else None
    return next(
        _newest(
            bench, Named(wanted.bit.name, wanted.stock.name, wanted.pin_stock.name, at), LOOKED_AT
        ),
        None,
    )


def retired(plan: DovetailPlan, named: Named) -> tuple[str, str] | None:
    """Return what of a plan is retired and not named all the same, as its kind and its name; None:
    nothing is.
    """
    parts = (
        ("bit", plan.bit, named.bit),
        ("stock", plan.stock, named.stock),
        ("stock", plan.pin_stock, named.pin_stock),
        ("machine", plan.machine, named.machine),
    )
    return next(
        (
            (kind, i.name)
            for kind, i, other in parts
            if i is not None and i.retired and other is None
        ),
        None,
    )


def plan_of(wanted: Wanted, earlier: Sequence[SetUp], past: History, by: str) -> DovetailPlan:
    """Return the plan of a set-up: what was said, then what is repeated, then the stock's own sizes
    and what follows.

    earlier: finished set-ups, oldest first; past: what they taught.
    """
    bit, said, kept = wanted.bit, wanted.said(), _kept(wanted)
    usual = {
        "pitch": 2 * bit.diameter,
        "board_width": wanted.stock.width,
        "tail_thickness": wanted.stock.thickness,
        "pin_thickness": wanted.pin_stock.thickness,
        "rabbet_depth": bit.diameter / 2,
    }
    spacing = said.get("spacing", kept.get("spacing"))
    if not (kept.keys() | said.keys()) >= {"pitch"} and isinstance(spacing, int | float):
        usual["pitch"] = min(usual["pitch"], spacing)  # until the real one is worked out
    plan = _made(bit, wanted.stock, wanted.pin_stock, wanted.machine, **{**usual, **kept, **said})
    if wanted.height is not None:
        check_first_height(plan, wanted.height, given_pitch=wanted.pitch is not None)
    if wanted.pitch is not None or "pitch" in kept:
        return plan
    like = [s for s in earlier if wanted.height is None and _stays(dovetail(s.plan), plan)]
    if like:
        good = [s for s in like if ended(s) != "as it is"]
        return replace(plan, pitch=dovetail((good or like)[-1].plan).pitch)
    height = wanted.height or sensible_height(plan)
    return replace(plan, pitch=pitch_for(plan, height, past, 1 if wanted.height is None else 2, by))


def changed(wanted: Wanted, base: Plan, plan: Plan) -> tuple[str, ...]:
    """Return what of an earlier plan is otherwise in a new one although nobody said so, by its
    names in `KEPT`.
    """
    said = wanted.said()
    return tuple(
        name
        for name in KEPT
        if name not in said and not _equal(getattr(base, name), getattr(plan, name))
    )


def _kept(wanted: Wanted) -> dict[str, PlanValue]:
    """Return what of an earlier set-up comes again: all that was not said, or with `like` the
    layout as one.
    """
    said = wanted.said()
    if wanted.again is None:
        kept = _layout(wanted, said)
        base = None if wanted.like is None else wanted.like.plan
    else:
        base = wanted.again.plan
        kept = {name: getattr(base, name) for name in KEPT}
        other = (
            (wanted.stock.name != base.stock.name, ("board_width", "tail_thickness")),
            (wanted.pin_stock.name != base.pin_stock.name, ("pin_thickness",)),
            (
                wanted.bit.name != base.bit.name
                and _equal(dovetail(base).rabbet_depth, base.bit.diameter / 2),
                ("rabbet_depth",),
            ),
            (wanted.height is not None, ("pitch",)),
        )
        for name in (name for is_other, names in other if is_other for name in names):
            del kept[name]
    if (
        "tails" in said
        and "many_tails" not in said
        and (base is None or dovetail(base).many_tails == _many(dovetail(base).tails))
    ):
        kept["many_tails"] = _many(
            said["tails"]
        )  # the window follows the number of tails, unless it was said
    return kept


def _layout(wanted: Wanted, said: dict[str, PlanValue]) -> dict[str, PlanValue]:
    """Return the layout of the set-up that a new one is like, where nothing of a layout was said;
    else nothing.

    Its pitch without its spacing would be another layout.
    """
    if wanted.like is None or wanted.height is not None or {*LAYOUT, "board_width"} & said.keys():
        return {}
    base = wanted.like.plan
    thick = wanted.pin_stock.thickness if wanted.pin_thickness is None else wanted.pin_thickness
    return (
        {name: getattr(base, name) for name in LAYOUT}
        if abs(base.pin_thickness - thick) < 0.5
        else {}
    )


def _newest(bench: Bench, named: Named, most: int | None = None) -> Iterator[SetUp]:
    """Yield the set-ups that ended good, or would with the next `start`, and have what is named,
    newest first.
    """
    before: int | None = None
    while found := bench.log.setups(
        bit=named.bit, stock=named.stock, before=before, limit=LOOKED_AT
    ):
        yield from (s for s in found if named.fits(dovetail(s.plan)) and _is_good(bench, s))
        if most is not None:
            return
        before = found[-1].number


def _is_good(bench: Bench, setup: SetUp) -> bool:
    if setup.outcome is None:
        return bool(setup.cuts) and bench.status(setup) == "ready"
    return ended(setup) == "good"


def _same(one: DovetailPlan, other: DovetailPlan) -> bool:
    names = (
        (p.bit.name, p.stock.name, p.pin_stock.name, p.machine.name if p.machine else None)
        for p in (one, other)
    )
    return len(set(names)) == 1 and all(
        _equal(getattr(one, name), getattr(other, name)) for name in ALIKE
    )


def _stays(old: DovetailPlan, new: DovetailPlan) -> bool:
    """Tell whether a plan is a repeat of an older one, so that its stops can stay where
    they are.
    """
    same = (
        old.bit.name == new.bit.name
        and old.stock.name == new.stock.name
        and old.pin_stock.name == new.pin_stock.name
    )
    return (
        same
        and abs(old.pin_thickness - new.pin_thickness) < 0.5
        and old.many_tails == new.many_tails
    )


def _equal(one: object, other: object) -> bool:
    if isinstance(one, float) and isinstance(other, float):
        return abs(one - other) < 1e-6
    return one == other


def _is(wanted: str | None, name: str) -> bool:
    return wanted is None or wanted == name


def _many(tails: PlanValue) -> bool:
    return isinstance(tails, int) and tails >= defaults.MANY_TAILS
