"""The way in, for `fitlog` and `python -m fitlog`: an interrupt is no error, however early it
comes.
"""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line; exit 130 when interrupted while the program is still loading."""
    try:
        from .fronts.cli import main as run

        run()
    except KeyboardInterrupt:
        sys.stderr.write("\nfitlog: interrupted\n")
        sys.exit(130)


if __name__ == "__main__":
    main()
