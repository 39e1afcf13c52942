"""`fitlog bit`, `stock` and `machine`: what the shop has."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Annotated

import typer

from .machines import machine_app
from .moisture import Humidity, Moisture, Sawn, Temperature
from .options import (
    Db,
    Json,
    Name,
    NewName,
    Restore,
    Yes,
    complete_bit,
    complete_machine,
    complete_stock,
)
from .sizes import Angle, CuttingLength, Diameter, Neck
from .things import add, edit, put, put_one, show

if TYPE_CHECKING:
    from ...service.catalogue import Kind

bit_app = typer.Typer(
    help="Dovetail bits: add, list, edit, retire, sharpen.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
stock_app = typer.Typer(
    help="Kinds of board: add, list, edit, retire.", no_args_is_help=True, rich_markup_mode=None
)

BitArg = Annotated[
    str, typer.Argument(metavar="NAME", help="Its name.", autocompletion=complete_bit)
]
StockArg = Annotated[
    str, typer.Argument(metavar="NAME", help="Its name.", autocompletion=complete_stock)
]
All = Annotated[bool, typer.Option("--all", help="Retired ones too.")]


@bit_app.command("add")
def bit_add(
    name: Name,
    diameter: Diameter,
    angle: Angle,
    cutting_length: CuttingLength,
    measured: Annotated[
        bool, typer.Option("--measured", help="The diameter was measured, not read off the box.")
    ] = False,
    neck: Neck = None,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Add a bit.

    The angle is the flank's, from the bit's axis. Bits run a little under their printed size:
    measure the diameter at the tip if you can, and say --measured.

    \b
    Example:
      fitlog bit add half --diameter 12.7 --angle 14 --cutting-length 14
    """
    sizes = {"diameter": diameter, "cutting_length": cutting_length, "neck": neck}
    from ...service.reader.angles import degrees

    add("bit", name, sizes, {"angle": degrees(angle), "measured": measured}, yes, db, json)


