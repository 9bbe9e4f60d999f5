"""The program: without an argument it opens the page, at once; else it is the command line, which loads longer."""

from __future__ import annotations

import sys


def main() -> None:
    """Opens the page, or runs the command line."""
    if sys.argv[1:]:
        from settwright.commands import app  # noqa: PLC0415

        app()
    else:
        from settwright.web.serve import open_or_say  # noqa: PLC0415

        sys.exit(open_or_say())
