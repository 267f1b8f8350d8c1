"""The rules that must find each fault of torque over speed and of moves; form of verdicts.py.

Written before the rules.
"""

TORQUE_CURVES = """
curve-of-a-smaller-motor: torque-curve-agrees-with-motor
curve-of-a-larger-motor: torque-curve-agrees-with-motor
curve-columns-swapped: torque-curve-in-order
curve-speed-a-digit-short: torque-curve-in-order
curve-read-upwards: torque-curve-in-order
curve-without-its-end: torque-curve-reaches-top-speed
curve-of-a-higher-voltage: torque-curve-holds-for-supply
winding-of-a-slower-motor: top-speed-within-bus-voltage
bus-of-a-weaker-supply: top-speed-within-bus-voltage
torque-gone-before-top-speed: acceleration-torque-at-top-speed
stop-needs-torque-that-speed-takes: stop-torque-at-top-speed
weak-field-with-torque-of-rest: acceleration-torque-at-top-speed
weak-field-without-its-loss: weak-field-makes-no-more-power
"""

MOTION_CYCLES = """
move-left-out: moves-fill-their-cycle
dwell-a-digit-too-long: moves-fill-their-cycle
cycle-time-of-the-line: moves-fill-their-cycle
cycle-quicker-than-its-moves: moves-fit-into-their-time
move-way-in-inches: moves-fit-into-their-time
move-faster-than-the-axis: moves-within-limits
move-harder-than-the-axis: moves-within-limits
move-without-its-sign: moves-end-where-they-began
move-with-a-heavier-product: moves-have-torque
press-force-forgotten: moves-have-torque moves-within-continuous-torque
no-rest-for-the-motor: moves-within-continuous-torque
"""
