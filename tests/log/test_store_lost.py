"""A log on a server whose connection breaks about COMMIT: nothing is lost, nothing is doubled, and
what is said of it is true.
"""

from __future__ import annotations

import re
import socket
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from pathlib import Path
from threading import Thread

import pytest
from logs import ASH, BIT, OAK, PLAIN, STAMP, T0, TABLE, Place, refused, stock_up
from postgres import Server
from shop import Shop
from sqlalchemy import event
from sqlalchemy.exc import OperationalError

from fitlog.families.wanted import Wanted
from fitlog.language.units import Ruler
from fitlog.log import Log, once, open_log
from fitlog.log.once import of_key
from fitlog.log.postgres import connecting
from fitlog.service import Reported, Workbench

TOLD = Reported(PLAIN.verdict, "tight")
SIMPLE = b"COMMIT\x00"
WRITES = re.compile(rb"INSERT INTO|UPDATE \w+ SET|DELETE FROM")
OLD, ELM = replace(BIT, name="Old 8"), replace(ASH, name="elm")
# Deeds that have no key, each with the command that shows what became of it.
KEYLESS: dict[str, tuple[Callable[[Log], object], str]] = {
    "add": (lambda log: log.add_stock(ELM), "fitlog stock show elm"),
    "edit": (lambda log: log.edit_bit(BIT.name, BIT, diameter=12.5), "fitlog bit show 'Green 8'"),
    "rename": (
        lambda log: log.edit_machine(TABLE.name, TABLE, name="bench"),
        "fitlog machine show 'the table'",
    ),
    "retire": (lambda log: log.retire_stock(OAK.name, OAK), "fitlog stock show 'red oak'"),
    "restore": (lambda log: log.edit_bit(OLD.name, retired=False), "fitlog bit show 'Old 8'"),
    "remove": (lambda log: log.remove_stock(ASH.name, ASH), "fitlog stock show ash"),
    "sharpen": (lambda log: log.sharpen(BIT.name, None, STAMP), "fitlog bit show 'Green 8'"),
    "prefer": (lambda log: log.prefer("jo", units="in", name="Jo", at=T0), "fitlog prefer"),
}
KEPT = ("bit", "stock", "machine", "sharpening", "preference")


class Way:
    """A forwarder to a server that cuts one connection at the next COMMIT of a deed, before it or
    right after it was passed on; cut: None passes everything.
    """

    def __init__(self, port: int) -> None:
        self.cut: str | None = None
        self._to, self._threads = port, list[Thread]()
        self._door = socket.create_server(("127.0.0.1", 0))
        self.port = self._door.getsockname()[1]
        self._start(self._serve)

    def shut(self) -> None:
        """Let nobody in any more."""
        with suppress(OSError):  # where it is shut already
            self._door.shutdown(socket.SHUT_RDWR)
        self._door.close()

    def close(self) -> None:
        """End once all have left."""
        self.shut()
        for thread in self._threads:
            thread.join(30)

    def _start(self, work: object, *args: object) -> None:
        assert callable(work)
        self._threads.append(Thread(target=work, args=args, daemon=True))
        self._threads[-1].start()

    def _serve(self) -> None:
        with suppress(OSError):
            while True:
                inner, _ = self._door.accept()
                outer = socket.create_connection(("127.0.0.1", self._to))
                self._start(self._pass, inner, outer, True)
                self._start(self._pass, outer, inner, False)

    def _pass(self, source: socket.socket, target: socket.socket, forth: bool) -> None:
        with suppress(OSError):
            wrote = False
            while data := source.recv(65536):
                wrote = wrote or WRITES.search(data) is not None
                meant = self.cut if forth and wrote and SIMPLE in data else None
                if meant is not None:
                    self.cut = None
                    source.shutdown(socket.SHUT_RDWR)  # the answer finds nobody
                if meant != "before":
                    target.sendall(data)
                if meant is not None:
                    break
        with suppress(OSError):
            target.shutdown(socket.SHUT_WR)
        source.close()


def begin(log: Log) -> Workbench:
    bench, board = Workbench(stock_up(log), "mira", Ruler()), log.stock(OAK.name)
    bench.start(Wanted(log.bit(BIT.name), board, board, log.machine(TABLE.name)))
    return bench


