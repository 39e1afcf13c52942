"""The use case `recover`: the log's set-ups are gathered for what was named and measured. It writes
nothing.
"""

from __future__ import annotations

from dataclasses import replace

from .. import defaults
from ..advice.history import History
from ..domain import SetUp
from ..errors import NotUnderstood
from ..families.recovering import Asked, Recovered, recovering
from .bench import Workbench
from .ending import not_a_good_base


def recovered(bench: Workbench, asked: Asked) -> Recovered:
    """Return the setting that restores a joint. Raises Refused, NotUnderstood: other-joint,
    two-bits, and as `Recovering.recovered`.
    """
    if asked.origin is not None and asked.sample_bit is not None:
        raise NotUnderstood(
            "two-bits",
            "set-up {number} says itself which bit cut it",
            "leave --sample-bit out, or --from",
            number=asked.origin.number,
        )
    found = recovering(asked.joint).recovered(asked, _past(bench, asked), bench.by, bench.ruler)
    return replace(found, notices=(*not_a_good_base(asked.origin), *found.notices))


def _past(bench: Workbench, asked: Asked) -> History:
    """Finished set-ups that share a bit, a machine, a stock or the person with today's plan or the
    sample's, and its own.
    """
    bits = {
        b.name for b in (asked.bit, asked.sample_bit, asked.origin and asked.origin.plan.bit) if b
    }
    tables = [asked.machine, asked.origin.plan.machine if asked.origin else asked.machine]
    shops = {m.name if m else None for m in tables}
    stocks = [s.name for s in (asked.stock, asked.pin_stock)]
    heard: dict[int, SetUp] = {}
    for bit in bits:
        for shop in shops:
            for setup in bench.log.finished(
                bit=bit,
                machine=shop,
                stocks=stocks,
                people={bench.by},
                newest=defaults.HISTORY_NEWEST,
                pieces=defaults.HISTORY_PIECES,
            ):
                heard[setup.number] = setup
    if asked.origin is not None:
        heard[asked.origin.number] = asked.origin
    return History([heard[number] for number in sorted(heard)])
