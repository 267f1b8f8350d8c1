"""The rules that must find each kind of fault, noted after the first runs of the bench.

A fault counts as found if any of its rules finds it; other findings have a count of their own.
UNSEEN gives the reason why the facts cannot show a fault. OPEN are shortfalls: faults that a rule
can find and no rule does.
"""

from __future__ import annotations

from typing import Final

from .brake_verdicts import CLAMPS, LOAD_BRAKES
from .crank_verdicts import CRANKS
from .curve_verdicts import MOTION_CYCLES, TORQUE_CURVES
from .gantry_verdicts import GANTRIES
from .index_mark_verdicts import INDEX_MARKS
from .linear_verdicts import LINEAR_MOTORS
from .plausible_verdicts import PLAUSIBLE
from .reaction_verdicts import REACTIONS
from .second_encoder_verdicts import SECOND_ENCODER
from .swing_verdicts import SWINGS
from .telescope_verdicts import TELESCOPES
from .winding_verdicts import WINDINGS

_GEARING = """
drive-ratio-swapped: drive-gear-ratio-not-upside-down
stage-ratio-inverted: papers-state-ratio-of-stages
stage-teeth-swapped: stage-ratio-is-that-of-its-teeth papers-state-ratio-of-stages
stage-tooth-miscounted: stage-ratio-is-that-of-its-teeth papers-state-ratio-of-stages
stage-forgotten-in-drive: drive-position-factors-agree
stage-forgotten-in-drawing: papers-state-ratio-of-stages
gearbox-of-next-size: papers-state-ratio-of-stages
plate-of-another-gearbox: papers-state-ratio-of-stages
stage-ratio-typed-short: ratio-as-exact-as-on-record ratio-typed-short
load-encoder-ratio-typed-short: ratio-typed-short
load-encoder-ratio-inverted: SCALING
load-encoder-noted-on-motor: SCALING
motor-encoder-noted-on-load: SCALING two-encoders-on-two-sides
electronic-gear-swapped: drive-gear-not-upside-down
electronic-gear-on-wrong-side: drive-gear-not-upside-down
electronic-gear-rounded: drive-gear-exact
electronic-gear-of-old-encoder: drive-gear-exact quadrature-factor-used-once
electronic-gear-beyond-drive: drive-gear-within-limits
gear-limits-of-the-other-way-round: drive-gear-limits-in-order
linear-motor-behind-old-gearbox: final-element-fits-axis
table-noted-on-linear-axis: final-element-fits-axis
cycle-in-rad-cut-short: endless-axis-with-pi-retains-wraps cycle-is-whole-counts
command-increment-one-decimal-off: drive-gear-exact
pitch-for-lead-in-drive: drive-position-factors-agree
pitch-for-lead-in-drawing: lead-is-starts-times-pitch
screw-starts-forgotten: lead-is-starts-times-pitch
feed-in-inches: drive-position-factors-agree
degrees-for-revs-in-feed: drive-position-factors-agree
feed-of-motor-for-shaft: drive-position-factors-agree
pulley-tooth-miscounted: drive-position-factors-agree
inch-pitch-for-metric: drive-position-factors-agree
helix-forgotten: drive-position-factors-agree
roller-replaced-by-thicker: drive-position-factors-agree
quadrature-twice-in-drive: quadrature-factor-used-once
lines-for-counts-in-drive: quadrature-factor-used-once
quadrature-twice-in-controller: controller-scaling-without-slip SCALING
lines-for-counts-in-controller: controller-scaling-without-slip SCALING
evaluation-changed: encoder-counts-match
counts-of-old-encoder-in-drive: encoder-counts-match quadrature-factor-used-once
scaling-of-old-encoder: controller-scaling-without-slip controller-scaling-exact
scaling-typed-short: controller-scaling-exact
scaling-pair-swapped: controller-scaling-exact controller-scaling-without-slip
scaling-inverted: controller-scaling-exact controller-scaling-without-slip
gear-forgotten-in-scaling: controller-scaling-without-slip controller-scaling-exact
gear-applied-twice: controller-scaling-without-slip controller-scaling-exact
scaling-per-inch: controller-scaling-without-slip controller-scaling-exact
scaling-per-rev-for-degree: controller-scaling-without-slip controller-scaling-exact
length-unit-on-rotary-axis: controller-unit-fits-motion
angle-unit-on-linear-axis: controller-unit-fits-motion
measuring-step-one-decimal-off: controller-scaling-exact controller-scaling-without-slip
position-range-of-one-motor-turn: position-range-spans-cycle
degrees-for-revs-in-cycle: cycle-not-turns-for-degrees
resolution-too-coarse: resolution-within-accuracy
backlash-worn: backlash-within-accuracy
"""

