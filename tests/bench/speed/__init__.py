"""How long axisproof takes, as ratios that hold on any machine: ``python -m tests.bench.speed``."""
