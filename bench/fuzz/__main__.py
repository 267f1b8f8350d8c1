"""``python -m bench.fuzz``."""

import sys

from .run import main

sys.exit(main())
