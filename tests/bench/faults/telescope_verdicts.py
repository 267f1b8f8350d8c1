"""The rules that must find each fault of a telescope; the form is that of verdicts.py."""

TELESCOPES = """
telescope-forgotten-in-drive: drive-position-factors-agree
telescope-forgotten-in-controller: SCALING
telescope-counted-twice: drive-position-factors-agree
telescope-forgotten-in-drawing: drive-position-factors-agree SCALING
telescope-of-one-section-more: drive-position-factors-agree SCALING
telescope-ratio-upside-down: telescope-travels-further
telescope-share-upside-down: telescope-sections-move-less
telescope-share-too-small: telescope-sections-move-less
telescope-section-in-grams: acceleration-torque-available
telescope-speed-of-the-driven-section: top-speed-within-motor-and-drive
"""