_KINDS = """
pitch-circle-for-chain-feed: drive-position-factors-agree
sprocket-noted-as-roller: drive-position-factors-agree SCALING
sprocket-of-next-size: drive-position-factors-agree
chain-of-next-pitch: drive-position-factors-agree
chain-pitch-cut-short: drive-position-factors-agree
chain-scaled-by-its-pitch-circle: SCALING
helix-angle-forgotten-in-drive: drive-position-factors-agree
helix-cosine-multiplied: drive-position-factors-agree
helix-angle-of-another-rack: drive-position-factors-agree
helix-noted-as-usual: drive-position-factors-agree
helix-scaled-as-straight: SCALING
helix-stated-twice-unlike: helix-stated-alike
pitch-of-the-old-rack: rack-pitch-is-that-of-its-module
nut-of-half-the-speed: nut-within-permitted-speed
turning-nut-speed-one-decimal-off: nut-within-permitted-speed
nut-drive-turned-into-screw-drive: screw-below-critical-speed
screw-under-its-nut-permits-less: screw-within-permitted-speed screw-within-speed-index
helix-typed-short-beside-its-word: helix-stated-alike
usual-helix-stated-by-a-short-angle: helix-angle-typed-in-full
wheel-of-next-size: rim-within-permitted-speed
wheel-that-permits-less: rim-within-permitted-speed
rim-speed-per-minute: rim-within-permitted-speed
wheel-runs-faster: rim-within-permitted-speed
"""

_TURNS = """
highest-turn-for-states-in-drive: turn-counts-match
highest-turn-for-states-in-encoder: turn-counts-match
states-one-too-many-in-drive: turn-counts-match
turns-of-old-encoder-in-drive: turn-counts-match
turns-beyond-encoder: turn-count-within-capability
turns-left-at-default-on-table: rollover-divides-cycle
highest-turn-in-both-on-table: rollover-divides-cycle
range-shorter-than-travel: turn-range-covers-travel
wrap-inside-travel: wrap-outside-travel
unfolds-from-reference-amid-travel: wrap-outside-travel
unsigned-taken-for-signed: wrap-outside-travel
total-range-one-short: total-range-is-whole-turns
drive-register-too-narrow: position-register-holds-range
controller-register-too-narrow: controller-register-holds-range controller-register-holds-travel
encoder-used-as-incremental: absolute-encoder-used-as-absolute
incremental-used-as-absolute: incremental-encoder-used-as-incremental
singleturn-spare: forgetful-axis-is-homed power-off-motion-under-half-range
battery-in-two-places: battery-in-one-place
battery-missing: battery-keeps-turns
battery-place-empty: battery-keeps-turns
battery-where-no-holder-is: battery-where-a-place-is-offered
battery-with-batteryless-encoder: batteryless-counter-without-battery
battery-too-old: battery-within-its-life
battery-date-mistyped: records-are-not-of-tomorrow
battery-warning-ignored: low-battery-is-noticed
counting-limit-too-slow: power-off-speed-within-counting-limit
pushed-beyond-half-range: power-off-motion-under-half-range
reading-of-longer-counter: reading-within-turn-count
angle-with-whole-turns: angle-within-turn
scale-shorter-than-travel: linear-encoder-covers-travel
wraps-not-retained: rollover-divides-cycle endless-axis-with-pi-retains-wraps
remainder-dropped: cycle-is-whole-counts
turns-kept-in-no-battery-drive: battery-keeps-turns
"""

