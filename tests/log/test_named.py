"""Which logins a log knows, and the name that each logs under."""

from __future__ import annotations

from datetime import UTC, datetime

from fitlog.log import Log

AT = datetime(2031, 5, 6, tzinfo=UTC)


def test_a_login_has_the_name_that_it_said_last_or_its_own(log: Log) -> None:
    assert log.named() == {}
    log.prefer("jo", units="inch", at=AT)
    log.prefer("mo", name="Wren", at=AT)
    log.prefer("mo", name="Robin", units="mm", at=AT)
    log.call("mo", "like butter", "good", AT)  # a phrase is nobody's login
    log.call("kit", "like toast", "good", AT)
    assert log.named() == {"jo": "jo", "mo": "Robin"}
