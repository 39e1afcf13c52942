"""How dry the wood is, as it was typed: percents, temperatures, how it was sawn."""

from __future__ import annotations

import re

from ...domain import TEMPERATURES
from ...errors import NotUnderstood, Refused
from ...language.units import LENGTH_LIMIT, quoted

Wood = dict[str, float | str | None]  # by the names of `Stock`
CLEAR = "none"
_SAWN = ("flat", "quarter", CLEAR)
_NUMBER = r"(?P<number>[+\u2212-]?(?:[0-9]+(?:[.,][0-9]*)?|[.,][0-9]+))"
_PERCENT = re.compile(_NUMBER + r" ?(?:%|percent|per cent|pct)?")
_DEGREES = re.compile(
    _NUMBER + r" ?(?:\u00b0|degrees|degree|deg\.?)? ?(?P<scale>c|f|celsius|fahrenheit)?"
)


def percent(text: str, what: str) -> float:
    """Return a percentage such as `9`, `8.5%` or `8,5 %`; raises NotUnderstood ("bad-percent")."""
    found = _PERCENT.fullmatch(_plain(text))
    if found is None:
        raise NotUnderstood(
            "bad-percent",
            "{what} {typed} cannot be read",
            "write it like 9 or 8.5%",
            what=what,
            typed=quoted(text.strip()),
        )
    return _value(found)


def celsius(text: str, what: str) -> float:
    """Return a temperature such as `21`, `21C` or `70F`, deg C to a hundredth; a bare number is deg
    C.

    Raises NotUnderstood ("bad-temperature"); Refused where only the other scale would make sense.
    """
    found = _DEGREES.fullmatch(_plain(text))
    if found is None:
        hint = "write it like 21C or 70F (a bare number is in deg C)"
        raise NotUnderstood(
            "bad-temperature",
            "{what} {typed} cannot be read",
            "{advised}",
            what=what,
            typed=quoted(text.strip()),
            advised=hint,
        )
    value, scale = _value(found), (found["scale"] or "")[:1]
    in_c = (value - 32) / 1.8
    if (
        not scale
        and not TEMPERATURES[0] <= value <= TEMPERATURES[1]
        and TEMPERATURES[0] <= in_c <= TEMPERATURES[1]
    ):
        raise Refused(
            "absurd-value",
            "{what} of {value:g} deg C cannot be",
            "did you mean {value:g}F?",
            what=what,
            value=value,
        )
    return round(in_c if scale == "f" else value, 2)


def wood_given(
    moisture: str | None, temperature: str | None, humidity: str | None, sawn: str | None
) -> Wood:
    """Return what was said of a stock's moisture, by the names of `Stock`: None (of sawn: "") for
    what is to be cleared.

    Temperature and humidity go together: clearing one clears the other.
    """
    given: Wood = {}
    for name, text, what, read in (
        ("moisture", moisture, "the moisture content", percent),
        ("temperature", temperature, "the temperature", celsius),
        ("humidity", humidity, "the relative humidity", percent),
    ):
        if text is not None:
            given[name] = None if _plain(text) == CLEAR else read(text, what)
    for name, other in (("temperature", "humidity"), ("humidity", "temperature")):
        if name in given and given[name] is None:
            given.setdefault(other, None)
    if sawn is not None:
        given["sawn"] = _sawn(sawn)
    return given


def told(text: str | None, what: str, otherwise: float | None) -> float | None:
    """Return a percentage that was given, None for one to be cleared; else the one known."""
    if text is None:
        return otherwise
    return None if _plain(text) == CLEAR else percent(text, what)


def _sawn(text: str) -> str:
    word = _plain(text).removesuffix("-sawn").removesuffix(" sawn").removesuffix("sawn")
    if word not in _SAWN:
        raise NotUnderstood(
            "bad-choice",
            "--sawn cannot be {typed}",
            "say flat, quarter or none",
            typed=quoted(text),
        )
    return "" if word == CLEAR else word


def _plain(text: str) -> str:
    """Text on one line in small letters; "" for overlong text, which no pattern takes."""
    line = " ".join(text.casefold().split())
    return line if len(line) <= LENGTH_LIMIT else ""


def _value(found: re.Match[str]) -> float:
    return float(found["number"].replace(",", ".").replace("\u2212", "-"))