@contextmanager
def through(place: Place, server: Server) -> Iterator[tuple[str, Way]]:
    way = Way(server.port)
    try:
        location = place.location.replace(f":{server.port}/", f":{way.port}/")
        assert location != place.location
        yield location, way
    finally:
        way.close()


@pytest.fixture
def place(server: Server) -> Place:
    return Place(server.place(), server)


@pytest.mark.parametrize("cut", ["before", "after"])
def test_a_connection_that_breaks_about_commit(place: Place, server: Server, cut: str) -> None:
    with open_log(place.location, create=True) as log:
        begin(log)
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        bench = Workbench(log, "mira", Ruler())
        setup = bench.current()
        way.cut = cut
        if cut == "after":
            assert bench.record(setup, TOLD).piece == 1
        else:
            error = refused("log-unreachable", bench.record, setup, TOLD)
            assert "nothing was stored" in error.message and error.hint == "say it again"
            assert place.rows("SELECT count(*) FROM trial_cut") == [(0,)]
            bench.record(bench.current(), TOLD)
        assert way.cut is None
        assert place.rows("SELECT count(*) FROM trial_cut") == [(1,)]
        (key,) = place.rows("SELECT key FROM entry WHERE kind = 'cut'")[0]
        assert len(key) == 32
        with log.store.reading() as connection:
            assert of_key(connection, key) is not None
        # What was connected anew keeps as much as what was before.
        bench.record(bench.current(), TOLD)
        assert [c.piece for c in bench.current().cuts] == [1, 2]


@pytest.mark.parametrize("deed", ["undo", "finish", "redo"])
@pytest.mark.parametrize("cut", ["before", "after"])
def test_other_deeds_likewise(place: Place, server: Server, cut: str, deed: str) -> None:
    with open_log(place.location, create=True) as log:
        bench = begin(log)
        for _ in range(2):
            bench.record(bench.current(), TOLD)
        bench.take_back(bench.current())
    deeds = {
        "undo": lambda bench: bench.take_back(bench.current()),
        "redo": lambda bench: bench.redo(bench.current())[0],
        "finish": lambda bench: bench.finish(bench.current(), as_it_is=True),
    }
    before = place.rows("SELECT count(*) FROM entry")[0][0]
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        bench = Workbench(log, "mira", Ruler())
        bench.current()
        way.cut = cut
        if cut == "before":
            assert "nothing was stored" in refused("log-unreachable", deeds[deed], bench).message
            assert place.rows("SELECT count(*) FROM entry") == [(before,)]
        assert deeds[deed](bench)
        assert place.rows("SELECT count(*) FROM entry") == [(before + 1,)]


def test_a_server_that_stays_away_is_said_to_be_unsure(place: Place, server: Server) -> None:
    with open_log(place.location, create=True) as log:
        begin(log)
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        bench = Workbench(log, "mira", Ruler())
        setup, way.cut = bench.current(), "after"
        way.shut()
        error = refused("log-unreachable", bench.record, setup, TOLD)
        assert "may not be stored" in error.message and "fitlog next" in error.hint


def stocked(place: Place) -> None:
    with open_log(place.location, create=True) as log:
        stock_up(log).add_bit(OLD)
        log.retire_bit(OLD.name)
        # The same words at the same moment as the deeds below: they are others all the same.
        log.sharpen(OLD.name, None, STAMP)
        log.prefer("jo", units="in", name="Jo", at=T0)


def kept(place: Place) -> list[object]:
    return [place.rows(f"SELECT * FROM {table} ORDER BY id") for table in KEPT]


def done(place: Place, deed: Callable[[Log], object], folder: Path) -> tuple[object, list[object]]:
    """What a deed answers, and what is kept then, in a log where nothing goes wrong."""
    other = Place(str(folder / "smooth.db"))
    stocked(other)
    with open_log(other.location, create=False) as log:
        answer = deed(log)
    return answer, kept(other)


@pytest.mark.parametrize("name", KEYLESS)
@pytest.mark.parametrize("cut", ["before", "after"])
def test_deeds_without_a_key_are_looked_for(
    place: Place, server: Server, cut: str, name: str, tmp_path: Path
) -> None:
    deed, _ = KEYLESS[name]
    answer, wanted = done(place, deed, tmp_path)
    stocked(place)
    before = kept(place)
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        way.cut = cut
        if cut == "before":
            error = refused("log-unreachable", deed, log)
            assert "nothing was stored" in error.message and error.hint == "say it again"
            assert way.cut is None and kept(place) == before
        assert deed(log) == answer
        assert way.cut is None and kept(place) == wanted