_HOMING = """
index-missing: home-method-needs-index
method-not-supported: homing-method-supported
method-reserved: homing-method-not-reserved
method-withdrawn: homing-method-not-withdrawn
method-none: homing-method-supported forgetful-axis-is-homed
homing-limit-switch-unwired: limit-switch-inputs-in-use
homing-limit-switch-inhibited: limit-switch-inputs-in-use
home-switch-unwired: home-switch-input-in-use
home-switch-inhibited: home-switch-input-in-use
home-switch-absent: homing-method-has-its-switches
home-cam-too-short: home-switch-covers-travel-end
home-direction-flipped: homing-direction-fits-method
method-of-other-end: homing-direction-fits-method
reference-sign-flipped: reference-at-its-own-end
endless-reference-sign-flipped: endless-reference-where-switch-stands
endless-switch-moved: endless-reference-where-switch-stands
reference-of-old-switch-place: reference-where-switch-stands
reference-beyond-travel: reference-within-travel reference-at-its-own-end
reference-one-decimal-off: REFERENCE reference-where-mark-lies
pin-outside-software-limits: reference-within-travel
reference-beyond-cycle: reference-within-cycle
search-per-minute: search-stops-before-hard-stop homing-search-within-top-speed
creep-and-search-swapped: creep-slower-than-search
creep-too-fast: homing-repeats-well-enough
homing-ramp-too-soft: search-stops-before-hard-stop
index-at-switch-edge: index-clear-of-switch-edge
index-of-next-revolution-edge: index-clear-of-switch-edge
home-cam-too-narrow: home-switch-long-enough-for-search
hard-stop-homing-at-full-torque: hard-stop-homing-presses-gently
hard-stop-homing-watched: hard-stop-homing-minds-following-error
home-each-other-first: homing-order-without-circle
homes-after-itself: homing-order-without-circle
homes-after-a-stranger: homing-order-names-axes
homing-order-of-collision-forgotten: homing-order-parts-collision-pairs
never-taught: reference-has-been-taught
taught-with-old-motor: reference-taught-with-fitted-encoder
taught-with-old-encoder: reference-taught-with-fitted-encoder
taught-with-old-drive: reference-taught-with-fitted-drive
index-homing-with-new-motor: reference-taught-with-fitted-encoder
calibration-record-stale: reference-calibrated-with-fitted-encoder
taught-tomorrow: records-are-not-of-tomorrow
not-homed-at-all: forgetful-axis-is-homed
homed-flag-kept-without-memory: forgetful-axis-is-homed
limits-trusted-before-homing: software-limits-await-homing
limit-cam-ends-early: limit-cam-reaches-hard-stop
"""

_LIMITS = """
soft-limit-outside-hard-stop: software-limits-leave-room-to-stop software-limits-within-travel
soft-limit-beyond-switch: software-limits-leave-room-to-stop
hard-stops-noted-as-none: linear-axis-has-hard-stops
soft-limits-swapped: software-limits-in-order
soft-limit-sign-flipped: software-limits-in-order
soft-limit-without-room-to-stop: software-limits-leave-room-to-stop
soft-limits-absent: known-position-has-software-limits
soft-limits-in-inches: software-limits-leave-room-to-stop software-limits-within-travel
switch-outside-hard-stop: limit-switch-stops-before-hard-stop power-cut-stops-before-hard-stop
no-limit-of-any-kind: hard-stop-is-not-the-only-limit
switches-swapped: limit-switches-in-order
switches-at-one-place: limit-switches-in-order
switch-without-room-to-stop: limit-switch-stops-before-hard-stop
stop-ten-times-softer: software-limits-leave-room-to-stop
stop-reaction-ten-times-softer: limit-switch-stops-before-hard-stop
stop-jerk-forgotten: software-limits-leave-room-to-stop
stop-delay-in-seconds: software-limits-leave-room-to-stop
drive-stop-delay-in-seconds: limit-switch-stops-before-hard-stop
overshoot-ignored: software-limits-leave-room-to-stop
limit-inputs-swapped: limit-inputs-stop-the-right-way
limit-input-inhibited: limit-switch-inputs-in-use
limit-input-unwired: limit-switch-inputs-in-use
drive-polarity-flipped: axis-moves-the-way-it-is-told
controller-polarity-flipped: axis-moves-the-way-it-is-told
velocity-polarity-forgotten: polarity-of-position-and-velocity-agree
encoder-direction-flipped: drive-knows-count-direction
encoder-mounted-mirrored: drive-knows-count-direction
reversing-stage-forgotten: axis-moves-the-way-it-is-told
motor-mounted-mirrored: axis-moves-the-way-it-is-told
"""

