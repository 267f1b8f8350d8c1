"""The rules that must find each kind of fault of gantries of several members and shared torque."""

GANTRIES = """
gantry-follower-left-out: gantry-partners-name-each-other
gantry-follower-renamed: gantry-leader-lists-its-followers
gantry-follower-said-to-be-alone: gantry-leader-lists-its-followers
gantry-follower-of-a-follower: gantry-has-one-leader gantry-leader-lists-its-followers
gantry-follower-made-leader: gantry-has-one-leader
gantry-leader-made-follower: gantry-has-one-leader gantry-leader-lists-its-followers
gantry-fault-ramp-of-one-side: gantry-partners-run-on-alike-after-fault
gantry-fault-cuts-torque-of-one-side: gantry-partners-run-on-alike-after-fault
gantry-loop-of-its-own-in-one-member: gantry-members-share-torque-alike
torque-follower-homes: torque-follower-has-no-loop-of-its-own
torque-follower-with-limits: torque-follower-has-no-loop-of-its-own
leader-said-to-follow-nothing: position-of-no-matter-bounds-nothing
gantry-mass-divided: gantry-members-move-the-whole-mass
"""
