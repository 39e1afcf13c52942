"""A real PostgreSQL server for the tests: in a temporary folder, on loopback alone, as an ordinary
user; gone at the end.
"""

from __future__ import annotations

import os
import pwd
import secrets
import shutil
import signal
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path
from typing import Any

import pytest

HOW = (
    "install it (Debian: apt-get install postgresql) and pip install '.[test]', then run the "
    "tests again"
)
# Nothing of it outlives the run, and no log of a test is large enough to be worth the care.
QUICK = ("fsync=off", "full_page_writes=off", "autovacuum=off", "jit=off")
_NUMBERS = count(1)


class Server:
    """A running server. `folder`: its socket, over which the superuser needs no password; TCP wants
    one (SCRAM).
    """

    def __init__(self, folder: Path, port: int, process: subprocess.Popen[bytes]) -> None:
        self.folder, self.port, self._process = folder, port, process

    def stop(self) -> None:
        """Stop at once, whoever is connected."""
        self._process.send_signal(signal.SIGINT)
        self._process.wait(30)

    def run(self, *statements: Any, database: str = "shop") -> list[tuple[Any, ...]]:
        """Run statements as the superuser, each stored at once; return the rows of the last."""
        import psycopg

        way = f"host={self.folder} port={self.port} user=keeper dbname={database}"
        with psycopg.connect(way, autocommit=True) as connection:
            for statement in statements:
                cursor = connection.execute(statement)
            return cursor.fetchall() if cursor.description else []

    def url(self, user: str = "owner", database: str = "shop", **query: str) -> str:
        """The URL of a database as a user, over loopback."""
        asked = "&".join(f"{key}={value}" for key, value in query.items())
        return f"postgresql+psycopg://{user}@127.0.0.1:{self.port}/{database}" + (
            f"?{asked}" if asked else ""
        )

    def password(self) -> str:
        """The password of every role, for a new one."""
        return (self.folder / "password").read_text()

    def place(self) -> str:
        """The URL of a schema of its own, still empty."""
        name = f"t{next(_NUMBERS)}"
        self.run(f"CREATE SCHEMA {name} AUTHORIZATION owner")
        return self.url(schema=name)

    def way(self, place: str, user: str = "owner") -> str:
        """What a plain connection to the schema of `place` takes."""
        schema = place.rsplit("=", 1)[1]
        return (
            f"host=127.0.0.1 port={self.port} user={user} dbname=shop "
            f"options=-csearch_path={schema}"
        )


def programs() -> Path | None:
    """The folder of initdb and postgres, or None."""
    found = shutil.which("initdb")
    folders = [Path(found).resolve().parent] if found else []
    folders += sorted(
        Path("/usr/lib/postgresql").glob("*/bin"), key=lambda p: int(p.parent.name), reverse=True
    )
    return next((f for f in folders if (f / "initdb").exists() and (f / "postgres").exists()), None)


def missing() -> str:
    """Say what is missing for a server to run here; nothing when it can."""
    if programs() is None:
        return "no PostgreSQL server is installed here"
    try:
        import psycopg  # noqa: F401
    except ImportError:
        return "psycopg is not installed here"
    return ""


def require() -> None:
    """Skip where no server can run, with what to do; fail instead where
    FITLOG_TEST_POSTGRES=required.
    """
    why = missing()
    if why and os.environ.get("FITLOG_TEST_POSTGRES") == "required":
        pytest.fail(f"{why}, and FITLOG_TEST_POSTGRES=required")
    if why:
        pytest.skip(f"{why}: {HOW}")


def driver() -> Any:
    """The module psycopg, for a test module that needs it; else as `require`, at its import."""
    try:
        import psycopg
    except ImportError:
        if os.environ.get("FITLOG_TEST_POSTGRES") == "required":
            raise
        pytest.skip(f"psycopg is not installed here: {HOW}", allow_module_level=True)
    return psycopg


@contextmanager
def running() -> Iterator[Server]:
    """Run a server for a while. Its one database is shop, owned by the role owner; the passwords
    lie in a passfile.
    """
    bin, folder = programs(), Path(tempfile.mkdtemp(prefix="fitlog-pg-"))
    assert bin is not None
    who = _ordinary_user()
    password = secrets.token_hex(8)
    (folder / "password").write_text(password)
    (folder / "passfile").write_text(f"127.0.0.1:*:*:*:{password}\n")
    (folder / "passfile").chmod(0o600)
    if who:
        for path in (folder, folder / "password"):
            shutil.chown(path, who["user"], who["group"])
    before = os.environ.get("PGPASSFILE")
    os.environ["PGPASSFILE"] = str(folder / "passfile")
    process = None
    try:
        _initdb(bin, folder, who)
        port = _free_port()
        process = _start(bin, folder, port, who)
        server = Server(folder, port, process)
        _ready(server, process)
        server.run(
            f"CREATE ROLE owner LOGIN PASSWORD '{password}'",
            "CREATE DATABASE shop OWNER owner",
            database="postgres",
        )
        yield server
    finally:
        if process is not None and process.poll() is None:
            process.send_signal(signal.SIGINT)
            process.wait(30)
        shutil.rmtree(folder, ignore_errors=True)
        os.environ.pop("PGPASSFILE", None) if before is None else os.environ.update(
            PGPASSFILE=before
        )


def _initdb(bin: Path, folder: Path, who: dict[str, Any]) -> None:
    made = subprocess.run(
        [
            bin / "initdb",
            "-D",
            folder / "data",
            "-U",
            "keeper",
            "--auth-local=trust",
            "--auth-host=scram-sha-256",
            f"--pwfile={folder / 'password'}",
            "--encoding=UTF8",
            "--locale=C",
            "--no-sync",
        ],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=120,
        **who,
    )
    assert made.returncode == 0, made.stderr


def _start(bin: Path, folder: Path, port: int, who: dict[str, Any]) -> subprocess.Popen[bytes]:
    log = (folder / "server.log").open("wb")
    with log:
        return subprocess.Popen(
            [
                bin / "postgres",
                "-D",
                folder / "data",
                "-p",
                str(port),
                "-h",
                "127.0.0.1",
                "-k",
                folder,
                *(part for setting in QUICK for part in ("-c", setting)),
            ],
            cwd=folder,
            stdin=subprocess.DEVNULL,
            stdout=log,
            stderr=log,
            **who,
        )


def _ready(server: Server, process: subprocess.Popen[bytes]) -> None:
    import psycopg

    until = time.monotonic() + 60
    while True:
        try:
            server.run("SELECT 1", database="postgres")
            return
        except psycopg.OperationalError:
            assert process.poll() is None and time.monotonic() < until, (
                server.folder / "server.log"
            ).read_text()
            time.sleep(0.05)


def _ordinary_user() -> dict[str, Any]:
    """A server refuses to run as root: return whom to run it as then."""
    if os.geteuid() != 0:
        return {}
    for name in ("postgres", "nobody"):
        try:
            found = pwd.getpwnam(name)
        except KeyError:
            continue
        return {"user": found.pw_uid, "group": found.pw_gid, "extra_groups": []}
    pytest.fail("no ordinary user is there to run PostgreSQL as")


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
