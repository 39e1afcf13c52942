"""Every expected error: one sentence with the offending value, a hint that says what to do next, an
exit code.

Exit codes are part of the interface: 0 done, 1 refused, 2 not understood, 130 interrupted.
"""

from __future__ import annotations

REFUSED = 1
NOT_UNDERSTOOD = 2


class FitlogError(Exception):
    """Base of all expected errors; the shell prints `message` and `hint`, never a traceback.

    `code` is a stable word for `--json` and for tests, such as "unknown-name".
    """

    exit_code = REFUSED

    def __init__(self, code: str, message: str, hint: str = "") -> None:
        super().__init__(message)
        self.code = code
        self.message = message
        self.hint = hint


class Refused(FitlogError):
    """Understood, but it cannot or must not be done (exit code 1)."""


class NotUnderstood(FitlogError):
    """A word, a length or an option that means nothing here (exit code 2)."""

    exit_code = NOT_UNDERSTOOD


def nearest(word: str, known: list[str] | tuple[str, ...], n: int = 3) -> str:
    """Return a hint naming the known words most like `word`, or all of them when none is close."""
    import difflib

    close = difflib.get_close_matches(word.lower(), [k.lower() for k in known], n=n, cutoff=0.5)
    by_lower = {k.lower(): k for k in known}
    names = [by_lower[c] for c in close] or sorted(known)[:12]
    if not names:
        return ""
    lead = "did you mean " if close else "known: "
    if close and len(names) > 1:
        return f"{lead}{', '.join(names[:-1])} or {names[-1]}?"
    return lead + ", ".join(names) + ("?" if close else "")
