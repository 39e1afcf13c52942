"""The sheet that lives in the drawer with the sample piece, and the sample's label: what goes where
in mm, and how it is drawn.

`paper` what marks are made of, `parts` and `written` the blocks that every family's sheet has,
`own` a family's (stops, story stick, hand rule, joint), `pages` which page each goes to, `label`
the label; all of them are plain arithmetic. `draw` alone needs matplotlib.
"""

from __future__ import annotations
