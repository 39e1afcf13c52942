"""A backup of a log on a server, by the server's own tools: of one moment, of this log alone, for
its owner alone, and read back.
"""

from __future__ import annotations

import shutil
import stat
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from logs import Place, fill, stock_up
from postgres import Server, driver
from shop import Shop

from fitlog.log import open_log

psycopg = driver()


@pytest.fixture
def two(server: Server) -> Iterator[tuple[Server, str]]:
    """Two logs whose schemas differ in the case of a letter: the one in "Shop" is filled."""
    for tool in ("pg_dump", "pg_restore"):
        if shutil.which(tool) is None:
            pytest.skip(f"{tool} is not installed here")
    server.run('CREATE SCHEMA "Shop" AUTHORIZATION owner', "CREATE SCHEMA shop AUTHORIZATION owner")
    open_log(server.url(schema="shop"), create=True).__exit__(None, None, None)
    url = server.url(schema="Shop")
    with open_log(url, create=True) as log:
        fill(stock_up(log))
    yield server, url
    server.run('DROP SCHEMA "Shop" CASCADE', "DROP SCHEMA shop CASCADE")


def test_it_is_of_this_log_alone_and_can_be_put_back(two: tuple[Server, str], shop: Shop) -> None:
    server, url = two
    file = shop.home / "copy.dump"
    said = shop.run("log", "backup", str(file), "--json", "--db", url).document
    assert Path(said["backup"]) == file and stat.S_IMODE(file.stat().st_mode) == 0o600
    before = shop.run("log", "export", "--db", url).out
    listed = subprocess.run(["pg_restore", "--list", file], capture_output=True, text=True).stdout
    assert " Shop entry " in listed and " shop " not in listed.replace(" dbname: shop", "")
    server.run('DROP SCHEMA "Shop" CASCADE')
    where = f"host={server.folder} port={server.port} user=keeper dbname=shop"
    subprocess.run(
        ["pg_restore", "--single-transaction", f"--dbname={where}", str(file)], check=True
    )
    assert shop.run("log", "export", "--db", url).out == before
    assert shop.run("log", "health", "--json", "--db", url).document["sound"]
    shop.run("prefer", "--units", "inch", "--db", url)
    told = shop.run("log", "restore", str(file), "--json", "--db", url, code=1).document["error"]
    assert f"{file}" in told["hint"] and "pg_restore --clean" in told["hint"]


def test_nothing_is_written_over_and_nothing_is_left_of_a_failure(
    two: tuple[Server, str], shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    server, url = two
    file = shop.home / "copy.dump"
    file.write_text("precious")
    error = shop.run("log", "backup", str(file), "--json", "--db", url, code=1).document["error"]
    assert error["code"] == "file-exists" and file.read_text() == "precious"
    file.unlink()
    with psycopg.connect(server.way(url.replace("Shop", '"Shop"'))) as other:
        other.execute('LOCK TABLE "Shop".verdict IN ACCESS EXCLUSIVE MODE')
        said = shop.run("log", "backup", str(file), "--json", "--db", url, code=1).document["error"]
        assert said["code"] == "log-busy"
        other.rollback()
    bad = shop.home / "pg_dump"
    bad.write_text("#!/bin/sh\necho 'pg_dump: error: no such luck' >&2\nexit 1\n")
    bad.chmod(0o755)
    real = shutil.which
    monkeypatch.setattr("shutil.which", lambda n: str(bad) if n == "pg_dump" else real(n))
    said = shop.run("log", "backup", str(file), "--json", "--db", url, code=1).document["error"]
    assert said["code"] == "dump-failed" and "no such luck" in said["message"]
    assert not file.exists() and not list(shop.home.glob(".fitlog*"))


def test_a_dump_that_lacks_a_row_does_not_count(
    two: tuple[Server, str], shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    _, url = two
    shop.run("log", "backup", str(shop.home / "whole.dump"), "--db", url)
    real, bad = shutil.which("pg_dump"), shop.home / "pg_dump"
    bad.write_text(f'#!/bin/sh\nexec {real} --exclude-table-data=*.verdict "$@"\n')
    bad.chmod(0o755)
    which = shutil.which
    monkeypatch.setattr("shutil.which", lambda n: str(bad) if n == "pg_dump" else which(n))
    file = shop.home / "copy.dump"
    said = shop.run("log", "backup", str(file), "--json", "--db", url, code=1).document["error"]
    assert said["code"] == "damaged-log" and not file.exists()


def test_an_older_log_and_none(server: Server, shop: Shop, two: tuple[Server, str]) -> None:
    from shop import ROOT

    place = Place(server.place(), server)
    said = shop.run("log", "backup", "--json", "--db", place.location, code=1).document["error"]
    assert said["code"] == "no-log"
    with place.plain() as plain:
        plain.execute((ROOT / "data" / "log-v4.sql").read_text())
    file = shop.home / "old.dump"
    shop.run("log", "backup", str(file), "--db", place.location)
    assert file.stat().st_size > 0
