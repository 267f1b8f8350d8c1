"""The rules that must find each fault of axes with two encoders, noted after the first run."""

SECOND_ENCODER = """
second-scaling-of-next-scale: two-encoders-agree-over-travel
second-scaling-typed-short: two-encoders-agree-over-travel
second-scaling-a-little-short: two-encoders-agree-over-travel
second-scaling-off-on-a-table: two-encoders-agree-on-endless-axis
second-ratio-forgotten: TWO
second-ratio-upside-down: TWO
second-encoder-of-twice-the-counts: TWO
second-lines-for-counts: TWO
gearbox-changed-before-second: TWO
scaled-by-the-other-encoder: SCALING
loop-noted-on-the-other-encoder: SCALING
second-direction-not-told: drive-knows-second-count-direction
second-encoder-turned-round: drive-knows-second-count-direction
difference-not-monitored: load-encoder-is-monitored hanging-load-encoder-is-monitored
difference-not-monitored-on-a-lift: hanging-load-encoder-is-monitored
difference-ignored: encoder-difference-has-a-reaction
difference-only-told: encoder-difference-has-a-reaction
window-below-backlash: encoder-window-above-play
window-below-deflection: encoder-window-above-play
gear-worn-past-the-window: encoder-window-above-play
window-wider-than-a-tooth: TEETH
window-wider-than-a-turn: encoder-window-below-a-revolution
window-one-decimal-off: encoder-window-below-a-revolution
velocity-loop-on-the-load: velocity-loop-is-closed-at-the-motor
both-encoders-on-one-side: two-encoders-on-two-sides
homed-with-the-other-encoder: homing-sets-the-encoder-that-counts
reference-taught-with-the-other: reference-taught-with-fitted-encoder
commutation-of-the-load-encoder: commutation-taught-with-fitted-pair PAIR
both-encoders-with-one-serial: two-encoders-with-own-serials
second-encoder-too-fast: second-encoder-within-its-speed
second-encoder-counts-too-fast: second-encoder-within-its-count-rate
second-range-shorter-than-travel: second-encoder-range-covers-travel
second-step-one-decimal-off: two-encoders-agree-over-travel
second-encoder-denied: second-encoder-is-where-the-drive-has-one
difference-found-late: encoder-difference-found-before-damage
"""
