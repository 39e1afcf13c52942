"""Waits for a server end, and who is refused by it is told why.

No test asserts how fast something is: each has a limit far beyond the deadlines (5 to 10 s), and
would wait for ever, or for minutes, without them.
"""

from __future__ import annotations

import json
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress

import forked
import pytest
from logs import T0, Place, fill, refused, stock_up
from postgres import Server, driver
from shop import BIT, STOCK, Shop

from fitlog.log import engine, open_log
from fitlog.log.postgres import connecting
from fitlog.log.postgres import server as stores
from fitlog.newfile import APPLICATION_ID

psycopg = driver()
LONG = 60.0  # s, after which a command is said to hang


@contextmanager
def proxy(port: int, swallow: threading.Event) -> Iterator[int]:
    """Pass everything on between a port of its own and `port`; once `swallow` is set, answers are
    taken and kept.
    """
    ends: list[socket.socket] = []
    with socket.create_server(("127.0.0.1", 0)) as door:
        threading.Thread(target=_let_in, args=(door, port, swallow, ends), daemon=True).start()
        yield door.getsockname()[1]
        door.shutdown(socket.SHUT_RDWR)
    for end in ends:
        end.close()


def _let_in(
    door: socket.socket, port: int, swallow: threading.Event, ends: list[socket.socket]
) -> None:
    while True:
        try:
            near, _ = door.accept()
        except OSError:
            return
        far = socket.create_connection(("127.0.0.1", port))
        ends += [near, far]
        for one, other, back in ((near, far, False), (far, near, True)):
            threading.Thread(target=_pass, args=(one, other, swallow, back), daemon=True).start()


def _pass(one: socket.socket, other: socket.socket, swallow: threading.Event, back: bool) -> None:
    with suppress(OSError):
        while data := one.recv(65536):
            if not (back and swallow.is_set()):
                other.sendall(data)


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(engine, "BUSY_SECONDS", 0.3)
    monkeypatch.setattr(stores, "STATEMENT", 800)
    monkeypatch.setattr(stores, "ANSWER", 0.5)
    monkeypatch.setattr(stores, "CONNECT_SECONDS", 2)


def error_of(shop: Shop, line: str, url: str) -> str:
    """The code with which a command in a process of its own ends; it is killed after LONG."""
    done = forked.run(
        shop.command(*line.split(), "--json", "--db", url),
        env=shop.environment(),
        capture_output=True,
        text=True,
        timeout=LONG,
    )
    assert done.returncode == 1, done
    return str(json.loads(done.stdout)["error"]["code"])


@pytest.fixture
def started(shop: Shop, server: Server) -> str:
    url = server.place()
    shop.run("--db", url, "bit", "add", "marsh", *BIT)
    shop.run("--db", url, "stock", "add", "elm", *STOCK)
    shop.run("--db", url, "start")
    return url


def test_behind_a_locked_table(shop: Shop, server: Server, started: str) -> None:
    with psycopg.connect(server.way(started)) as other:
        other.execute("LOCK TABLE entry IN ACCESS EXCLUSIVE MODE")
        for line in ("next", "cut tight"):
            assert error_of(shop, line, started) == "log-busy"
        other.rollback()
    shop.run("--db", started, "cut", "tight")


def test_a_strangers_advisory_lock_is_in_nobodys_way(
    shop: Shop, server: Server, started: str
) -> None:
    """Not even that of the key that layouts up to 4 had."""
    schema = started.rsplit("=", 1)[1]
    with psycopg.connect(server.way(started)) as other:
        other.execute(
            f"SELECT pg_advisory_xact_lock(({APPLICATION_ID}::bigint << 32) | "
            f"'{schema}'::regnamespace::oid::bigint)"
        )
        shop.run("--db", started, "cut", "tight")
        shop.run("--db", started, "next")


def test_a_server_that_takes_and_never_answers(shop: Shop) -> None:
    with socket.create_server(("127.0.0.1", 0)) as door:
        url = f"postgresql+psycopg://owner@127.0.0.1:{door.getsockname()[1]}/shop"
        assert error_of(shop, "next", url) == "log-unreachable"


def test_a_proxy_that_falls_silent(server: Server, quick: None) -> None:
    url, swallow = server.place(), threading.Event()
    with proxy(server.port, swallow) as port:
        through = url.replace(f":{server.port}/", f":{port}/")
        with pytest.MonkeyPatch.context() as around:
            around.setenv("PGPASSWORD", server.password())
            with open_log(through, create=True) as log:
                fill(stock_up(log))
                swallow.set()
                assert "silent" in refused("log-unreachable", log.bits).message
                refused("log-unreachable", log.prefer, "x", units="in", at=T0)


def test_a_statement_that_takes_too_long_is_ended_by_the_server(
    server: Server, quick: None
) -> None:
    with open_log(server.place(), create=True) as log:
        with pytest.raises(Exception, match="did not answer in time"), log.store.glance() as one:
            one.exec_driver_sql("SELECT pg_sleep(30)")
        with log.store.patient(), log.store.glance() as one:
            one.exec_driver_sql("SELECT pg_sleep(1.5)")
        with pytest.raises(Exception, match="did not answer in time"), log.store.glance() as one:
            one.exec_driver_sql("SELECT pg_sleep(30)")


