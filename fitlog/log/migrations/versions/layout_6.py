"""Layout 6: what is written down about a set-up; joints of the real boards that were looked at.

Written out, not taken from `schema`, which goes on changing. No digest changes: they leave out what
a row does not say.
"""

from __future__ import annotations

from pathlib import Path

from alembic import op
from sqlalchemy import BigInteger, CheckConstraint, Column, Integer

from fitlog.log.migrations.told import add, make, reword

revision = "6"
down_revision = "5"

KINDS = "'start', 'cut', 'choose', 'finish', 'abandon', 'retract', 'found', 'finish-as-is', 'redo'"
AFTER = "real joints cut when this one of them was looked at; NULL: a test piece"
HERE = Path(__file__)


def upgrade() -> None:
    """From layout 5."""
    whole = Integer().with_variant(BigInteger(), "postgresql")
    add("trial_cut", Column("after", whole, CheckConstraint("after >= 1"), comment=AFTER))
    if op.get_bind().dialect.name != "sqlite":
        make(HERE.with_name("layout_6_server.sql").read_text())
        return
    reword("entry", (f"({KINDS})", f"({KINDS}, 'note')"))
    make(HERE.with_name("layout_6.sql").read_text())
