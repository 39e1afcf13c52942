"""The sheet that lives in the drawer with the sample piece: what goes where in mm, and how it is
drawn.

`paper` what marks are made of, `parts`, `joint`, `stick`, `stops_table` the blocks of a sheet,
`pages` which page each goes to; all of them are plain arithmetic. `draw` alone needs matplotlib.
"""

from __future__ import annotations
