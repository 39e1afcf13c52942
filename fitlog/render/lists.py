"""Lists and histories as tables: the catalogue, every trial cut of a set-up."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from ..advice.bits import BitLaw
from ..advice.wear import Wear
from ..domain import Bit, Machine, Part, Settings, Stock
from ..domain.standing import ended
from ..families.names import in_order
from ..families.wood import equilibrium
from ..language.numbers import content
from ..language.sure import give_or_take
from ..language.units import Ruler, counted
from ..log import LoggedCut, LoggedFound
from ..service.asked import Shown
from ..texts import tell
from .answer import told
from .documents.catalogue import beyond
from .found import found_row
from .local import minute
from .review import how_ended
from .screen import Screen
from .written import written


def things(screen: Screen, items: Sequence[Bit | Stock | Machine], ruler: Ruler) -> None:
    """Print things of one kind."""
    if all(isinstance(item, Bit) for item in items):
        bits(screen, [item for item in items if isinstance(item, Bit)], ruler)
    elif all(isinstance(item, Stock) for item in items):
        stocks(screen, [item for item in items if isinstance(item, Stock)], ruler)
    else:
        machines(screen, [item for item in items if isinstance(item, Machine)], ruler)


def bits(screen: Screen, items: Sequence[Bit], ruler: Ruler) -> None:
    """Print bits."""
    rows = [
        [
            b.name,
            ruler.size(b.diameter),
            tell("{angle:g} deg", angle=b.angle),
            ruler.size(b.cutting_length),
            _state(b),
            _retired(b.retired),
        ]
        for b in items
    ]
    screen.table(
        ["bit", "diameter", "angle", "cutting length", "diameter is", ""], rows, right=(1, 2, 3)
    )


def _state(bit: Bit) -> str:
    state = tell("measured" if bit.measured else "as sold")
    if not bit.sharpenings:
        return state
    times = tell("sharpened {n} x", n=bit.sharpenings)
    return ", ".join([state if bit.measured else tell("not measured since"), times])


def wears(screen: Screen, wear: Wear, ruler: Ruler) -> None:
    """Print how many joints of real boards a bit has cut, and what drifts in all of its runs."""
    if not wear.joints:
        return
    joints = counted(wear.joints, "joint")
    screen.line("Real boards since it was sharpened: {joints}, as far as counted.", joints=joints)
    if wear.drift is not None:
        law = [100 * part for part in wear.drift]
        screen.line(
            "In its runs the fit drifts by {drift} every hundred joints.",
            drift=give_or_take(law, ruler),
        )


def cuts_like(screen: Screen, bit: Bit, law: BitLaw, ruler: Ruler) -> None:
    """Print what a bit really measures and where that comes from."""
    size, source = (
        give_or_take(law.diameter, ruler),
        tell("from {setups}", setups=counted(law.taught, "finished set-up")),
    )
    if law.taught == 0:
        source = tell("assumed, since no finished set-up has told of this bit yet")
    elif law.fresh == 0:
        source = tell(
            "the diameter assumed, since nothing was finished after the sharpening; the "
            "angle {source}",
            source=source,
        )
    elif law.fresh < law.taught:
        source = tell(
            "the diameter from {setups} after the sharpening, the angle {source}",
            setups=counted(law.fresh, "finished set-up"),
            source=source,
        )
    known = tell(
        "Measured as"
        if bit.measured
        else "Before it was sharpened"
        if bit.sharpenings
        else "Sold as"
    )
    screen.line()
    screen.line(
        "{known} {size} and {deg:g} deg; cuts like {like} and {mean:.2f} +- {sd:.2f} deg, "
        "{source}. (+- is one standard deviation: two times in three the truth lies inside.)",
        known=known,
        size=ruler.size(bit.diameter),
        deg=bit.angle,
        like=size,
        mean=law.angle_deg.mean,
        sd=law.angle_deg.sd,
        source=source,
    )


def stocks(screen: Screen, items: Sequence[Stock], ruler: Ruler) -> None:
    """Print stocks; what is known of their moisture only where something is known of one
    of them.
    """
    more = {
        tell("moisture"): [_moisture(s) for s in items],
        tell("of its air"): [_air(s, ruler) for s in items],
        tell("sawn"): [s.sawn for s in items],
    }
    told = {header: cells for header, cells in more.items() if any(cells)}
    rows = [
        [s.name, s.species, ruler.size(s.thickness), ruler.size(s.width)]
        + [cells[i] or "-" for cells in told.values()]
        + [_retired(s.retired)]
        for i, s in enumerate(items)
    ]
    screen.table(["stock", "species", "thickness", "width", *told, ""], rows, right=(2, 3))


def _moisture(stock: Stock) -> str:
    """A stock's moisture by its meter."""
    return "" if stock.moisture is None else content(stock.moisture)


