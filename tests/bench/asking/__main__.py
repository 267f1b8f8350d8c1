"""Runs the bench of questions."""

import sys

from .run import main

sys.exit(main())
