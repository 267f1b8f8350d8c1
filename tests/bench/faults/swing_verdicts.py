"""The rules that must find each fault of a weight that pulls by position; form of verdicts.py."""

SWINGS = """
arm-torque-taken-as-the-mean: unbalanced-torque-fits-weight
arm-torque-measured-at-a-stop: unbalanced-torque-fits-weight
arm-radius-to-its-tool: unbalanced-torque-fits-weight inertia-includes-unbalance
arm-weight-of-pounds-in-kg: unbalanced-torque-fits-weight
arm-with-a-brake-for-the-mean: brake-holds-load
arm-with-a-brake-for-one-end: brake-holds-load
arm-noted-as-balanced: axis-that-gravity-turns-is-noted
arm-said-to-fall-one-way: falls-where-weight-pulls
arm-said-to-fall-the-other-way: falls-where-weight-pulls
arm-mounted-half-a-turn-off: falls-where-weight-pulls
arm-inertia-of-its-drive-alone: inertia-includes-unbalance
arm-limited-the-way-it-also-falls: acceleration-torque-available
tilted-by-an-axis-that-is-gone: tilting-axis-is-there
tilted-by-itself: tilting-axis-is-there
tilted-by-a-slide: tilting-axis-is-there
inclination-of-the-parked-frame: inclination-fits-tilt
tilted-lift-noted-as-level: axis-that-gravity-moves-is-noted
tilted-lift-with-a-brake-for-half: brake-holds-load
tilted-lift-said-to-fall-one-way: falls-where-weight-pulls
"""