@bit_app.command("edit")
def bit_edit(
    name: BitArg,
    new_name: NewName = None,
    diameter: Annotated[
        str | None, typer.Option(metavar="L", help="Cutting diameter at the tip.")
    ] = None,
    angle: Annotated[
        str | None, typer.Option(metavar="DEG", help="Side angle from the bit's axis.")
    ] = None,
    cutting_length: Annotated[
        str | None, typer.Option(metavar="L", help="Length of the cutting edges.")
    ] = None,
    neck: Neck = None,
    measured: Annotated[
        bool | None, typer.Option("--measured/--as-sold", help="Where the diameter comes from.")
    ] = None,
    correction: Annotated[
        bool, typer.Option("--correction", help="The same steel: its figure was wrong.")
    ] = False,
    restore: Restore = False,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Correct a bit's figures. After a sharpening use `fitlog bit sharpen` instead; another cutter
    is a new bit.

    Set-ups that were cut with it are read again with the new figures: you are told what that does,
    and asked.

    \b
    Example:
      fitlog bit edit half --diameter 12.64 --measured --correction
    """
    sizes = {"diameter": diameter, "cutting_length": cutting_length, "neck": neck}
    from ...service.reader.angles import degrees

    turned = None if angle is None else degrees(angle)
    others = {"name": new_name, "angle": turned, "measured": measured}
    edit("bit", name, sizes, others, {}, restore, db, json, yes=yes, correction=correction)


@bit_app.command("sharpen")
def bit_sharpen(
    name: BitArg,
    diameter: Annotated[
        str | None, typer.Option(metavar="L", help="The new diameter, if measured.")
    ] = None,
    db: Db = None,
    json: Json = False,
) -> None:
    """Note that a bit was sharpened: its diameter is new, its angle stays, with all that was learnt
    of it.

    \b
    Example:
      fitlog bit sharpen half --diameter 12.52
    """
    from ...service.limits import CATALOGUE
    from .session import open_session

    with open_session(db, create=False) as session:
        size = session.reader.maybe(diameter, CATALOGUE["diameter"])
        show(session, "bit", session.sharpen(name, size), json)


@stock_app.command("add")
def stock_add(
    name: Name,
    species: Annotated[str, typer.Option(metavar="TEXT", help="The wood.")],
    thickness: Annotated[str, typer.Option(metavar="L", help="Usual thickness.")],
    width: Annotated[str, typer.Option(metavar="L", help="Usual width.")],
    moisture: Moisture = None,
    temperature: Temperature = None,
    humidity: Humidity = None,
    sawn: Sawn = None,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Add a kind of board; sizes and moisture are defaults, a set-up takes today's own.

    With a meter or a hygrometer (--moisture, or the air's --temperature and --humidity, and --sawn)
    you are warned where two boards will creep apart by more than the joint's play, and where scrap
    says less because it is drier or wetter.

    \b
    Examples:
      fitlog stock add ash --species ash --thickness 15 --width 140
      fitlog stock add oak --species "red oak" --thickness 18 --width 160 --moisture 9% --sawn flat
    """
    from ...service.reader.wood import wood_given

    wood = wood_given(moisture, temperature, humidity, sawn)
    sizes = {"thickness": thickness, "width": width}
    add("stock", name, sizes, {"species": species, **wood}, yes, db, json)


@stock_app.command("edit")
def stock_edit(
    name: StockArg,
    new_name: NewName = None,
    species: Annotated[str | None, typer.Option(metavar="TEXT", help="The wood.")] = None,
    thickness: Annotated[str | None, typer.Option(metavar="L", help="Usual thickness.")] = None,
    width: Annotated[str | None, typer.Option(metavar="L", help="Usual width.")] = None,
    moisture: Moisture = None,
    temperature: Temperature = None,
    humidity: Humidity = None,
    sawn: Sawn = None,
    restore: Restore = False,
    yes: Yes = False,
    db: Db = None,
    json: Json = False,
) -> None:
    """Change a stock's figures; what is `none` is forgotten.

    \b
    Examples:
      fitlog stock edit ash --thickness 14.5
      fitlog stock edit ash --moisture none --temperature 20C --humidity 55%
    """
    from ...service.reader.wood import wood_given

    sizes, others = {"thickness": thickness, "width": width}, {"name": new_name, "species": species}
    wood = wood_given(moisture, temperature, humidity, sawn)
    edit("stock", name, sizes, others, wood, restore, db, json, yes=yes)


def _more(app: typer.Typer, kind: Kind, complete: Callable[[str], list[str]]) -> None:
    """Give `list`, `show`, `retire` and `remove` to a kind."""
    example = f"\n\n\b\nExample:\n  fitlog {kind} "
    named = typer.Argument(..., metavar="NAME", help="Its name.", autocompletion=complete)

    @app.command("list", help=f"List the {kind}s.{example}list --all")
    def list_(all_: All = False, db: Db = None, json: Json = False) -> None:
        from .session import open_session

        with open_session(db, create=False) as session:
            put(session, kind, session.shelf(kind).all(all_), json)

    @app.command("show", help=f"Show one {kind}.{example}show NAME")
    def show_(name: str = named, db: Db = None, json: Json = False) -> None:
        from .session import open_session

        with open_session(db, create=False) as session:
            put_one(session, kind, name, json)

    @app.command(
        "retire",
        help=f"Hide a {kind} that is no longer used; the log keeps it.{example}retire NAME",
    )
    def retire(name: str = named, db: Db = None, json: Json = False) -> None:
        from .session import open_session

        with open_session(db, create=False) as session:
            put(session, kind, [session.shelf(kind).retire(name)], json, single=True)

    @app.command("remove", help=f"Delete a {kind} that no set-up refers to.{example}remove NAME")
    def remove(name: str = named, db: Db = None, json: Json = False) -> None:
        from .session import open_session

        with open_session(db, create=False) as session:
            put(session, kind, [session.shelf(kind).remove(name)], json, single=True)


_more(bit_app, "bit", complete_bit)
_more(stock_app, "stock", complete_stock)
_more(machine_app, "machine", complete_machine)
