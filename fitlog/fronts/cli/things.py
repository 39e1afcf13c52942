"""One thing of the catalogue, a bit, a stock or a machine: added, changed, shown."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from ...service.catalogue import AnyEdit, Kind, Thing, Values
    from .session import Session

OWN_STEP = ("height", "fence", "depth")  # the parts whose step has an option of its own
Texts = Mapping[str, str | None]


def add(
    kind: Kind, name: str, sizes: Texts, others: Values, yes: bool, db: str | None, json: bool
) -> None:
    """Add one with what was given; yes: its sizes are meant as typed."""
    from ...service.limits import CATALOGUE
    from .consent import settled_sizes
    from .session import open_session

    with open_session(db, create=True) as session:
        angle = others.get("angle")
        told = settled_sizes(
            session.ruler(),
            kind,
            session.reader.sizes(sizes, CATALOGUE),
            angle if isinstance(angle, float) else None,
            yes=yes,
            json=json,
        )
        show(session, kind, session.shelf(kind).add(name, {**others, **told}), json)


def edit(
    kind: Kind,
    name: str,
    sizes: Texts,
    others: Values,
    exactly: Values,
    restore: bool,
    db: str | None,
    json: bool,
    *,
    yes: bool,
    correction: bool = False,
) -> None:
    """Change what was given; `exactly`: what is given even where it is None. correction: the figure
    was wrong, and that was said beforehand.
    """
    from ...service.limits import CATALOGUE
    from .session import open_session

    with open_session(db, create=False) as session:
        given = {key: value for key, value in others.items() if value is not None}
        changes = {**session.reader.sizes(sizes, CATALOGUE), **given, **exactly}
        asked = session.shelf(kind).edit(name, changes, restore=restore)
        agree(session, kind, asked, json, yes=yes, correction=correction)


def agree(
    session: Session, kind: Kind, asked: AnyEdit, json: bool, *, yes: bool, correction: bool = False
) -> None:
    """Do an edit once what it does to earlier set-ups is agreed to, and show what came of it."""
    from .consent import agreed_edit

    item = agreed_edit(session, asked, yes=yes, correction=correction, json=json).done()
    show(session, kind, item, json)


def show(session: Session, kind: Kind, item: Thing, json: bool) -> None:
    """Show one thing, and say which scales are set between marks that the log does not know."""
    from ...service.catalogue import lacking
    from .session import say

    put(session, kind, [item], json, single=True)
    if parts := lacking(item):
        named = " and ".join(
            f"--{part}-step" if part in OWN_STEP else f'--part "{part}=step L"' for part in parts
        )
        say(
            "Between which marks is not known yet: say {named} to fitlog machine edit.", named=named
        )


def put_one(session: Session, kind: Kind, name: str, json: bool) -> None:
    """Show one thing of the catalogue, a bit with what it really measures."""
    if kind != "bit":
        put(session, kind, [session.shelf(kind).get(name)], json, single=True)
        return
    item = session.bits.get(name)
    law, wear = session.bench().bit_figures(item)
    if json:
        from ...render.documents import catalogue
        from .session import put_json

        put_json(
            {
                "bit": catalogue.bit(item),
                "cuts_like": catalogue.cuts_like(law),
                "wear": catalogue.wears(wear),
            }
        )
        return
    from ...render import lists

    lists.bits(session.screen, [item], session.ruler())
    lists.cuts_like(session.screen, item, law, session.ruler())
    lists.wears(session.screen, wear, session.ruler())


def put(
    session: Session, kind: Kind, items: Sequence[Thing], json: bool, *, single: bool = False
) -> None:
    """Show things of one kind, as a table or as one document."""
    if json:
        from ...render.documents.catalogue import thing
        from .session import put_json

        made = [thing(item) for item in items]
        put_json({kind: made[0]} if single else {kind + "s": made})
    elif not items:
        session.screen.line("No {kind} yet. Add one: fitlog {kind} add --help", kind=kind)
    else:
        from ...render.lists import things

        things(session.screen, items, session.ruler())
