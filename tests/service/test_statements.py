"""What a command sends to the database: a set-up, the catalogue and the history are read once, so
that few statements do, and no more of them for a longer log; on a file and on a server alike.
"""

from __future__ import annotations

import pytest
from logs import Place, refused
from shop import BIT, STOCK, Shop
from statements import sent

from fitlog.domain import Bit
from fitlog.language.units import Ruler
from fitlog.log import Log, open_log
from fitlog.service import Workbench

MOST = 26  # a start also asks when its person was last shown the cautions there
# What a server is told and asked beside the log itself: transactions, whose turn it is, who wrote.
BESIDE = ("BEGIN", "SET ", "LOCK TABLE", "concat_ws", "privilege", "to_regclass", "set_config")
GOOD = ("cut", "good 0.3, centred, flush")
READ = (
    *("cut", "loose 0.4, gap far 0.3, proud 0.2", "--mouth", "9.6"),
    *("--walls", "60", "60.2", "--yes"),
)
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("start", "--pitch", "24"),
    ("start", "--bit", "first", "--stock", "elm"),
    ("start",),
    ("next",),
    ("cut", "slightly tight"),
    READ,
    (*READ[:1], "slightly loose 0.3, flush", "--mouth", "9.5", "--yes"),
    ("cut", "--same-piece", "--mouth", "9.5", "--yes"),
    ("next",),
)


def finished(shop: Shop, place: Place, number: int) -> None:
    """Log so many finished set-ups more, of a shop with one bit, stock and machine."""
    for _ in range(number):
        for args in (("start",), ("cut", "tight, proud 0.3"), GOOD, ("finish", "--as-it-is")):
            shop.run(*args, "--db", place.location)


def stocked(shop: Shop, place: Place) -> None:
    for args in (
        ("bit", "add", "first", *BIT),
        ("stock", "add", "elm", *STOCK),
        ("machine", "add", "table", "--height-step", "0.02"),
    ):
        shop.run(*args, "--db", place.location)


def counted(shop: Shop, place: Place) -> list[tuple[int, int]]:
    """How many statements each of COMMANDS sends, and how many of them read what was shown last; a
    start takes the place of the one before it.
    """
    counts, beside = list[tuple[int, int]](), BESIDE if place.server else ()
    for command in COMMANDS:
        if command[0] == "start" and counts:
            shop.run("undo", "--yes", "--db", place.location)
        with sent(beside) as statements:
            shop.run(*command, "--db", place.location)
        counts.append((len(statements), len([s for s in statements if " AS latest" in s])))
        assert len(statements) <= MOST, (command, len(statements), statements)
        catalogue = [s for s in statements if "all_machine" in s]
        assert len(catalogue) <= 2  # once to read, and once more within a turn to write
        assert len([s for s in statements if "ORDER BY trial_cut.entry" in s]) <= 3
    shop.run("finish", "--as-it-is", "--db", place.location)
    return counts


@pytest.mark.parametrize(
    "place", ["file", pytest.param("server", marks=pytest.mark.long)], indirect=True
)
def test_few_statements_a_command_and_no_more_on_a_longer_log(shop: Shop, place: Place) -> None:
    stocked(shop, place)
    finished(shop, place, 2)
    short = counted(shop, place)
    finished(shop, place, 9)
    # What was shown last is read only where the same is advised, which a longer log changes.
    beside_shown = [[n - shown for n, shown in found] for found in (short, counted(shop, place))]
    assert beside_shown[0] == beside_shown[1]
    assert min(short)[0] > 9


def test_the_catalogue_is_kept_until_anybody_changes_it(log: Log, place: Place) -> None:
    def read() -> int:
        with sent() as statements:
            log.setups(bit="Green 8")
        return len([s for s in statements if "all_bit" in s])

    assert [read(), read()] == [1, 0]
    log.retire_bit("Green 8")
    assert [read(), read()] == [1, 0]
    with open_log(place.location, create=False) as other:
        other.edit_bit("Green 8", name="green nine")
    refused("unknown-name", log.setups, bit="Green 8")
    assert log.setups(bit="green nine") == []


def test_a_moment_does_not_see_what_is_written_meanwhile(log: Log, place: Place) -> None:
    with log.at_one_moment():
        assert log.current() is None
        seen = log.written_by_others()
        with open_log(place.location, create=False) as other:
            other.add_bit(Bit("late", 12.0, 9.0, 11.0))
        refused("unknown-name", log.setups, bit="late")
        assert log.written_by_others() == seen
    assert log.setups(bit="late") == [] and log.written_by_others() != seen


def test_what_others_write_is_learnt(shop: Shop, place: Place) -> None:
    """A workbench keeps what it learnt, but never past what another process wrote."""
    stocked(shop, place)
    finished(shop, place, 1)
    shop.run("start", "--pitch", "24", "--db", place.location)
    with open_log(place.location, create=False) as log:
        bench = Workbench(log, "somebody", Ruler())
        known = bench.past(log.setup(2))
        assert bench.past(log.setup(2)) is known
        shop.run("cut", "good", "--db", place.location)
        assert bench.past(log.setup(2)) is not known