_MOTION = """
speed-per-minute: top-speed-in-its-unit top-speed-within-motor-and-drive
rpm-for-degrees-per-second: top-speed-in-its-unit top-speed-within-motor-and-drive
speed-in-inches: top-speed-in-its-unit top-speed-within-motor-and-drive
slower-motor: top-speed-within-motor-and-drive
drive-speed-limit-too-low: top-speed-within-motor-and-drive
drive-allows-more-than-motor: drive-speed-limit-within-motor
slower-encoder: top-speed-within-encoder
lines-for-edges-in-frequency: count-rate-within-inputs
drive-input-too-slow: count-rate-within-inputs
command-increments-too-fast: command-rate-within-drive
longer-screw: screw-below-critical-speed
screw-end-left-free: screw-below-critical-speed
cheaper-screw: screw-within-permitted-speed screw-within-speed-index
acceleration-in-metres: acceleration-torque-available
acceleration-one-decimal-off: acceleration-torque-available jerk-fits-acceleration
jerk-in-metres: jerk-fits-acceleration
jerk-without-effect: jerk-fits-acceleration
torque-limit-of-larger-motor: torque-limit-within-motor-peak PEAK
torque-limit-in-percent: acceleration-torque-available torque-limit-is-that-of-the-weaker-way
heavier-load: inertia-ratio-within-reason
motor-without-inertia-match: inertia-ratio-within-reason
duty-above-peak: duty-peaks-within-limits
duty-without-rest: duty-within-rated-torque
window-below-lag: following-error-window-above-lag
window-opened-to-silence-it: following-error-window-within-free-distance
window-timeout-in-seconds: following-error-found-before-damage
gain-unit-mistaken: following-error-window-above-lag
gain-scaled-twice: position-gain-fits-cycle
feedforward-off: following-error-window-above-lag
brake-time-not-waited-for: brake-releases-before-motion
torque-off-before-brake-holds: brake-holds-before-torque-goes
slower-brake: brake-releases-before-motion
brake-too-weak: brake-holds-load
brake-forgotten: vertical-axis-has-brake
brake-of-another-voltage: brake-voltage-fits
returned-power-forgotten: returned-power-within-drive
counterbalance-removed: brake-holds-load
vertical-not-noted: axis-that-gravity-moves-is-noted axis-that-gravity-turns-is-noted
torque-off-at-once: suspended-load-caught-in-time
stop-harder-than-motor: stop-deceleration-attainable
stop-category-of-other-option: stop-option-agrees-with-category
efficiency-as-percent: efficiency-is-a-share
weaker-coupling: coupling-carries-peak-torque
cycle-no-multiple: cycle-times-are-multiples
resolution-wasted-on-linear-scale: resolution-within-accuracy
"""

_INTERLOCKING = """
no-interlock: rehome-interlock-on-lost-position
lost-position-not-a-trigger: rehome-interlock-on-lost-position
turn-disagreement-not-a-trigger: rehome-interlock-on-doubtful-turns
dead-battery-not-a-trigger: rehome-interlock-on-doubtful-turns
new-encoder-not-a-trigger: rehome-interlock-on-replaced-parts
new-motor-not-a-trigger: rehome-interlock-on-replaced-parts
new-drive-not-a-trigger: rehome-interlock-on-replaced-parts
interlock-inhibits-nothing: rehome-interlock-inhibits-motion
released-by-alarm-reset: rehome-interlock-released-by-homing
released-by-acknowledgement: rehome-interlock-released-by-homing
released-by-power-cycle: rehome-interlock-released-by-homing
doubt-forgotten-at-power-off: rehome-interlock-released-by-homing
homed-flag-survives-doubt: rehome-interlock-clears-homed-flag
gantry-partner-free: rehome-interlock-inhibits-gantry-partner
collision-partner-free: rehome-interlock-inhibits-collision-partner
full-speed-in-doubt: rehome-interlock-caps-speed rehome-interlock-caps-turning-speed
replaced-encoder-released-by-homing: replaced-part-is-released-by-calibration
no-motion-left-for-homing: interlock-leaves-motion-for-homing
operator-told-nothing: rehome-interlock-tells-operator
code-noted-twice: condition-codes-unique
code-without-guidance: condition-tells-what-to-do
lost-position-cleared-by-reset: doubtful-position-clears-by-homing
lost-position-has-no-code: conditions-of-lost-turns-have-codes
"""

