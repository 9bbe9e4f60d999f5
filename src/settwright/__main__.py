"""`python -m settwright` is the same program as `settwright`."""

from settwright.cli import main

main()
