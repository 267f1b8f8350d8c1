"""The rules that must find each fault of brakes on the load and of clamps."""

LOAD_BRAKES = """
load-brake-taken-away: vertical-axis-has-brake
load-brake-too-weak: load-brake-holds-load
load-brake-of-the-motor-side: load-brake-holds-load
two-brakes-added-up: load-brake-holds-load
load-brake-holds-just-the-load: load-brake-holds-load
load-brake-after-heavier-tool: load-brake-holds-load
load-brake-in-kilonewtons: load-brake-fits-motor rail-brake-fits-motor
load-brake-on-a-shaft-that-is-not-there: load-brake-fits-axis
load-brake-on-the-rail-of-a-table: load-brake-fits-axis
load-brake-not-waited-for: load-brake-releases-before-motion
load-brake-signal-removed: load-brake-releases-before-motion
torque-off-before-load-brake-holds: load-brake-holds-before-torque-goes
slower-load-brake: load-brake-holds-before-torque-goes
delays-of-the-quicker-brake: load-brake-holds-before-torque-goes
load-brake-opened-by-nobody: load-brake-has-an-output
load-brake-of-another-voltage: load-brake-voltage-fits
shutdown-before-the-load-brake: torque-stays-until-brake-holds
torque-off-at-once-on-a-load-brake: load-brake-catches-load-in-time load-brake-slows-a-falling-load
fault-drops-a-load-on-its-brake: load-brake-catches-load-in-time load-brake-slows-a-falling-load
load-brake-that-only-holds: load-brake-slows-a-falling-load
power-cut-leaves-a-carriage-to-its-load-brake: load-brake-stops-before-hard-stop
fault-leaves-a-carriage-to-its-load-brake: load-brake-stops-after-a-fault
"""

CLAMPS = """
clamp-not-asked-before-motion: clamp-is-open-before-motion
clamp-not-asked-in-automatic: clamp-is-open-before-motion
clamp-not-asked-before-homing: clamp-is-open-before-homing-and-jog
clamp-not-asked-in-jog: clamp-is-open-before-homing-and-jog
clamp-closes-in-motion: clamp-closes-at-standstill
clamp-slower-than-its-timeout: clamp-opens-before-its-timeout
clamp-too-weak-for-the-process: clamp-holds-the-process
clamp-too-weak-for-its-load: clamp-holds-load
motor-pushes-through-its-clamp: motor-is-weaker-than-closed-clamp
limit-under-the-clamp-one-decimal-off: motor-is-weaker-than-closed-clamp
clamp-opens-before-the-drive-holds: clamp-opens-under-torque
clamp-opens-without-air: clamp-closes-without-power
torque-off-before-the-clamp-holds: clamp-holds-before-torque-goes
clamp-of-a-lift-taken-away: vertical-axis-has-brake
clamp-on-the-rail-of-a-table: clamp-fits-axis
clamp-on-a-shaft-that-is-not-there: clamp-fits-axis
"""
