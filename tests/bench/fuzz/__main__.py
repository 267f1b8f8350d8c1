"""``python -m tests.bench.fuzz``."""

import sys

from .run import main

sys.exit(main())
