"""The rules that must find each kind of fault in planted_reactions.py."""

REACTIONS = """
torque-off-at-a-fault: suspended-load-caught-in-time brake-slows-a-falling-load
fault-leaves-a-carriage-to-friction: fault-stops-before-hard-stop
fault-on-the-soft-ramp: fault-stops-before-hard-stop
shutdown-before-the-brake: torque-stays-until-brake-holds
disable-before-the-brake: torque-stays-until-brake-holds
halt-before-the-brake: torque-stays-until-brake-holds
velocity-factor-upside-down: velocity-factor-agrees-with-gearing
velocity-factor-per-minute: velocity-factor-agrees-with-gearing
velocity-factor-of-old-gearbox: velocity-factor-agrees-with-gearing
velocity-encoder-factor-of-old-encoder: velocity-encoder-factor-agrees-with-gearing
velocity-encoder-factor-with-lines: velocity-encoder-factor-agrees-with-gearing
motor-data-factor-upside-down: motor-data-factor-agrees-with-gearing
motor-data-factor-of-old-gearbox: motor-data-factor-agrees-with-gearing
acceleration-factor-per-minute: acceleration-factor-agrees-with-gearing
torque-limit-of-the-stronger-way: torque-limit-is-that-of-the-weaker-way
torque-limits-of-directions-swapped: acceleration-torque-available
positive-torque-limit-of-larger-motor: torque-limit-of-positive-direction-within-motor-peak
negative-torque-limit-of-larger-motor: torque-limit-of-negative-direction-within-motor-peak
"""
