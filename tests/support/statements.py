"""The statements that are sent to a database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import event
from sqlalchemy.engine import Engine


@contextmanager
def sent(beside: tuple[str, ...] = ()) -> Iterator[list[str]]:
    """Gather the statements that are sent, those `beside` the log left out."""
    found: list[str] = []

    def note(_connection: Any, _cursor: Any, statement: str, *_: Any) -> None:
        if not any(word in statement for word in beside):
            found.append(" ".join(statement.split()))

    event.listen(Engine, "before_cursor_execute", note)
    try:
        yield found
    finally:
        event.remove(Engine, "before_cursor_execute", note)