_BOOKKEEPING = """
node-taken-twice: unique-node-addresses
node-not-on-network: drive-found-on-network
node-of-another-device: node-of-axis-is-a-drive
nodes-exchanged: drive-at-node-is-the-fitted-one
drive-left-without-axis: drive-on-network-has-axis
drive-gone-from-network: drive-found-on-network
drive-serial-not-updated: drive-at-node-is-the-fitted-one
encoder-changed-under-preset: preset-with-fitted-encoder
axis-copied-with-serials: serial-numbers-unique
firmware-too-old: drive-firmware-not-too-old
firmware-noted-wrong: drive-runs-firmware-on-record
commutation-of-old-motor: commutation-taught-with-fitted-pair PAIR
commutation-of-old-encoder: commutation-taught-with-fitted-pair PAIR
commutation-taught-tomorrow: records-are-not-of-tomorrow
gantry-two-leaders: gantry-has-one-leader
gantry-partner-unknown: gantry-partner-is-an-axis gantry-leader-lists-its-followers
gantry-partner-of-another: gantry-partners-name-each-other
gantry-offset-of-one-side: gantry-references-square
gantry-limits-of-one-side: gantry-partners-limits-alike
gantry-speed-of-one-side: gantry-partners-move-alike
gantry-acceleration-of-one-side: gantry-partners-move-alike
gantry-stop-of-one-side: gantry-partners-stop-together
gantry-gain-of-one-side: gantry-partners-lag-alike
gantry-method-of-one-side: gantry-partners-reference-alike
collision-pair-unknown: collision-pair-names-axes
collision-pair-with-itself: collision-pair-names-axes
axis-copied-whole: serial-numbers-unique
"""

_AUDITED = """
power-cut-on-a-level-axis: power-cut-stops-before-hard-stop
power-cut-on-one-side: gantry-partners-stop-together power-cut-stops-before-hard-stop
inclination-against-the-vertical: vertical-agrees-with-inclination inclination-fits-tilt
gantry-side-homed-alone: gantry-partners-home-together
gantry-jerk-of-one-side: gantry-partners-move-alike
gantry-cycle-of-one-side: gantry-partners-move-alike
gantry-pin-of-one-side-moved: gantry-partners-set-at-one-position
search-faster-than-the-axis: homing-search-within-top-speed
search-at-full-speed: homing-at-reduced-speed
homing-acceleration-in-metres: homing-acceleration-attainable homing-acceleration-within-highest
hard-stop-search-too-fast: hard-stop-met-slowly
repeatability-one-decimal-off: homing-repeats-within-accuracy
motor-speeds-swapped: motor-data-in-order
motor-torques-swapped: motor-data-in-order
motor-rated-for-less: top-speed-within-rated-speed top-speed-within-motor-and-drive
duty-recorded-without-load: duty-carries-the-weight
home-switch-behind-limit-switch: home-switch-between-limit-switches
search-into-limit-switch: search-ends-before-limit-switch
position-range-left-from-a-table: position-range-holds-travel
new-motor-code-goes-away: doubtful-position-clears-by-homing replaced-part-stays-noticed
new-drive-code-goes-away: doubtful-position-clears-by-homing replaced-part-stays-noticed
new-motor-code-is-reset: doubtful-position-clears-by-homing
switch-worn-as-far-as-the-index: index-beyond-switch-scatter
station-at-address-of-drive: node-of-axis-is-a-drive
unknown-commutation-is-reset: unknown-commutation-clears-by-teaching
"""

