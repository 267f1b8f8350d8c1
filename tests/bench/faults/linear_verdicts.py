"""Rules that must find the faults of linear motors; the form is that of verdicts.py."""

LINEAR_MOTORS = """
linear-motor-too-weak: acceleration-force-available
force-limit-of-larger-motor: force-limit-within-motor-peak
force-limit-one-decimal-off: acceleration-force-available
heavier-load-on-a-linear-motor: acceleration-force-available
linear-acceleration-in-metres: acceleration-force-available
linear-stop-in-metres: stop-deceleration-attainable
linear-homing-acceleration-in-metres: homing-acceleration-attainable
friction-without-the-magnets: guide-friction-includes-attraction
attraction-of-newtons-in-kilonewtons: guide-friction-includes-attraction
linear-duty-above-peak: duty-force-within-limits
linear-duty-without-rest: duty-within-rated-force
linear-duty-without-load: duty-force-carries-the-weight
linear-load-of-tonnes-in-kg: friction-fits-load-mass duty-force-fits-the-load
linear-load-without-its-tool: duty-force-fits-the-load
smaller-drive-on-a-linear-motor: drive-current-gives-the-force
drive-too-small-for-the-linear-duty: drive-current-gives-the-force
force-constant-per-peak-ampere: force-constant-fits-rated-force
force-constant-of-another-winding: force-constant-fits-rated-force
linear-forces-swapped: linear-motor-data-in-order
linear-velocities-swapped: linear-motor-data-in-order
slower-linear-motor: velocity-within-linear-motor-and-drive
linear-velocity-per-minute: velocity-within-linear-motor-and-drive
drive-limits-linear-velocity: velocity-within-linear-motor-and-drive
drive-permits-more-than-linear-motor: drive-velocity-limit-within-motor
linear-motor-rated-for-less: velocity-within-rated-velocity
linear-homing-presses-hard: hard-stop-homing-force-is-low
linear-homing-too-gentle: hard-stop-homing-force-moves-axis
peak-force-one-decimal-off: peak-force-fits-rated-force
linear-brake-in-kilonewtons: brake-fits-motor-force
linear-brake-too-weak: brake-holds-linear-motor
moving-part-of-the-larger-motor: acceleration-force-available
linear-motor-with-a-torque: linear-motor-states-no-shaft
shaft-motor-with-a-force: motor-with-shaft-states-no-force
"""
