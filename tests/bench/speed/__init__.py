"""The speed bench measures how long axisproof takes, as ratios that hold on any machine.

python -m tests.bench.speed [--markdown] [--only MEASURE]
python -m tests.bench.speed.versions EARLIER
"""
