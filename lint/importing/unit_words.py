"""What exports call units: trade words of several languages and other spellings, as data.

A word may mean several units (" is the inch and the arc second); then the kind of the fact decides,
and if it cannot, nobody guesses. Words that stand for unlike units within the trade are left out:
a pulse of an encoder is one count to some and four to others. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from itertools import product
from typing import Final

from ..numbers.units import UNITS, units_of

_LENGTHS: Final = {
    "mm": "mm millimeter millimetre milimetro milimètre",
    "cm": "cm centimeter centimetre zentimeter",
    "m": "m meter metre metro mètre",
    "um": "um mikrometer micrometer micrometre micron microns",
    "in": "in inch inches zoll pouce pouces pulgada pulgadas pollice pollici \" ″ ''",
    "ft": "ft foot feet fuß ' ′",
}
_ANGLES: Final = {
    "deg": "deg degs degree degrees grad gradi grado grados grader graden degré degrés ° º",
    "gon": "gon grad grade grades",
    "arcmin": "arcmin bogenminute bogenminuten ' ′",
    "arcsec": "arcsec bogensekunde bogensekunden \" ″ ''",
    "rad": "rad radian radians radiant",
    "mrad": "mrad",
    "rev": "rev revs revolution revolutions turn turns u umdr umdrehung umdrehungen tr tour tours "
    "giro giri vuelta vueltas obr ot varv omw об r",
}
_COUNTS: Final = {
    "counts": "count counts cts cnt cnts inc incs incr inkr ink increment increments inkrement "
    "inkremente incremento incrementos incrément incréments",
}
_TIMES: Final = {
    "s": "s sec secs second seconds sek sekunde sekunden seconde secondes",
    "min": "min mins minute minutes minuten мин",
    "ms": "ms msec msek millisecond milliseconds millisekunde millisekunden",
    "us": "us usec µsec microsecond microseconds mikrosekunde mikrosekunden",
    "h": "h hr hrs hour hours std stunde stunden heure heures",
    "days": "d day days tag tage jour jours",
    "years": "year years jahr jahre yr yrs",
}
_OTHERS: Final = {
    "1/min": "1/min min-1 /min upm",
    "rpm": "rpm r.p.m.",
    "rev/s": "1/s s-1 ups rps",
    "1/s": "1/s s-1 (mm/s)/mm mm/s/mm",
    "m/min/mm": "m/min/mm (m/min)/mm 1000/min",
    "Hz": "hz hertz",
    "kHz": "khz",
    "kg": "kg kgs kilogram kilograms kilogramm kilo",
    "g": "g gram grams gramm",
    "t": "t tonne tonnes",
    "lb": "lb lbs pound pounds",
    "kg·m²": "kgm2 kg.m2 kg-m2",
    "kg·cm²": "kgcm2 kg.cm2 kg-cm2",
    "kg·mm²": "kgmm2 kg.mm2 kg-mm2",
    "g·cm²": "gcm2 g.cm2 g-cm2",
    "lb·in²": "lbin2 lb.in2 lb-in2",
    "N·m": "nm n.m n-m newtonmeter",
    "N·cm": "ncm n.cm n-cm",
    "lbf·in": "lbfin lbf-in lbf.in inlb in-lb in.lb inlbs in-lbs lbin lb-in lb.in",
    "lbf·ft": "lbfft lbf-ft lbf.ft ftlb ft-lb ft.lb ftlbs ft-lbs lbft lb-ft lb.ft",
    "N": "n newton newtons",
    "kN": "kn kilonewton",
    "A": "a amp amps ampere amperes arms aeff a_rms a_eff a(rms) a(eff)",
    "V": "v volt volts vdc vac",
    "W": "w watt watts",
    "kW": "kw kilowatt",
    "J": "j joule joules",
    "%": "% percent prozent pct",
    "‰": "‰ promille permille",
    "": "- — 1 none dimensionless",
}


class AmbiguousUnit(ValueError):
    """A word for several units of one kind."""

    def __init__(self, units: tuple[str, ...]) -> None:
        super().__init__(" or ".join(units))
        self.units = units


@cache
def unit_words() -> Mapping[str, tuple[str, ...]]:
    """The units that a word may stand for, in the spelling of the machine file."""
    found: dict[str, dict[str, None]] = {}

    def put(words: str, unit: str) -> None:
        if unit not in UNITS:
            raise AssertionError(f"{unit!r} is no unit")
        for word in words.split() if " " in words else [words]:
            found.setdefault(plain_word(word), {})[unit] = None

    for table in (_LENGTHS, _ANGLES, _COUNTS, _TIMES, _OTHERS):
        for unit, words in table.items():
            put(words, unit)
    for (unit, words), (per, times) in product(
        (*_LENGTHS.items(), *_ANGLES.items()), _TIMES.items()
    ):
        for word, time in product(words.split(), times.split()):
            if f"{unit}/{per}" in UNITS:
                put(f"{word}/{time}", f"{unit}/{per}")
            if per == "s":
                put(f"{word}/{time}2", f"{unit}/s^2")
                put(f"{word}/{time}/{time}", f"{unit}/s^2")
                put(f"{word}/{time}3", f"{unit}/s^3")
    for unit, words in _LENGTHS.items():
        for word, turn in product(words.split(), _ANGLES["rev"].split()):
            put(f"{word}/{turn}", f"{unit}/rev")
        for word, count in product(words.split(), _COUNTS["counts"].split()):
            put(f"{count}/{word}", f"counts/{unit}")
    for unit, words in _ANGLES.items():
        for word, count in product(words.split(), _COUNTS["counts"].split()):
            put(f"{count}/{word}", f"counts/{unit}")
    for count, time in product(_COUNTS["counts"].split(), _TIMES["s"].split()):
        put(f"{count}/{time}", "counts/s")
        put(f"k{count}/{time}", "kcounts/s")
    for word, turn in product(_ANGLES["deg"].split(), _ANGLES["rev"].split()):
        put(f"{word}/{turn}", "deg/rev")
    return {word: tuple(units) for word, units in found.items()}


_SAME: Final = str.maketrans("²³µμ", "23uu", "^·⋅*. ")
_BRACKETS: Final = re.compile(r"\[(.*)\]|\(([^()]*)\)|(.*)", re.DOTALL)


def plain_word(written: str) -> str:
    """A spelling without what says nothing: case, spaces, dots, outer brackets, raised digits."""
    found = _BRACKETS.fullmatch(written.strip())
    inner = next(part for part in found.groups() if part is not None) if found else written
    return inner.casefold().translate(_SAME)


def export_unit(written: str, kind: str) -> str | None:
    """The unit of a kind of quantity that an export calls ``written``; None for no such unit.

    A spelling of the machine file is taken as it is. Raises AmbiguousUnit if the kind has several
    units of that name.
    """
    allowed = units_of(kind)
    if written in allowed:
        return written
    found = tuple(unit for unit in unit_words().get(plain_word(written), ()) if unit in allowed)
    if len(found) > 1:
        raise AmbiguousUnit(found)
    return found[0] if found else None


def meanings(written: str) -> tuple[str, ...]:
    """All units, of whatever kind, that an export may call ``written``."""
    own = (written,) if written in UNITS else ()
    return own + tuple(
        unit for unit in unit_words().get(plain_word(written), ()) if unit not in own
    )
