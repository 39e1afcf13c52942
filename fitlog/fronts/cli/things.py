"""One thing of the catalogue, a bit, a stock or a machine: added, changed, shown."""

from __future__ import annotations

from typing import Any

from .sizes import sizes_of


def add(
    kind: str,
    name: str,
    sizes: dict[str, str | None],
    others: dict[str, Any],
    yes: bool,
    db: str | None,
    as_json: bool,
) -> None:
    """Add one with what was given; yes: its sizes are meant as typed."""
    from ... import domain
    from .consent import settled_sizes
    from .session import open_session

    with open_session(db, create=True) as session:
        make = {"bit": domain.Bit, "stock": domain.Stock, "machine": domain.Machine}[kind]
        told = settled_sizes(
            session.ruler(),
            kind,
            sizes_of(session, sizes),
            others.get("angle"),
            yes=yes,
            json=as_json,
        )
        item: Any = make(domain.clean_name(kind, name), **{**others, **told})
        getattr(session.log, f"add_{kind}")(item)
        put(session, kind, [item], as_json, single=True)
        _say_what_lacks(item)


def edit(
    kind: str,
    name: str,
    sizes: dict[str, str | None],
    others: dict[str, Any],
    restore: bool,
    db: str | None,
    as_json: bool,
    *,
    yes: bool,
    correction: bool = False,
    exactly: dict[str, Any] | None = None,
) -> None:
    """Change what was given; `exactly`: what is given even where it is None."""
    from ...domain import clean_name
    from ...errors import NotUnderstood
    from .consent import agreed_edit
    from .session import open_session

    with open_session(db, create=False) as session:
        changes = {
            **sizes_of(session, sizes),
            **{k: v for k, v in others.items() if v is not None},
            **(exactly or {}),
        }
        if "name" in changes:
            changes["name"] = clean_name(kind, changes["name"])
        if restore:
            changes["retired"] = False
        if not changes:
            message = f"nothing to change was named for {kind} {name!r}"
            raise NotUnderstood("nothing-to-change", message, f"see fitlog {kind} edit --help")
        old = getattr(session.log, kind)(name)
        changes = agreed_edit(
            session, kind, old, changes, yes=yes, correction=correction, json=as_json
        )
        found = getattr(session.log, f"edit_{kind}")(name, **changes)
        put(session, kind, [found], as_json, single=True)
        _say_what_lacks(found)


def _say_what_lacks(item: Any) -> None:
    """Say which scales are set between marks that the log does not know."""
    lacking = [
        part for part in getattr(item, "between", ()) if getattr(item, f"{part}_step") is None
    ]
    if lacking:
        from .session import say

        named = " and ".join(f"--{part}-step" for part in lacking)
        say(f"Between which marks is not known yet: say {named} to fitlog machine edit.")


def put_one(session: Any, kind: str, item: Any, as_json: bool) -> None:
    """Show one thing of the catalogue, a bit with what it really measures."""
    if kind != "bit":
        put(session, kind, [item], as_json, single=True)
        return
    law = session.bench().bit_figures(item)
    if as_json:
        from ... import document
        from .session import put_json

        put_json({"bit": document.bit_document(item), "cuts_like": document.cuts_like(law)})
        return
    from ...render import lists

    lists.bits(session.screen, [item], session.ruler())
    lists.cuts_like(session.screen, item, law, session.ruler())


def put(session: Any, kind: str, items: list[Any], as_json: bool, *, single: bool = False) -> None:
    """Show things of one kind, as a table or as one document."""
    if as_json:
        from ... import document
        from .session import put_json

        made = [getattr(document, f"{kind}_document")(item) for item in items]
        put_json({kind: made[0]} if single else {kind + "s": made})
    elif not items:
        session.screen.line(f"No {kind} yet. Add one: fitlog {kind} add --help")
    else:
        from ...render import lists

        getattr(lists, kind + "s")(session.screen, items, session.ruler())
