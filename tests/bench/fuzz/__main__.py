"""Runs a fuzzer: ``python -m tests.bench.fuzz NAME``."""

import sys

from .run import main

sys.exit(main())
