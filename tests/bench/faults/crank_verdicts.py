"""The rules that must find each fault of a crank; the form is that of verdicts.py."""

CRANKS = """
crank-rod-and-radius-swapped: crank-rod-longer-than-radius
crank-stroke-of-its-radius: crank-stroke-fits-its-radius
crank-diameter-as-radius: crank-stroke-fits-its-radius
crank-speed-of-the-mean: crank-slide-within-its-speed
crank-speed-without-its-rod: crank-slide-within-its-speed
crank-force-near-its-dead-point: crank-torque-where-it-is-steepest
crank-force-of-the-mean: crank-torque-where-it-is-steepest
crank-through-its-dead-point: crank-clear-of-dead-points
crank-referenced-at-its-dead-point: crank-reference-clear-of-dead-point
crank-of-one-feed: changing-feed-is-followed
crank-stated-as-a-screw: crank-is-the-final-element
crank-shorter-than-its-travel: crank-reaches-its-travel
"""