def _air(stock: Stock, ruler: Ruler) -> str:
    """The moisture that a stock's air leads to, with that air: deg F for who works in inches."""
    if stock.temperature is None or stock.humidity is None:
        return ""
    scale = "C" if ruler.units == "mm" else "F"
    degrees = stock.temperature if scale == "C" else stock.temperature * 1.8 + 32
    found = equilibrium(stock.temperature, stock.humidity)
    return f"{content(found)} ({degrees:.0f}{scale}, {stock.humidity:g}%)"


def machines(screen: Screen, items: Sequence[Machine], ruler: Ruler) -> None:
    """Print machines; the step of the depth stop, what is set between marks and other parts only
    where one of them has it.
    """
    columns = {
        tell("machine"): [m.name for m in items],
        tell("height step"): [_maybe(m.step("height"), ruler) for m in items],
        tell("per turn"): [_maybe(m.turn("height"), ruler) for m in items],
        tell("dial"): [str(m.part("height").dial or "-") for m in items],
        tell("fence step"): [_maybe(m.step("fence"), ruler) for m in items],
        tell("depth step"): [_maybe(m.step("depth"), ruler) for m in items],
        tell("between marks"): [", ".join(in_order(m.between)) or "-" for m in items],
        tell("backlash"): [_maybe(m.part("height").backlash, ruler) for m in items],
        tell("scales show more by"): [_zeros(m, ruler) for m in items],
        tell("other parts"): [_others(m, ruler) or "-" for m in items],
        "": [_retired(m.retired) for m in items],
    }
    for header in map(tell, ("dial", "depth step", "between marks", "other parts")):
        if set(columns[header]) <= {"-"}:
            del columns[header]
    sizes = {tell("height step"), tell("per turn"), tell("fence step"), tell("depth step")}
    sizes.add(tell("backlash"))
    right = tuple(i for i, name in enumerate(columns) if name in sizes)
    screen.table(
        list(columns), [list(row) for row in zip(*columns.values(), strict=True)], right=right
    )


