"""Options that many commands share, and the completion of names."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, TypeVar

import typer
from typer.models import OptionInfo

T = TypeVar("T")

if TYPE_CHECKING:
    from ...service.catalogue import Kind


def names(kind: Kind) -> list[str]:
    """Return the live names of a kind ("bit", "stock", "machine") for shell completion; none on any
    trouble.
    """
    from .session import open_session

    try:
        with open_session(None, create=False) as session:
            # A name with a control character was put in past the front door; a shell would print it
            # raw.
            return [item.name for item in session.shelf(kind).all(False) if item.name.isprintable()]
    except Exception:  # completion must never disturb a shell
        return []


def complete_bit(incomplete: str) -> list[str]:
    """Complete the name of a bit."""
    return _starting(names("bit"), incomplete)


def complete_stock(incomplete: str) -> list[str]:
    """Complete the name of a stock."""
    return _starting(names("stock"), incomplete)


def complete_machine(incomplete: str) -> list[str]:
    """Complete the name of a machine."""
    return _starting(names("machine"), incomplete)


def complete_words(incomplete: str) -> list[str]:
    """Complete a word of a verdict."""
    from ...families.names import first_joint
    from ...families.typed import speech_of

    return _starting(list(speech_of(first_joint()).vocabulary), incomplete)


def complete_symptom(incomplete: str) -> list[str]:
    """Complete a word of a symptom."""
    from ...families.faults import faults_of
    from ...families.names import first_joint

    return _starting(list(faults_of(first_joint()).VOCABULARY), incomplete)


def complete_outcome(incomplete: str) -> list[str]:
    """Complete a word of what became of a set-up."""
    from ...language.outcomes import WORDS

    return _starting(list(WORDS), incomplete)


def _starting(found: list[str], incomplete: str) -> list[str]:
    return [name for name in found if name.lower().startswith(incomplete.lower())]


def length(text: str, name: str = "") -> OptionInfo:
    """Return an option that takes a length; name: where the parameter cannot be called so."""
    names = [name] if name else []
    option: OptionInfo = typer.Option(*names, metavar="L", help=text)
    return option


def pair(name: str, numbers: str, text: str) -> OptionInfo:
    """Return an option that takes two numbers."""
    option: OptionInfo = typer.Option(name, metavar=numbers, help=text)
    return option


Pair = tuple[str, str] | None
Db = Annotated[
    str | None, typer.Option("--db", metavar="PATH|URL", help="The log to use.", envvar="FITLOG_DB")
]
Json = Annotated[
    bool, typer.Option("--json", help="Print one JSON document instead of text; lengths are mm.")
]
Yes = Annotated[bool, typer.Option("--yes", help="It is meant as typed: take it without asking.")]
Why = Annotated[
    bool, typer.Option("--why", help="With every reason, chance and note; as fitlog why later.")
]
Key = Annotated[
    str | None,
    typer.Option(
        "--key", metavar="WORD", help="Your own word for this deed: sent again, it is done once."
    ),
]
Title = Annotated[
    str | None, typer.Option(metavar="TEXT", help='What to call the set-up; "" for no title.')
]
NoteText = Annotated[
    str | None, typer.Option("--note", metavar="TEXT", help="Something to write down about it.")
]
Kept = Annotated[
    str | None, typer.Option(metavar="TEXT", help='Where its sample is kept; "" for nowhere.')
]
SetupNumber = Annotated[
    int | None, typer.Option("--setup", metavar="N", help="Another set-up than the current one.")
]
Name = Annotated[str, typer.Argument(metavar="NAME", help="Its name.")]
NewName = Annotated[str | None, typer.Option("--name", metavar="TEXT", help="A new name.")]
Restore = Annotated[bool, typer.Option("--restore", help="Bring a retired one back.")]
BitName = Annotated[
    str | None,
    typer.Option("--bit", metavar="NAME", help="Which bit.", autocompletion=complete_bit),
]
PinStock = Annotated[
    str | None,
    typer.Option(
        metavar="NAME", help="The pin board's stock, if another.", autocompletion=complete_stock
    ),
]
MachineName = Annotated[
    str | None,
    typer.Option(metavar="NAME", help="Which router table.", autocompletion=complete_machine),
]
Pieces = Annotated[
    int | None,
    typer.Option(metavar="N", help="List the scraps to prepare for so many test pieces."),
]
Only = Annotated[
    str | None, typer.Option(metavar="ASPECTS", help="Tune only some of fit,centre,seat.")
]
Tails = Annotated[
    int | None,
    typer.Option(metavar="N", help="How many tails the board has: from 8 on it is aimed looser."),
]
WordsOnly = Annotated[bool, typer.Option("--words-only", help="No feeler at hand.")]
StockName = Annotated[
    str | None,
    typer.Option("--stock", metavar="NAME", help="Which stock.", autocompletion=complete_stock),
]
Force = Annotated[
    bool, typer.Option("--force", help="Write over a file that is there already; never over a log.")
]


def by_part(**given: T) -> dict[str, T]:
    """Return what was given by the parts of the machine, by the names of the settings there, of the
    family whose parts the options are.
    """
    from ...families.names import FAMILIES

    family = next(f for f in FAMILIES.values() if {s.part for s in f.settings} == given.keys())
    return {setting.name: given[setting.part] for setting in family.settings}
