"""What a form sent: its fields by name."""

from __future__ import annotations

from urllib.parse import parse_qs

from ...errors import Refused

_MOST = 200  # fields


def fields(body: bytes) -> dict[str, str]:
    """Return the fields of a body in application/x-www-form-urlencoded, of one said twice the
    first. Raises Refused: bad-form.
    """
    try:
        found = parse_qs(
            body.decode("ascii"),
            keep_blank_values=True,
            strict_parsing=bool(body),
            errors="strict",
            max_num_fields=_MOST,
        )
    except ValueError as error:
        raise Refused(
            "bad-form", "what was sent is no form of this page", "open the page again"
        ) from error
    return {name: said[0] for name, said in found.items()}
