"""The same questions on PostgreSQL: each can be answered by an index.

A small table is read whole whatever indexes it has, so its planner is told that this is dear
(enable_seqscan, see https://www.postgresql.org/docs/current/runtime-config-query.html); what it
then still reads whole has no index that fits.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from logs import PLAN, fill, make_place, stock_up
from questions import SMALL, heard

from fitlog.log import open_log

LOG_TABLES = ("entry", "setup", "trial_cut", "verdict", "reading", "advice", "retraction")


def test_every_question_has_its_index(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    place, plans = make_place("server", request, tmp_path), dict[str, list[str]]()

    def note(driver: Any, sql: str, parameters: Any) -> None:
        if sql.startswith("SELECT"):
            driver.execute("SET LOCAL enable_seqscan = off")
            found = driver.execute(f"EXPLAIN (COSTS OFF) {sql}", parameters).fetchall()
            plans[" ".join(sql.split())] = [line for (line,) in found]

    with open_log(place.location, create=True) as log:
        fill(stock_up(log))
        stocks = [PLAN.stock.name, PLAN.pin_stock.name]
        with heard(note):
            log.current()
            log.finished(
                bit=PLAN.bit.name,
                machine=None,
                stocks=stocks,
                people={"somebody"},
                before=9,
                newest=3,
                pieces=2,
            )
            log.finished_by("somebody", 3)
            log.setups(bit=PLAN.bit.name, stock=stocks[0], limit=3)
            log.open_setups(PLAN.bit.name)
            log.newest_live(1)
            log.cut_entries(1)
            log.people()
    whole = {
        sql: plan
        for sql, plan in plans.items()
        for t in LOG_TABLES
        if any(f"Seq Scan on {t}" in line for line in plan)
    }
    assert len(plans) > 14 and not whole, whole
    assert set(SMALL) & set(LOG_TABLES) == set()
