"""The command: ``python -m bench.mutants --help``."""

import sys

from .run import main

sys.exit(main(sys.argv[1:]))