_PLANTED_GRAVITY = """
slope-left-to-two-poor-stages: axis-that-gravity-moves-is-noted
slope-left-to-one-poor-stage: axis-that-gravity-moves-is-noted
slope-left-to-a-worm: axis-that-gravity-moves-is-noted
slope-whose-lock-is-denied: axis-that-gravity-moves-is-noted
arm-left-to-a-worm: axis-that-gravity-turns-is-noted
arm-left-to-poor-stages: axis-that-gravity-turns-is-noted
arm-whose-lock-is-denied: axis-that-gravity-turns-is-noted
linear-motor-that-locks-itself: self-locking-needs-a-transmission
efficient-gear-that-locks-itself: efficient-transmission-locks-nothing
hoist-left-to-its-worm: vertical-axis-has-brake
lift-left-to-poor-efficiency: vertical-axis-has-brake
balance-short-by-twice-the-friction: vertical-axis-has-brake
balance-beyond-the-weight: counterbalance-within-weight vertical-axis-has-brake
balance-without-percent-sign: counterbalance-within-weight vertical-axis-has-brake
balance-of-twice-the-load: counterbalance-within-weight vertical-axis-has-brake
balance-for-a-brake-beyond-the-weight: vertical-axis-has-brake
slope-lifted-by-its-balance: axis-that-gravity-moves-is-noted
drop-of-a-brake-that-only-holds: brake-slows-a-falling-load
search-input-scanned-slowly: home-switch-long-enough-for-search
drop-by-static-torque: suspended-load-caught-in-time
run-by-static-torque: power-cut-stops-before-hard-stop
slow-input-filter: limit-switch-stops-before-hard-stop
slow-input-scan: limit-switch-stops-before-hard-stop
input-filter-in-seconds: limit-switch-stops-before-hard-stop search-stops-before-hard-stop
room-measured-without-input-time: limit-switch-stops-before-hard-stop
room-of-a-smooth-stop-without-input-time: limit-switch-stops-before-hard-stop
input-filter-of-one-side: gantry-partners-stop-together
power-cut-after-a-slow-filter: power-cut-stops-before-hard-stop
"""

_PLANTED = """
name-that-the-drive-has-not: homing-method-supported
endless-axis-homed-at-a-limit: homing-method-has-its-switches
endless-axis-without-its-home-switch: homing-method-has-its-switches
beyond-rated-speed-without-weak-field: top-speed-within-rated-speed top-speed-within-motor-and-drive
weak-field-beyond-highest-speed: top-speed-within-motor-and-drive
velocity-of-turns-for-degrees: top-speed-in-its-unit
velocity-per-minute: top-speed-in-its-unit
scaling-off-by-six: SCALING
scaling-off-by-sixty: SCALING
scaling-off-by-a-sixtieth: SCALING
strain-wave-one-tooth-more: drive-position-factors-agree
strain-wave-one-tooth-less: drive-position-factors-agree
drive-read-before-the-teaching: export-is-current
encoder-read-before-the-teaching: export-is-current
modulo-on-a-swivel: endless-axis-has-no-stops
modulo-on-a-slide: endless-axis-has-no-stops
modulo-between-switches: endless-axis-has-no-stops
modulo-with-cycle-of-half-the-travel: endless-axis-has-no-stops
table-that-got-stops: endless-axis-has-no-stops
table-that-got-switches: endless-axis-has-no-stops
single-turn-behind-a-gearbox: cycle-repeats-with-single-turn
single-turn-geared-to-a-table: cycle-repeats-with-single-turn
single-turn-with-a-cycle-of-three-quarters: cycle-repeats-with-single-turn
single-turn-with-a-cycle-of-two-turns: cycle-repeats-with-single-turn
single-turn-on-a-conveyor: cycle-repeats-with-single-turn
stop-search-weaker-than-friction: hard-stop-homing-overcomes-friction
stop-search-weaker-than-losses: hard-stop-homing-overcomes-friction
stop-search-after-new-scrapers: hard-stop-homing-overcomes-friction
stop-search-torque-one-decimal-off: hard-stop-homing-overcomes-friction
reference-off-at-a-limit-switch: REFERENCE
reference-off-at-a-home-switch: REFERENCE
reference-off-at-a-hard-stop: REFERENCE
reference-off-at-an-index: REFERENCE
absolute-axis-homed-roughly: homing-repeats-within-accuracy
absolute-axis-creeping-fast: homing-repeats-well-enough
absolute-axis-at-a-worn-switch: homing-repeats-well-enough
absolute-axis-with-a-slow-scan: homing-repeats-well-enough
mass-one-decimal-off: duty-fits-the-load
inertia-one-decimal-off: duty-fits-the-load
inertia-in-kg-cm2: duty-fits-the-load
duty-of-a-heavier-axis: duty-fits-the-load duty-peaks-within-limits duty-within-rated-torque
limits-at-the-end-of-the-numbers: software-limits-within-travel software-limits-limit-something
limits-at-the-end-of-the-numbers-alone: software-limits-limit-something
limits-beyond-stops-without-ramps: software-limits-within-travel
one-limit-beyond-its-stop: software-limits-within-travel
limits-beyond-stops-planned: software-limits-within-travel
limits-of-kilometres: software-limits-limit-something
limits-of-thousands-of-turns: software-limits-limit-something
limit-in-metres-without-ramps: software-limits-within-travel software-limits-limit-something
limits-as-counts-in-units: software-limits-limit-something
safety-of-the-old-gearbox: safety-scaling-agrees-with-gearing
safety-of-the-old-encoder: safety-scaling-agrees-with-gearing
safety-of-the-other-encoder: safety-scaling-agrees-with-gearing
safety-with-lines-for-counts: safety-scaling-agrees-with-gearing
safety-without-the-gearbox: safety-scaling-agrees-with-gearing
safety-gearbox-upside-down: safety-scaling-agrees-with-gearing
safety-in-inches: safety-scaling-agrees-with-gearing
safety-one-tooth-off: safety-scaling-agrees-with-gearing
"""


