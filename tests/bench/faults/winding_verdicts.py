"""The rules that must find each fault of a reel or drum; the form is that of verdicts.py."""

WINDINGS = """
winding-diameters-swapped: winding-diameters-in-order
winding-radius-as-diameter: winding-layers-make-its-diameter
winding-thickness-of-both-sides: winding-layers-make-its-diameter
winding-of-thinner-material: winding-layers-make-its-diameter
winding-longer-than-it-holds: winding-holds-its-length
reel-speed-of-the-full-reel: empty-reel-keeps-up-with-line
reel-speed-of-the-mean-diameter: empty-reel-keeps-up-with-line
reel-tension-of-the-empty-reel: full-reel-torque-within-motor
reel-tension-of-the-mean-diameter: full-reel-torque-within-motor
reel-inertia-of-the-empty-reel: inertia-includes-full-reel
reel-changed-and-not-measured: reel-diameter-found-again
drum-of-one-feed: changing-feed-is-followed
drum-stated-as-a-roller: winding-is-the-final-element
drum-speed-of-the-top-layer: top-speed-within-motor-and-drive
drum-brake-for-the-lowest-layer: brake-holds-load
drum-motor-for-the-lowest-layer: full-reel-torque-within-motor
drum-rope-shorter-than-its-travel: rope-as-long-as-travel
drum-turns-beyond-the-counter: turn-counter-covers-drum
"""
