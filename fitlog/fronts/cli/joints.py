"""`fitlog joints`: the joints that can be tuned, in a maker's words."""

from __future__ import annotations

from .options import Json


def joints(json: Json = False) -> None:
    """List the joints fitlog can tune: what each is for, what is set, what you will be asked.

    \b
    Examples:
      fitlog joints
      fitlog joints --json
    """
    from ...render.joints import document, listing
    from ...render.screen import Screen
    from .session import put_json

    if json:
        put_json(document())
    else:
        listing(Screen())