def test_ten_writers_get_their_turns(server: Server) -> None:
    url, done = server.place(), []
    with open_log(url, create=True) as log:
        stock_up(log)

    def work(number: int) -> None:
        with open_log(url, create=False) as own:
            for turn in range(10):
                own.prefer(f"p{number}", name=f"n{turn}", at=T0)
        done.append(number)

    people = [threading.Thread(target=work, args=(number,)) for number in range(10)]
    for one in people:
        one.start()
    for one in people:
        one.join(LONG)
    assert sorted(done) == list(range(10))
    rows = Place(url, server).rows("SELECT id FROM preference ORDER BY id")
    assert rows == [(n,) for n in range(1, 101)]


def test_two_lay_a_log_out_at_once(server: Server) -> None:
    url, done = server.place(), []

    def work() -> None:
        open_log(url, create=True).__exit__(None, None, None)
        done.append(1)

    people = [threading.Thread(target=work) for _ in range(6)]
    for one in people:
        one.start()
    for one in people:
        one.join(LONG)
    assert len(done) == 6


# Who is not let in


@pytest.fixture(scope="module")
def strict(server: Server) -> Iterator[Server]:
    """Roles and databases that let nobody in, each for its own reason."""
    hba = server.folder / "data" / "pg_hba.conf"
    was = hba.read_text()
    password = server.password()
    names = ("plain", "kept", "nologin", "limited")
    server.run(
        *(f"CREATE ROLE {name} LOGIN PASSWORD '{password}'" for name in names),
        "ALTER ROLE nologin NOLOGIN",
        "ALTER ROLE limited CONNECTION LIMIT 0",
        "CREATE DATABASE closed ALLOW_CONNECTIONS false",
        "CREATE DATABASE crowded CONNECTION LIMIT 0",
        "CREATE DATABASE private",
        "REVOKE CONNECT ON DATABASE private FROM PUBLIC",
    )
    hba.write_text("host all kept 127.0.0.1/32 reject\n" + was)
    server.run("SELECT pg_reload_conf()")
    yield server
    hba.write_text(was)
    server.run(
        "SELECT pg_reload_conf()",
        "DROP DATABASE closed",
        "DROP DATABASE crowded",
        "DROP DATABASE private",
        *(f"DROP ROLE {name}" for name in names),
    )


@pytest.mark.parametrize(
    ("user", "database", "code", "said"),
    [
        ("kept", "shop", "no-permission", "does not let this user or machine in"),
        ("plain", "private", "no-permission", "CONNECT"),
        ("nologin", "shop", "no-login", "may not log in"),
        ("limited", "shop", "log-busy", "takes no more connections"),
        ("plain", "crowded", "log-busy", "takes no more connections"),
        ("plain", "closed", "log-busy", "takes no connections now"),
        ("plain", "nowhere", "no-database", "createdb"),
    ],
)
def test_who_is_not_let_in_is_told_why(
    strict: Server, user: str, database: str, code: str, said: str
) -> None:
    error = refused(code, open_log, strict.url(user, database), create=False)
    assert said in f"{error.message}: {error.hint}"


def test_encryption_that_the_server_has_not(server: Server) -> None:
    error = refused("no-encryption", open_log, server.url(sslmode="require"), create=False)
    assert "sslmode" in error.message


@pytest.mark.parametrize(
    ("said", "code"),
    [
        ("FATAL:  the database system is starting up", "log-busy"),
        ("FATAL:  sorry, too many clients already", "log-busy"),
        ("FATAL:  remaining connection slots are reserved for roles with SUPERUSER", "log-busy"),
        ("FATAL:  the database system is not yet accepting connections", "log-busy"),
        ('FATAL:  database "no password" does not exist', "no-database"),
        ('FATAL:  role "too many" does not exist', "no-permission"),
        ("SSL error: certificate verify failed", "no-encryption"),
        ("Connection refused", "log-unreachable"),
    ],
)
def test_the_words_of_a_server_that_cannot_be_had_here(said: str, code: str) -> None:
    """Messages as libpq and PostgreSQL word them in English; names in them mean nothing."""
    text = f'connection failed: connection to server at "h", port 1 failed: {said}'
    assert connecting.not_connected("x", psycopg.OperationalError(text)).code == code


def test_a_server_that_speaks_another_language_is_repeated() -> None:
    text = 'connection to server at "h", port 1 failed: FATAL:  es geht heute nicht'
    error = connecting.not_connected("x", psycopg.OperationalError(text))
    assert "es geht heute nicht" in error.message


def test_an_older_server_is_refused_before_anything_is_made(
    server: Server, monkeypatch: pytest.MonkeyPatch
) -> None:
    url = server.place()
    monkeypatch.setattr("fitlog.log.postgres.ddl.LEAST", 99)
    assert "PostgreSQL 99" in refused("old-server", open_log, url, create=True).message
    monkeypatch.undo()
    refused("no-log", open_log, url, create=False)
