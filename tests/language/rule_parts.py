"""Parts of rules that several tables of faulty rules need."""

PAIR = (
    "axis with other where axis.name is other.gantry.partner"
    " directed by other.gantry.partner without skips"
)
DEFINE = 'define axis.x kind ratio as {} meaning "m"'
SETTING = 'setting room default {} meaning "m" basis "b"'
