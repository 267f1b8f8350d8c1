"""The rules that must find each fault of homing to the index marks of a scale."""

INDEX_MARKS = """
scale-of-many-marks-homed-alone: spaced-marks-not-homed-alone
second-mark-switched-on: one-chosen-mark-is-homed-alone
no-mark-switched-on: index-mark-is-chosen
two-places-of-a-single-mark: index-mark-is-chosen
mark-behind-the-limit-switch: index-mark-within-reach
mark-on-the-other-side-of-the-switch: index-mark-ahead-of-switch
mark-in-the-middle-homed-alone: index-mark-ahead-of-axis
mark-homed-alone-the-other-way: index-mark-ahead-of-axis
chosen-mark-under-the-switch-edge: index-mark-beyond-switch-scatter
reference-of-the-mark-before: REFERENCE reference-where-mark-lies
mark-of-a-scale-at-the-switch-edge: index-mark-clear-of-switch-edge index-mark-beyond-switch-scatter
mark-of-a-scale-before-the-edge: index-mark-clear-of-switch-edge index-mark-beyond-switch-scatter
scale-of-finer-spacing: index-mark-clear-of-switch-edge index-mark-beyond-switch-scatter
reference-of-the-next-mark: REFERENCE reference-not-of-another-mark
spacing-of-marks-in-inches: index-mark-clear-of-switch-edge travel-holds-enough-coded-marks
spacing-of-marks-typed-short: index-marks-lie-on-counts
coded-scale-on-a-drive-that-reads-none: drive-reads-coded-marks
coded-scale-homed-to-its-first-mark: homing-reads-enough-coded-marks
coded-scale-of-a-shorter-axis: coded-marks-unique-over-travel
code-repeats-within-the-travel: coded-marks-unique-over-travel
spacing-and-difference-swapped: coded-marks-fit-each-other
difference-of-a-code-ten-times: coded-marks-unique-over-travel
coded-spacing-longer-than-the-travel: travel-holds-enough-coded-marks
"""
