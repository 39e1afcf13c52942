"""The mathematics: what trial cuts say of an offset, and where to cut next. Knows no joint, no log,
no screen.
"""

import os

# The matrices here are small: threads cost more than they save, up to tenfold on a busy machine.
# Takes effect only where numpy is not loaded yet, which is always so for the command line.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
