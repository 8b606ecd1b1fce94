"""Lets `python -m lakemap` do what `lakemap` does."""

import sys

from lakemap.cli import main

if __name__ == "__main__":
    sys.exit(main())
