"""The options that say how dry the wood is."""

from __future__ import annotations

from typing import Annotated

import typer

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