def history(screen: Screen, shown: Shown, ruler: Ruler) -> None:
    """Print every entry about a set-up's pieces, what had been advised beside what was cut; and
    what was found between.
    """
    setup, plan = shown.setup, shown.setup.plan
    screen.head(
        "Set-up {number}{titled}: {bit}, {stock}, {state}",
        number=setup.number,
        titled=setup.titled,
        bit=plan.bit.name,
        stock=plan.stock.name,
        state=how_ended(shown.status, ended(setup)),
    )
    rows: list[list[str]] = []
    before: LoggedCut | None = None
    for logged in _in_order(shown.cuts, shown.found):
        if isinstance(logged, LoggedFound):
            rows.append(found_row(logged, setup.plan.machine, ruler))
            continue
        cut, machine = logged.cut, setup.plan.machine
        by = tell("{by}, {when}", by=cut.by, when=minute(cut.at) if cut.at else "")
        said = told(cut, ruler) + (tell(" (taken back)") if logged.retracted else "")
        if cut.slot:  # no piece: only its height counts
            first, *rest = _dial(cut.settings, machine, ruler)
            rows.append([tell("slot"), by, first, *_blank(rest), said])
            continue
        if before is not None and _same_piece(before, logged):
            rows.append(["", tell("later"), *_blank(cut.settings), said])
            continue
        before = logged
        piece = str(cut.piece)
        if cut.advised is not None:
            rows.append([piece, tell("advised"), *_dial(cut.advised, machine, ruler), by])
            piece = ""
        at = tell("cut at" if cut.after is None else "joint {after}", after=cut.after)
        rows.append([piece, at, *_dial(cut.settings, machine, ruler), said])
    parts = [kind.part for kind in plan.family.settings]
    right = (0, *range(2, 2 + len(parts)))
    screen.table(["piece", "", *parts, "said"], rows, right=right)
    _notes(screen, shown.cuts, ruler)
    written(screen, setup)


def _notes(screen: Screen, cuts: Sequence[LoggedCut], ruler: Ruler) -> None:
    """The notes that the table has not told."""
    for logged in cuts:
        if logged.cut.note and told(logged.cut, ruler) != logged.cut.note:
            screen.line(
                "Slot: {note}" if logged.cut.slot else "Piece {piece}: {note}",
                piece=logged.cut.piece,
                note=logged.cut.note,
            )


def _blank(cells: Iterable[object]) -> list[str]:
    return ["" for _ in cells]


def _in_order(
    cuts: Sequence[LoggedCut], found: Sequence[LoggedFound]
) -> list[LoggedCut | LoggedFound]:
    """Return both in the order of the log."""
    entries = (
        [(logged.cut.entry, logged) for logged in cuts],
        [(logged.entry, logged) for logged in found],
    )
    both: list[tuple[int, LoggedCut | LoggedFound]] = [*entries[0], *entries[1]]
    return [logged for _, logged in sorted(both, key=lambda pair: pair[0])]


def _same_piece(one: LoggedCut, then: LoggedCut) -> bool:
    """Tell whether an entry only adds to the one that a piece began with; after a piece was taken
    back, the next is a new one.
    """
    same = one.cut.piece == then.cut.piece and one.cut.settings == then.cut.settings
    return same and (then.retracted or not one.retracted)


def _dial(settings: Settings, machine: Machine | None, ruler: Ruler) -> list[str]:
    return [ruler.length(value) for value in settings.on_scale(machine).values()]


def _zeros(machine: Machine, ruler: Ruler) -> str:
    height, fence = machine.zero("height"), machine.zero("fence")
    if height == 0 and fence == 0:
        return "-"
    return tell(
        "{height} height, {fence} fence", height=ruler.size(height), fence=ruler.size(fence)
    )


def _others(machine: Machine, ruler: Ruler) -> str:
    """What is known of parts that have no column of their own, as --part takes it."""
    told = [
        f"{n}: {_part(machine.part(n), ruler)}"
        for n in in_order(machine.parts)
        if beyond(n, machine.part(n))
    ]
    return "; ".join(told)


def _part(part: Part, ruler: Ruler) -> str:
    sizes = (
        (tell("step"), part.step),
        (tell("turn"), part.turn),
        (tell("backlash"), part.backlash),
    )
    told = [f"{what} {ruler.size(value)}" for what, value in sizes if value is not None]
    told += [tell("dial {dial}", dial=part.dial)] if part.dial else []
    told += [tell("between")] if part.between else []
    told += [tell("zero {zero}", zero=ruler.size(part.zero))] if part.zero else []
    return ", ".join(told + ([part.pack.text(ruler.size)] if part.pack else []))


def _maybe(value: float | None, ruler: Ruler) -> str:
    return "-" if value is None else ruler.size(value)


def _retired(retired: bool) -> str:
    return tell("retired") if retired else ""
