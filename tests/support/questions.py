"""The statements that a log is asked, told before each is run."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import event
from sqlalchemy.engine import Engine

SMALL = (
    "bit",
    "stock",
    "machine",
    "preference",
)  # the catalogue and the preferences are read whole: some dozens of rows


@contextmanager
def heard(note: Callable[[Any, str, Any], None]) -> Iterator[None]:
    """Tell of every statement before it is run: the driver's connection, the SQL and one row of
    parameters.
    """

    def tell(connection: Any, _: Any, sql: str, parameters: Any, __: Any, many: bool) -> None:
        note(connection.connection.driver_connection, sql, parameters[0] if many else parameters)

    event.listen(Engine, "before_cursor_execute", tell)
    try:
        yield
    finally:
        event.remove(Engine, "before_cursor_execute", tell)