def test_a_command_whose_answer_was_lost_has_sharpened_once(
    place: Place, server: Server, shop: Shop
) -> None:
    stocked(place)
    with through(place, server) as (location, way):
        way.cut = "after"
        told = shop.run("--db", location, "bit", "sharpen", BIT.name, "--json").document
        assert way.cut is None and told["bit"]["sharpenings"] == 1
    assert place.rows("SELECT count(*) FROM sharpening WHERE bit = 1") == [(1,)]


@pytest.mark.parametrize("name", KEYLESS)
def test_where_the_server_stays_away_the_deed_says_where_to_look(
    place: Place, server: Server, name: str
) -> None:
    deed, look = KEYLESS[name]
    stocked(place)
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        way.cut = "after"
        way.shut()
        error = refused("log-unreachable", deed, log)
        assert "may not be stored" in error.message
        assert f"look with {look} once" in error.hint and "before you say it again" in error.hint


@pytest.mark.parametrize("cut", ["before", "after"])
@pytest.mark.parametrize("name", ["edit", "sharpen", "prefer"])
def test_what_others_did_meanwhile_is_not_taken_for_it(
    place: Place, server: Server, monkeypatch: pytest.MonkeyPatch, cut: str, name: str
) -> None:
    """Between the lost answer and the look somebody else edits the bit, sharpens it and prefers:
    of the edit nobody knows, of what is only added to it is known all the same.
    """
    deed, look = KEYLESS[name]
    stocked(place)
    with through(place, server) as (location, way), open_log(location, create=False) as log:
        again = log.store.reach_again

        def late() -> None:
            again()
            with log.store.writing():
                pass  # the lost one has ended
            with open_log(place.location, create=False) as other:
                other.edit_bit(BIT.name, cutting_length=11.0)
                other.sharpen(BIT.name, 12.3, replace(STAMP, by="jo"))
                other.prefer("jo", units="in", at=T0)

        monkeypatch.setattr(log.store, "reach_again", late)
        way.cut = cut
        if cut == "after" and name != "edit":
            deed(log)
        else:
            error = refused("log-unreachable", deed, log)
            told = ("may not", look) if name == "edit" else ("nothing was stored", "say it again")
            assert told[0] in error.message and told[1] in error.hint
    mine = {"edit": 0, "sharpen": 1, "prefer": 2}[name] if cut == "after" else 0
    added = place.rows(
        "SELECT (SELECT count(*) FROM sharpening), (SELECT count(*) FROM preference)"
    )
    assert sum(added[0]) == 1 + 2 + 2 + mine


def test_what_came_to_no_commit_was_not_stored(
    place: Place, server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    stocked(place)
    before = kept(place)
    with open_log(place.location, create=False) as log:

        def broken(*_: object) -> None:
            raise connecting.lost(place.location)

        monkeypatch.setattr(once, "digest_of", broken)
        for deed in (KEYLESS["add"][0], KEYLESS["sharpen"][0]):
            assert "nothing was stored" in refused("log-unreachable", deed, log).message
    assert kept(place) == before


@pytest.mark.parametrize("name", KEYLESS)
def test_a_disk_that_fails_at_the_commit_says_where_to_look(tmp_path: Path, name: str) -> None:
    """Of a file nobody knows: what a failed fsync left behind may be found at the next opening."""
    deed, look = KEYLESS[name]
    place = Place(str(tmp_path / "log.db"))
    stocked(place)
    before = kept(place)
    with open_log(place.location, create=False) as log:

        def fails(_: object) -> None:
            error = sqlite3.OperationalError("disk I/O error")
            error.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
            raise OperationalError("COMMIT", {}, error)

        event.listen(log.store._connection, "commit", fails)
        error = refused("log-unreachable", deed, log)
    assert "may not be stored" in error.message and "nothing was stored" not in error.message
    assert f"check the disk, then look with {look} before you say it again" == error.hint
    assert kept(place) == before
