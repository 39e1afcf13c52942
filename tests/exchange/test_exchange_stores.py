"""A log goes from a file to a server and back unchanged, and the log it came to can be
written on.
"""

from __future__ import annotations

import io
from datetime import UTC, datetime
from pathlib import Path

import pytest
from logs import fill, make_place, stock_up

from fitlog.exchange.document import rows_of
from fitlog.log import Log, Stamp, open_log
from fitlog.service.exchange import read_log, write_log


def exported(log: Log) -> str:
    out = io.StringIO()
    write_log(log, out.write)
    return out.getvalue()


@pytest.mark.parametrize(
    ("first", "second"), [("file", "server"), ("server", "file"), ("server", "server")]
)
def test_a_log_moves_between_stores(
    request: pytest.FixtureRequest, tmp_path: Path, first: str, second: str
) -> None:
    (tmp_path / "a").mkdir()
    (tmp_path / "b").mkdir()
    with open_log(make_place(first, request, tmp_path / "a").location, create=True) as log:
        text = exported(fill(stock_up(log)))
    with open_log(make_place(second, request, tmp_path / "b").location, create=True) as log:
        assert read_log(log, rows_of(io.StringIO(text)), "me").identical
        assert exported(log) == text
        assert not read_log(log, rows_of(io.StringIO(text)), "me").merged.added
        assert exported(log) == text
        number = log.setups()[0].number
        log.choose(
            number, Stamp("me", datetime.now(UTC))
        )  # the numbers of new rows go on after the imported ones
        log.prefer("me", units="inch", at=datetime.now(UTC))
        assert len(exported(log)) > len(text)
