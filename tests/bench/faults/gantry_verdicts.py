"""The rules that must find each kind of fault of gantries, of shared torque and of coupled axes."""

GANTRIES = """
gantry-follower-left-out: gantry-partners-name-each-other
gantry-follower-renamed: gantry-leader-lists-its-followers
gantry-follower-said-to-be-alone: gantry-leader-lists-its-followers
gantry-follower-of-a-follower: gantry-has-one-leader gantry-leader-lists-its-followers
gantry-follower-made-leader: gantry-has-one-leader
gantry-leader-made-follower: gantry-has-one-leader
gantry-fault-ramp-of-one-side: gantry-partners-run-on-alike-after-fault
gantry-fault-cuts-torque-of-one-side: gantry-partners-run-on-alike-after-fault
gantry-loop-of-its-own-in-one-member: gantry-members-share-torque-alike
torque-follower-homes: torque-follower-has-no-loop-of-its-own
torque-follower-with-limits: torque-follower-has-no-loop-of-its-own
leader-said-to-follow-nothing: position-of-no-matter-bounds-nothing
gantry-mass-divided: gantry-members-move-the-whole-mass
gantry-mass-one-decimal-off: gantry-members-move-the-whole-mass
racking-tolerance-in-metres: racking-tolerance-fits-travel
coupled-partner-renamed: coupled-partner-is-an-axis
coupled-partner-said-to-be-alone: coupled-axes-name-each-other
coupled-sign-slip: coupled-axes-are-independent
coupled-ratios-copied: coupled-axes-are-independent
coupled-motor-for-one-motion: coupled-top-speed-within-motor
coupled-drive-for-one-motion: coupled-top-speed-within-motor
coupled-encoder-for-one-motion: coupled-top-speed-within-motor
coupled-partner-free: coupled-axes-inhibited-together
coupled-homed-at-once: coupled-axes-home-in-turn
coupled-one-taught-again: coupled-axes-taught-together
"""