def _read(*tables: str) -> dict[str, tuple[str, ...]]:
    """Kinds with their rules; SCALING stands for the rules that compare scaling with mechanics,
    REFERENCE for those that compare the reference with the drawing, TWO and TEETH for
    those of two encoders."""
    scaling = "controller-scaling-exact controller-scaling-without-slip drive-gear-exact"
    reference = "reference-where-switch-stands reference-at-its-own-end reference-within-travel"
    two = "two-encoders-agree-over-travel two-encoders-agree-on-endless-axis"
    teeth = "encoder-window-below-a-stage-tooth encoder-window-below-a-tooth-of-the-load"
    named = {"SCALING": scaling, "REFERENCE": reference, "TWO": two, "TEETH": teeth}
    named["PAIR"] = "commutation-taught-with-encoder-of-motor"
    peak = "torque-limit-of-{}-direction-within-motor-peak"
    named["PEAK"] = " ".join(peak.format(way) for way in ("positive", "negative"))
    for name, rules in named.items():
        tables = tuple(table.replace(name, rules) for table in tables)
    rows = [line.split(": ") for table in tables for line in table.strip().splitlines()]
    return {kind: tuple(rules.split()) for kind, rules in rows}


EXPECTED: Final = _read(
    _GEARING, _KINDS, _TURNS, _HOMING, _LIMITS, _MOTION, LINEAR_MOTORS, SWINGS, TELESCOPES,
    WINDINGS, CRANKS, _INTERLOCKING,
    _BOOKKEEPING, _AUDITED, _PLANTED_GRAVITY, _PLANTED, REACTIONS, PLAUSIBLE, SECOND_ENCODER,
    LOAD_BRAKES, CLAMPS, INDEX_MARKS, GANTRIES, TORQUE_CURVES, MOTION_CYCLES,
)  # fmt: skip

UNSEEN: Final = {
    "friction-understated": "a measured figure that nothing else states",
    "load-understated": "what is moved is stated once",
    "pin-calibrated-off": "where the pin stands is stated once, by the very number that is wrong",
    "endless-cycle-wrong-but-whole": "the cycle is the product's, and stated once",
    "cycle-of-one-station": "a cycle of one station is a sound choice too, and stated once",
    "pulley-wrong-everywhere": "all statements agree; only measuring the travel would tell",
    "battery-date-a-year-off": "any past day within the life could be right",
    "hard-stop-moved": "where a stop stands is stated once",
    "switch-scatter-understated": "a measured figure that nothing else states",
    "free-distance-overstated": "what is around the axis is stated once",
    "brake-worn": "the facts are those of the plate; only a brake test tells",
    "serial-mistyped-everywhere": "all records agree; only the plate would tell",
    "interlock-not-in-the-program": "the facts describe it; only a test at the machine tells",
    "guidance-unhelpful": "that words are there can be seen, not whether they help",
    "accuracy-understated": "what the process needs is stated once",
    "switch-moved-a-little": "within what a taught reference may differ from the drawing",
}

OPEN: Final[dict[str, str]] = {}
