"""Statements compiled once for all the logs that the tests open in one process.

Each log has an engine of its own, whose compiled statements are gone with it; compiling them anew
for every command in this process took a third of the seconds of the tests of the shell. Nor are the
statements that lay out a log put together anew for each.
"""

from __future__ import annotations

from collections.abc import Iterator, MutableMapping
from functools import cache
from typing import Any

from sqlalchemy import Connection, Engine, event

from fitlog.log.postgres import ddl as postgres
from fitlog.log.sqlite import ddl as sqlite

Key = tuple[Any, ...]


class Shared(MutableMapping[Key, Any]):
    """Compiled statements, kept under the kind of dialect instead of one engine's own."""

    def __init__(self) -> None:
        self._kept: dict[Key, Any] = {}

    def __getitem__(self, key: Key) -> Any:
        return self._kept[_common(key)]

    def __setitem__(self, key: Key, compiled: Any) -> None:
        self._kept[_common(key)] = compiled

    def __delitem__(self, key: Key) -> None:
        del self._kept[_common(key)]

    def __iter__(self) -> Iterator[Key]:
        return iter(self._kept)

    def __len__(self) -> int:
        return len(self._kept)


def _common(key: Key) -> Key:
    dialect, *statement = key
    return (type(dialect), *statement)


def share() -> None:
    """Let every engine that is made from now on share its compiled statements."""
    shared = Shared()

    def take(connection: Connection) -> None:
        connection.execution_options(compiled_cache=shared)

    event.listen(Engine, "engine_connect", take)
    for ddl in (sqlite, postgres):
        kept = cache(lambda said=ddl.statements: tuple(said()))
        ddl.statements = kept  # type: ignore[assignment]
