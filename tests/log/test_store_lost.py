"""A log on a server whose connection breaks about COMMIT: nothing is lost, nothing is doubled, and
what is said of it is true.
"""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from threading import Thread

import pytest
from logs import BIT, OAK, PLAIN, TABLE, Place, refused, stock_up
from postgres import Server

from fitlog.families.wanted import Wanted
from fitlog.language.units import Ruler
from fitlog.log import Log, open_log
from fitlog.log.once import of_key
from fitlog.service import Reported, Workbench

TOLD = Reported(PLAIN.verdict, "tight")
SIMPLE = b"COMMIT\x00"


class Way:
    """A forwarder to a server that cuts one connection at the next COMMIT of an entry, before it or
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
                wrote = wrote or b"INSERT INTO entry" in data
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
