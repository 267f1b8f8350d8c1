"""Objects that a device profile names and that feed no fact, each with the reason: data, no code.

Names and indexes after the object lists of CiA 402-2 / IEC 61800-7-201 and CiA 406 (from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

_RUNNING: Final = "a command or a reading of the running device, and no setting"
_NETWORK_LOST: Final = "no rule reads what the drive does when the network fails"
_TUNING: Final = "no rule reads settings of the control loops and of the power stage"
_WINDOWS: Final = "no rule reads windows and thresholds of status bits"
_MOVES: Final = "no rule reads how single moves are asked for"
_UNITS: Final = "older units: state the user unit beside the file (position: 0.001 mm)"
_IDENTITY: Final = "no rule reads more of the identity than model, serial number and firmware"
_PROBES: Final = "no rule reads touch probes"
_SECOND: Final = "a second encoder: state what it measures in the machine file"
_INTERPOLATION: Final = "no rule reads more of the interpolation than its period (0x60C2)"
_MODES: Final = "no rule reads modes of operation"
_FUNCTIONS: Final = "no rule reads which optional functions a drive has switched on"

_DRIVE: Final[Mapping[str, tuple[int, ...]]] = {
    _RUNNING: (
        0x603F, 0x6040, 0x6041, 0x6042, 0x6043, 0x6044, 0x6045, 0x6061, 0x6062, 0x6063, 0x6064,
        0x6069, 0x606B, 0x606C, 0x6071, 0x6074, 0x6077, 0x6078, 0x6079, 0x607A, 0x60B0, 0x60B1,
        0x60B2, 0x60C1, 0x60F4, 0x60FA, 0x60FC, 0x60FD, 0x60FE, 0x60FF,
    ),
    _NETWORK_LOST: (0x6007,),
    _TUNING: (
        0x6046, 0x6047, 0x6048, 0x6049, 0x604A, 0x604B, 0x604C, 0x604D, 0x604E, 0x604F, 0x6050,
        0x6051, 0x6052, 0x6053, 0x6054, 0x6055, 0x6056, 0x6057, 0x6058, 0x6059, 0x6073, 0x6087,
        0x6088, 0x60EA, 0x60F6, 0x60F7, 0x60F8, 0x60F9, 0x60FB, 0x6410, 0x6510,
    ),
    _WINDOWS: (0x6067, 0x6068, 0x606D, 0x606E, 0x606F, 0x6070),
    _MOVES: (0x6081, 0x6082, 0x6086, 0x60A2, 0x60A3, 0x60A4, 0x60F2),
    _UNITS: (0x6089, 0x608A, 0x608B, 0x608C, 0x608D, 0x608E),
    _IDENTITY: (
        0x6402, 0x6404, 0x6405, 0x6406, 0x6407, 0x6503, 0x6504, 0x6505, 0x67FE, 0x67FF,
    ),
    _PROBES: (
        0x60B8, 0x60B9, 0x60BA, 0x60BB, 0x60BC, 0x60BD, 0x60D0, 0x60D1, 0x60D2, 0x60D3, 0x60D4,
        0x60D5, 0x60D6, 0x60D7, 0x60D8,
    ),
    _SECOND: (
        0x606A, 0x60E4, 0x60E5, 0x60E7, 0x60EC,
    ),
    _INTERPOLATION: (0x60C0, 0x60C3, 0x60C4),
    _MODES: (0x6060, 0x6502),
    _FUNCTIONS: (0x60D9, 0x60DA),
}  # fmt: skip

_ENCODER: Final[Mapping[str, tuple[int, ...]]] = {
    _RUNNING: (
        0x6004, 0x6008, 0x600A, 0x600B, 0x600C, 0x6020, 0x6030, 0x6040, 0x6050, 0x6300, 0x6400,
        0x6401, 0x6402, 0x6500, 0x6503, 0x6504, 0x6505, 0x6506, 0x6508, 0x6509,
    ),
    "the value that a preset assigns: the machine file states it at the reference": (0x6003,),
    "no rule reads how often the encoder sends its position": (0x6200,),
    "no rule reads the measuring step in this unit": (0x6005, 0x6510, 0x6511),
    "no rule reads cams": (0x6301, 0x6302, 0x6310, 0x6311, 0x6320, 0x6321, 0x6330, 0x6331),
    _IDENTITY: (0x6507, 0x650A, 0x650B),
}  # fmt: skip


def _by_index(table: Mapping[str, tuple[int, ...]]) -> Mapping[int, str]:
    return {index: reason for reason, indexes in table.items() for index in indexes}


WITHOUT_FACT: Final[Mapping[int, Mapping[int, str]]] = {
    402: _by_index(_DRIVE),
    406: _by_index(_ENCODER),
}
"""By device profile and index: why an object that the profile names feeds no fact."""
