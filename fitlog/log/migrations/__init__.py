"""How an older log is brought to today's layout: a script for each layout in `versions`, run by
Alembic.

The number of a layout stays where every version of fitlog looks for it, in the header of the file;
so Alembic gets the scripts, in their order, and the operations, but keeps no table of its own.
Alembic is imported only when a script runs.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Connection

from ...texts import tell
from .. import layout

FOLDER = Path(__file__).parent


def run(connection: Connection, found: int) -> None:
    """Run the scripts of every layout after `found`, in the transaction that the connection is in.

    Raises ValueError, before any of them, when one is missing.
    """
    from alembic.operations import Operations
    from alembic.runtime.migration import MigrationContext
    from alembic.script import ScriptDirectory

    scripts = [s for s in ScriptDirectory(str(FOLDER)).walk_revisions() if int(s.revision) > found]
    if sorted(int(s.revision) for s in scripts) != list(range(found + 1, layout.VERSION + 1)):
        why = "a script on the way from layout {found} to {newest} is missing"
        raise ValueError(tell(why, found=found, newest=layout.VERSION))
    with Operations.context(MigrationContext.configure(connection)):
        for script in reversed(scripts):
            script.module.upgrade()
