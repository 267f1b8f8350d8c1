"""Runs the bench: ``python -m tests.bench.speed``."""

import sys

from .run import main

sys.exit(main())
