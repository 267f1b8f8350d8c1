"""Runs the bench: ``python -m tests.bench.faults``."""

import sys

from .run import main

sys.exit(main())
