"""The rules that must find each number that cannot be what it is taken for."""

PLAUSIBLE = """
rotor-of-kg-cm2-in-kg-m2: inertia-fits-motor-torque
rotor-of-kg-m2-in-kg-cm2: inertia-fits-motor-torque
peak-torque-in-millinewtons: inertia-fits-motor-torque peak-torque-fits-rated-torque
peak-torque-one-decimal-off: peak-torque-fits-rated-torque
highest-speed-one-decimal-off: highest-speed-fits-rated-speed
load-of-tonnes-in-kg: friction-fits-load-mass
load-of-tonnes-of-which-no-duty-tells: load-mass-fits-motor
hanging-load-of-kg-in-g: load-mass-fits-motor
load-of-grams-in-kg: load-mass-fits-motor
friction-of-millinewtons-in-newtons: friction-fits-load-mass
table-of-kg-m2-in-kg-cm2: load-inertia-fits-rotor
velocity-of-metres-in-millimetres: top-speed-fits-motor
ratio-two-decimals-off: top-speed-fits-motor
pulley-of-ten-times-the-teeth: stage-ratio-fits-its-kind
worm-of-a-hundred-times-the-ratio: stage-ratio-fits-its-kind
screw-root-one-decimal-off: screw-diameters-fit-each-other
brake-of-newton-centimetres: brake-fits-motor-torque
"""
