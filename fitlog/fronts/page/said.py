"""What a form says: the deed, the number it is known by, and what its writer had seen."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import get_args
from urllib.parse import parse_qsl, urlencode

from ...errors import NotUnderstood
from ..bench import Deed
from ..bench.press import Kind

OTHERS = (
    "redo",
    "as-it-is",
    "abandon",
    "check",
    "note",
    "found",
    "start",
)  # what no key of the dialogue does
_KEY = re.compile(r"[A-Za-z0-9-]{8,40}")
# On which screen each answer is given; what is sent beside what was typed there.
_GIVEN_ON = {
    **dict.fromkeys(("word", "skip", "gap", "reading"), "judge"),
    **dict.fromkeys(("cut", "slot"), "set"),
    **dict.fromkeys(("undo", "redo"), "back"),
    **dict.fromkeys(("finish", "as-it-is", "abandon"), "finish"),
    **{"number": "number", "check": "check", "found": "found", "note": "keep"},
}
_OF_THE_ANSWER = ("key", "seen", "by", "what", "choice", "meant", "mend", "was")
_MOST = 60  # fields; a form has far fewer


@dataclass(frozen=True, slots=True)
class Said:
    """One answer. raw: its number, of the phone's own making; key: that and what it says, so that
    the same said again is the same and another word is not; seen: the set-up's newest entry on the
    screen it was given on, as "e" and its number, or "k" and the key of this phone's own answer
    before it; by: the login of whoever held the phone then, "" where nothing says so. what: the
    deed's kind or one of `OTHERS`; held: settings typed, by name; mend: the likely meaning of what
    was doubted is taken; fields: all of it.
    """

    raw: str
    key: str
    seen: str
    by: str
    what: str
    deed: Deed
    held: Mapping[str, str]
    mend: bool = False
    fields: Mapping[str, str] | None = None


def said(body: bytes) -> Said:
    """Return what a form's body says. Raises NotUnderstood (bad-answer)."""
    try:
        pairs = parse_qsl(
            body.decode("ascii"),
            keep_blank_values=True,
            strict_parsing=True,
            errors="strict",
            max_num_fields=_MOST,
        )
    except ValueError:
        raise _bad() from None
    fields = dict(pairs)
    if len(fields) < len(pairs):
        raise _bad()
    if "choice" in fields:  # of several answers in one form
        fields["what"], _, fields["text"] = fields.pop("choice").partition(":")
    what, number = fields.get("what", ""), fields.get("key", "")
    known = what in get_args(Kind) or what in OTHERS
    if not known or not _KEY.fullmatch(number):
        raise _bad()
    content = {k: v for k, v in fields.items() if k not in ("key", "seen", "meant", "mend")}
    digest = hashlib.sha256(repr(sorted(content.items())).encode()).hexdigest()[:16]
    deed = Deed(
        what if what in get_args(Kind) else "leave",  # type: ignore[arg-type]
        fields["text"] if what == "gap" else fields.get("aspect", ""),
        fields.get("text", "").strip(),
        fields.get("other", "").strip(),
        "meant" in fields,
    )
    return Said(
        number,
        f"{begun(number)}{digest}",
        fields.get("seen", ""),
        fields.get("by", ""),
        what,
        deed,
        typed_settings(fields),
        "mend" in fields,
        fields,
    )


def typed_settings(fields: Mapping[str, str]) -> dict[str, str]:
    """Return the settings that were typed, by name."""
    return {
        name.removeprefix("set."): text.strip()
        for name, text in fields.items()
        if name.startswith("set.") and text.strip()
    }


def given_on(number: int, fields: Mapping[str, str]) -> str:
    """Return the screen that an answer was given on, with what was typed there. fields: all that
    was sent, of an answer that may be none.
    """
    what = fields.get("what") or fields.get("choice", "").partition(":")[0]
    if what not in _GIVEN_ON:
        return f"/s/{number}"
    typed = {k: v for k, v in fields.items() if k not in _OF_THE_ANSWER and v}
    if what == "found":
        typed["again"] = "1"  # what was found before is not shown in its place
    query = f"?{urlencode(typed)}" if typed else ""
    return f"/s/{number}/{_GIVEN_ON[what]}{query}"


def begun(raw: str) -> str:
    """Return how the key of an answer begins, by its number."""
    return f"page-{raw}-"


def _bad() -> NotUnderstood:
    return NotUnderstood(
        "bad-answer",
        "this answer is not whole",
        "go back, load the page again and give it once more",
    )
