"""Every expected error: one sentence with the offending value, a hint that says what to do next, an
exit code.

Exit codes are part of the interface: 0 done, 1 refused, 2 not understood, 130 interrupted.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from .texts import AsTyped, tell

REFUSED = 1
NOT_UNDERSTOOD = 2


class Mm(float):
    """A length that a refusal names: told in mm, or in a person's unit where that is known."""

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        """Return it in mm; spec: as for a float, "g" without one, "bare" for one whose unit comes
        with the next.
        """
        return f"{float(self):g}" if spec == "bare" else f"{float(self):{spec or 'g'}} mm"

    def __str__(self) -> str:
        """Return it in mm."""
        return format(self)


class Least(Mm):
    """The smallest length that is taken: never told smaller than it is."""

    __slots__ = ()


class Most(Mm):
    """The largest length that is taken: never told larger than it is."""

    __slots__ = ()


class Typed(Mm):
    """A length to be typed behind an option, without a space."""

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        """Return it in mm."""
        return f"{float(self):g}mm"


class _Shown(str):
    """A length in a person's unit, whose digits a text's format spec no longer sets."""

    __slots__ = ()

    def __format__(self, spec: str) -> str:
        """Return it as it is; spec: what the same length in mm would be told with."""
        return str(self)


class Clause(str):
    """A part of a refusal that names lengths of its own: in mm as it stands, in a person's unit
    where the refusal is told so.
    """

    __slots__ = ("_text", "_values")
    _text: str
    _values: dict[str, object]

    def __new__(cls, text: str, /, **values: object) -> Clause:
        """Return the text with its values put in, as `tell` does."""
        made = super().__new__(cls, tell(text, **values))
        made._text, made._values = text, values
        return made

    def told(self, length: Callable[[Mm], str]) -> str:
        """Return it with each `Mm` as `length` shows it."""
        return tell(self._text, **in_units(self._values, length))


def in_units(values: Mapping[str, object], length: Callable[[Mm], str]) -> dict[str, object]:
    """Return the values of a text with its lengths as `length` shows them."""
    return {
        name: _Shown(length(value))
        if isinstance(value, Mm)
        else value.told(length)
        if isinstance(value, Clause)
        else value
        for name, value in values.items()
    }


class Choice(NamedTuple):
    """What may have been meant. say: as it is typed; when: it is that, "" where that is plain;
    instead: all that was typed, put so.
    """

    say: str
    when: str
    instead: str


class FitlogError(Exception):
    """Base of all expected errors; the shell prints `message` and `hint`, never a traceback.

    code: a stable word for `--json` and for tests, such as "unknown-name". message, hint: English
    texts with the names of `values` in braces (`texts.tell`); they read in the language at hand,
    and each `Mm` in the units of whoever has set `length`. on_page: the hint where there is no
    command to type, for one that names some.
    """

    exit_code = REFUSED
    length: Callable[[Mm], str] | None = None
    unsure = False  # whether it may have been done all the same: the answer was lost
    choices: tuple[Choice, ...] = ()  # what may have been meant, to be chosen from

    def __init__(
        self,
        code: str,
        message: str,
        hint: str = "",
        on_page: str | None = None,
        /,
        **values: object,
    ) -> None:
        self.code, self.values = code, values
        self._message, self._hint = message, hint
        self._on_page = hint if on_page is None else on_page
        super().__init__(self.message)

    @property
    def message(self) -> str:
        """What was wrong, with the offending value."""
        return self._told(self._message)

    @property
    def hint(self) -> str:
        """What to do next; "" where that is plain."""
        return self._told(self._hint)

    @property
    def on_page(self) -> str:
        """What to do next on the page; "" where that is plain."""
        return self._told(self._on_page)

    def _told(self, text: str) -> str:
        shown = self.length
        return tell(text, **(self.values if shown is None else in_units(self.values, shown)))

    def __str__(self) -> str:
        """Return the message."""
        return self.message


class Refused(FitlogError):
    """Understood, but it cannot or must not be done (exit code 1)."""


class NotUnderstood(FitlogError):
    """A word, a length or an option that means nothing here (exit code 2)."""

    exit_code = NOT_UNDERSTOOD


def nearest(word: str, known: list[str] | tuple[str, ...], n: int = 3, *, far: bool = True) -> str:
    """Return a hint naming the known words most like `word`; when none is close, all of them, or ""
    where not `far`.
    """
    import difflib

    close = difflib.get_close_matches(word.lower(), [k.lower() for k in known], n=n, cutoff=0.5)
    by_lower = {k.lower(): k for k in known}
    names = [AsTyped(by_lower[c]) for c in close] or sorted(known if far else ())[:12]
    if not names:
        return ""
    if not close:
        return tell("known: {names}", names=AsTyped(", ".join(names)))
    if len(names) == 1:
        return tell("did you mean {name}?", name=names[0])
    *most, last = names
    return tell("did you mean {names} or {last}?", names=AsTyped(", ".join(most)), last=last)
