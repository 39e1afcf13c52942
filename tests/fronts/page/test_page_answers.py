"""What an answer costs and where it leads: nothing is read, asked or worked out twice for it, and
whoever looks on hears of it.
"""

from __future__ import annotations

import asyncio
import os
from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from paging import Page, paged
from shop import Shop
from statements import sent

from fitlog.advice import advise
from fitlog.fronts.page.desk import Desk
from fitlog.fronts.page.watching import Watch
from fitlog.log import open_log
from fitlog.service import bench

# A piece from its cut to its last answer, as the half-blind's screens ask for it.
PIECE: tuple[tuple[str, dict[str, str]], ...] = (
    ("cut", {"what": "cut"}),
    ("judge", {"choice": "word:slightly tight", "aspect": "fit"}),
    ("number", {"what": "number", "aspect": "fit", "text": "0.4 mm"}),
    ("judge", {"choice": "word:gap far", "aspect": "centre"}),
    ("number", {"what": "number", "aspect": "centre", "text": "0.2 mm"}),
    ("judge", {"choice": "word:slightly proud", "aspect": "seat"}),
    ("number", {"what": "number", "aspect": "seat", "text": "0.3 mm"}),
)
MOST = {"answer": 12, "screen": 6}  # statements of a word or a number


def started(shop: Shop) -> None:
    shop.started(machine={"height-turn": "1.6", "fence-step": "0.05"})
    shop.words("cut tight, proud 0.5")


@pytest.fixture
def page(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> Iterator[Page]:
    monkeypatch.setenv("LOGNAME", "jo")
    shop.built(started)
    with paged(shop.db) as made:
        yield made


def answered(page: Page, seen: str, key: str, fields: dict[str, str]) -> str:
    """Where the script is led after an answer."""
    body = urlencode({**fields, "seen": seen, "key": key}).encode()
    reply = page.reply("POST", "/s/1/answer", body, fitlog_script="2")
    assert reply.status == 204, reply.body.decode()
    return reply.headers["fitlog-next"]


def test_an_answer_leads_where_the_log_says_that_it_stands(page: Page) -> None:
    """Where it goes on is worked out from what was read before it: the same answer once more, which
    is in the log already, is led on by what the log holds by then.
    """
    led = []
    for screen, fields in PIECE:
        seen, key = page.get(f"/s/1/{screen}").fields["seen"], os.urandom(8).hex()
        to = answered(page, seen, key, fields)
        assert answered(page, seen, key, fields) == to
        assert page.post("/s/1/answer", seen=seen, key=key, **fields).url == to  # without a script
        assert page.reply("GET", to).status == 200
        led.append(to.rpartition("/")[2])
    assert led == ["judge", "number", "judge", "number", "judge", "number", "now"]


def test_few_statements_an_answer_and_no_more_for_a_longer_set_up(shop: Shop, page: Page) -> None:
    def counted() -> list[tuple[int, int]]:
        found = []
        for screen, fields in PIECE:
            seen = page.get(f"/s/1/{screen}").fields["seen"]
            with sent() as answer:
                to = answered(page, seen, os.urandom(8).hex(), fields)
            with sent() as shown:
                assert page.reply("GET", to).status == 200
            assert len([s for s in answer if "ORDER BY trial_cut.entry" in s]) == 1
            found.append((len(answer), len(shown)))
        return found

    short = counted()
    for answer, screen in short[1:-1]:
        assert answer <= MOST["answer"] and screen <= MOST["screen"], short
    shop.words("note 'now and then' --setup 1")  # what is written down is one statement more
    noted = counted()
    assert counted() == noted and sum(map(sum, noted)) <= sum(map(sum, short)) + 2 * len(PIECE)


def test_advice_is_worked_out_once_until_something_is_said(
    shop: Shop, page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    monkeypatch.setattr(bench, "advise", lambda *given: asked.append(1) or advise(*given))

    def shown(*screens: str) -> tuple[int, str]:
        asked.clear()
        read = [page.get(f"/s/1/{screen}") for screen in screens]
        assert all(one.status == 200 for one in read)
        return len(asked), read[-1].text.casefold()

    assert shown("now", "set", "cut", "now")[0] == 1
    shop.words("cut slightly tight 0.2")  # another process
    times, text = shown("now", "set")
    assert times == 1 and "piece 3" in text
    page.say("/s/1/back", what="undo")
    times, text = shown("now", "set", "cut")
    assert times == 0 and "piece 2" in text  # the screen after the undo has it already


def test_what_would_be_taken_back_needs_no_question_once_it_is_the_newest(
    shop: Shop, page: Page
) -> None:
    def asked() -> tuple[str, int]:
        with sent() as statements:
            said = page.get("/s/1/back").text
        return said, len(
            [s for s in statements if s.startswith("SELECT entry.id, entry.kind FROM")]
        )

    before, first = asked()
    shop.words("cut good, flush")
    newest, second = asked()
    page.say("/s/1/back", what="undo")
    after, third = asked()
    assert "piece 1" in before and "piece 2" in newest and "piece 1" in after
    assert first == second < third  # after an undo the newest entry is that undo


def test_all_screens_that_wait_are_looked_at_by_one_statement(shop: Shop) -> None:
    started(shop)
    shop.words("bit add other --diameter 12.7 --angle 14 --cutting-length 13")
    shop.words("start --bit other")

    async def heard() -> tuple[list[int | None], int]:
        desk = Desk(str(shop.db))
        await desk.open()
        watch, found = Watch(desk), list[int | None]()

        async def listen(number: int) -> None:
            async for newest in watch.changes(number, None):
                found.append(newest)
                return

        waiting = [asyncio.create_task(listen(n)) for n in (1, 2, 1, 99)]
        await asyncio.sleep(0)
        with sent() as statements:
            watch.look()
            await asyncio.wait_for(asyncio.gather(*waiting[:3]), 30)
        waiting[3].cancel()  # of a set-up that is none nobody hears
        await asyncio.gather(waiting[3], return_exceptions=True)
        await watch.close()
        await desk.close()
        return found, len(statements)

    found, statements = asyncio.run(heard())
    with open_log(shop.db, create=False) as log:
        newest = log.newest([1, 2, 99])
        assert newest == {n: log.setup(n).newest for n in (1, 2)}
        log.choose(1, bench.Workbench(log, "jo", None).stamp(None))  # type: ignore[arg-type]
        assert log.newest([1, 2]) == newest  # that is nothing new about it
    assert sorted(found, key=str) == sorted([newest[1], newest[2], newest[1]], key=str)
    assert statements == 1


def test_numbers_of_whatever_count_are_asked_for_by_few_statements(shop: Shop) -> None:
    started(shop)
    for _ in range(7):
        shop.words("cut slightly tight")
    with open_log(shop.db, create=False) as log, sent() as statements:
        whole = log.setup(1)
        pieces = [len(log.finished_by("jo"))]
        assert pieces == [0] and len(whole.pieces()) == 8
        parts = {s for s in statements if "all_verdict" in s}
        assert len(parts) == 1 and next(iter(parts)).count("?") == 2 * 8 + 2
