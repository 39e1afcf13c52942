"""How dry the wood is: its options, how percents and temperatures are read, and what `start` takes
for today's boards.
"""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Annotated, Any

import typer

from ...errors import NotUnderstood, Refused
from ...language.units import LENGTH_LIMIT, quoted

if TYPE_CHECKING:
    from ...domain import Stock
    from .session import Session

Moisture = Annotated[
    str | None, typer.Option(metavar="PCT", help="Moisture by a meter, in %; none: not known.")
]
Temperature = Annotated[
    str | None,
    typer.Option(
        metavar="T", help="Temperature of the air it lies in, such as 21C or 70F; none: not known."
    ),
]
Humidity = Annotated[
    str | None,
    typer.Option(metavar="PCT", help="Relative humidity of that air, in %; none: not known."),
]
Sawn = Annotated[
    str | None, typer.Option(metavar="flat|quarter", help="How it was sawn; none: not known.")
]
Today = Annotated[
    str | None,
    typer.Option(metavar="PCT", help="Today's moisture of the tail board, if not the stock's."),
]
PinToday = Annotated[
    str | None,
    typer.Option(metavar="PCT", help="The pin board's; else the tail board's, or its own stock's."),
]
ScrapToday = Annotated[
    str | None, typer.Option(metavar="PCT", help="The test pieces', when they are scrap.")
]

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
            f"{what} {quoted(text.strip())} cannot be read",
            "write it like 9 or 8.5%",
        )
    return _value(found)


def celsius(text: str, what: str) -> float:
    """Return a temperature such as `21`, `21C` or `70F`, deg C to a hundredth; a bare number is deg
    C.

    Raises NotUnderstood ("bad-temperature"); Refused where only the other scale would make sense.
    """
    from ...domain import TEMPERATURES

    found = _DEGREES.fullmatch(_plain(text))
    if found is None:
        hint = "write it like 21C or 70F (a bare number is in deg C)"
        raise NotUnderstood(
            "bad-temperature", f"{what} {quoted(text.strip())} cannot be read", hint
        )
    value, scale = _value(found), (found["scale"] or "")[:1]
    in_c = (value - 32) / 1.8
    if (
        not scale
        and not TEMPERATURES[0] <= value <= TEMPERATURES[1]
        and TEMPERATURES[0] <= in_c <= TEMPERATURES[1]
    ):
        raise Refused(
            "absurd-value", f"{what} of {value:g} deg C cannot be", f"did you mean {value:g}F?"
        )
    return round(in_c if scale == "f" else value, 2)


def wood_given(
    moisture: str | None, temperature: str | None, humidity: str | None, sawn: str | None
) -> dict[str, float | str | None]:
    """Return what was said of a stock's moisture, by the names of `Stock`: None (of sawn: "") for
    what is to be cleared.

    Temperature and humidity go together: clearing one clears the other.
    """
    given: dict[str, float | str | None] = {}
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


def today(
    session: Session, given: dict[str, Any], stock: Stock, pin_stock: Stock
) -> dict[str, float | None]:
    """Return the moistures of a plan, %: what `start` was told, else what the catalogue says of the
    stocks.

    A pin board of the tail board's own stock is taken to be like it, and so is scrap of that stock;
    the moisture of sheet goods is not comparable with a board's.
    """
    from ...families.wood import coefficient, content_of

    tail = _told(given["moisture"], "the tail board's moisture", content_of(stock))
    own = tail if pin_stock == stock else content_of(pin_stock)
    scrap = _scrap(session, given["scrap"], stock)
    alike = (
        content_of(scrap) if scrap is not None and coefficient(scrap.species) is not None else None
    )
    return {
        "moisture": tail,
        "pin_moisture": _told(given["pin_moisture"], "the pin board's moisture", own),
        "scrap_moisture": _told(given["scrap_moisture"], "the scrap's moisture", alike),
    }


def _scrap(session: Session, name: str, stock: Stock) -> Stock | None:
    """The stock of the catalogue that the scrap is, another than the board's own."""
    said = " ".join(name.split()).casefold()
    if not said or said in (stock.name.casefold(), stock.species.casefold()):
        return None
    return next(
        (found for found in session.log.stocks(retired=True) if found.name.casefold() == said), None
    )


def _told(text: str | None, what: str, otherwise: float | None) -> float | None:
    if text is None:
        return otherwise
    return None if _plain(text) == CLEAR else percent(text, what)


def _sawn(text: str) -> str:
    word = _plain(text).removesuffix("-sawn").removesuffix(" sawn").removesuffix("sawn")
    if word not in _SAWN:
        raise NotUnderstood(
            "bad-choice", f"--sawn cannot be {quoted(text)}", "say flat, quarter or none"
        )
    return "" if word == CLEAR else word


def _plain(text: str) -> str:
    """Text on one line in small letters; "" for overlong text, which no pattern takes."""
    line = " ".join(text.casefold().split())
    return line if len(line) <= LENGTH_LIMIT else ""


def _value(found: re.Match[str]) -> float:
    return float(found["number"].replace(",", ".").replace("\u2212", "-"))
