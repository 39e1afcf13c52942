"""`python -m fitlog`."""

from .cli import main

main()
