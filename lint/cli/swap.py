"""The commands about a swapped part: spare, recalibrate."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final, cast

import click

from .options import (
    FILE,
    day_option,
    force_option,
    output_option,
    rules_option,
    settings_option,
    width_option,
    workings_option,
)

if TYPE_CHECKING:
    from ..swap.part import Kind

PARTS: Final = ("drive", "motor", "encoder", "gearbox", "battery")
TOUCHED: Final = (
    "coupling",
    "belt",
    "feedback-cable",
    "home-switch",
    "controller",
    "motor-refitted",
    "backup",
)
AFTER: Final = (*PARTS, *TOUCHED)
"""As KINDS and TOUCHED of swap.part and AFTER of swap.recalibrating, which are not loaded here."""

_SPARE_EPILOG: Final = """\b
Examples:
  axisproof spare hall.yaml --axis infeed --part motor spares/motor.yaml
  axisproof spare hall.yaml --axis lift --part drive spares/drive.yaml --plan
  axisproof spare hall.yaml --axis lift --part motor motor.yaml --format html --output s.html
  axisproof spare hall.yaml --axis lift --part drive old/press.yaml --spare-axis ram
  axisproof spare hall.yaml --axis lift --part coupling --plan

\b
Exit status:
  0    it fits as it is (what is to be taught again is said apart from that)
  1    settings have to be written or warnings settled, it does not fit, it cannot be said yet for
       want of facts, or there is no spare to compare
  2    the input, a rule or the command line cannot be used
  130  interrupted
"""
_RECALIBRATE_EPILOG: Final = """\b
Examples:
  axisproof recalibrate hall.yaml --axis infeed --true 100mm --indicated 98.75mm
  axisproof recalibrate hall.yaml --axis table --true 30deg --indicated 351.4deg --after motor
  axisproof recalibrate hall.yaml --axis label --true 9mm --indicated 8mm --index-angle 0.7rev

\b
Exit status:
  0    worked out, and no check stands against it
  1    something must be solved first: a check failed, or a fact or reading is missing
  2    the input or the command line cannot be used
  130  interrupted
"""


def register(group: click.Group) -> None:
    """Add the commands to the command line."""
    group.add_command(spare)
    group.add_command(recalibrate)


@click.command(epilog=_SPARE_EPILOG)
@click.argument("machine", type=FILE)
@click.option("--axis", required=True, metavar="AXIS", help="Axis that the part belongs to.")
@click.option(
    "--part",
    required=True,
    type=click.Choice((*PARTS, *TOUCHED)),
    help="What is replaced, touched or restored.",
)
@click.argument("spare_file", type=FILE, metavar="[SPARE]", required=False)
@click.option("--machine", "name", metavar="NAME", help="Machine, where MACHINE holds several.")
@click.option(
    "--stage",
    type=click.IntRange(1, 100),
    metavar="N",
    help="Transmission stage that a gearbox replaces, from 1 at the motor.",
)
@click.option(
    "--spare-axis",
    metavar="AXIS",
    help="Axis of SPARE, where that is a machine file or an import with several axes.",
)
@click.option("--plan", is_flag=True, help="Add the plan of the work, step by step.")
@rules_option
@settings_option
@day_option("Day of the swap; otherwise today.")
@workings_option
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "html"]),
    default="text",
    show_default=True,
    help="Form of the report; html is the plan as a sheet to check off. `axisproof schema spare` "
    "describes the json.",
)
@output_option
@force_option
@width_option
def spare(
    machine: Path,
    axis: str,
    part: str,
    spare_file: Path | None,
    name: str | None,
    stage: int | None,
    spare_axis: str | None,
    plan: bool,
    rules: tuple[Path, ...],
    settings: Path | None,
    on: datetime.datetime | None,
    workings: bool,
    form: str,
    output: Path | None,
    force: bool,
    width: int | None,
) -> int:
    """Tell whether a spare fits and what to write into it.

    Tells also what to do and teach afterwards. SPARE is a part file (`axisproof schema part`), or a
    machine file or import that the part is taken from. The spare is put in the place of the fitted
    part and every rule is run on the result. Whether it fits and whether anything has to be taught
    are two verdicts. A coupling, belt, cable, switch or controller, the same motor fitted again and
    an older backup restored need no SPARE: then only what they do to the axis is told.
    """
    from ..base.safe_write import refuse_to_replace
    from ..report import sheet, spare_json, spare_text
    from ..swap import api
    from .console import options_for, output_text

    if output is not None:
        refuse_to_replace(output, force, [machine, *([spare_file] if spare_file else [])])
    report = api.spare(
        machine,
        axis,
        cast("Kind", part.replace("-", "_")),
        spare_file,
        name=name,
        stage=stage,
        spare_axis=spare_axis,
        rules=rules,
        settings=settings,
        on=on.date() if on else None,
        workings=workings,
        plan=plan or form == "html",
    )
    options = options_for(width, workings=workings, to_file=output is not None)
    form_of = {"text": spare_text.render, "json": spare_json.render, "html": sheet.render}
    text = form_of[form](report, options)
    inputs = [*report.files, *rules, settings]
    output_text(text, options, form=form, output=output, force=force, inputs=inputs)
    return int(not report.fits_as_it_is)


@click.command(epilog=_RECALIBRATE_EPILOG)
@click.argument("machine", type=FILE)
@click.option("--axis", required=True, metavar="AXIS", help="Axis to recalibrate.")
@click.option("--true", "true", required=True, metavar="X", help="True position, by a gauge.")
@click.option("--indicated", required=True, metavar="Y", help="Position that is indicated there.")
@click.option(
    "--reference",
    metavar="P",
    help="Position assigned at the reference now, if not the one in MACHINE.",
)
@click.option(
    "--tolerance",
    metavar="T",
    help="How close to a pattern counts; otherwise a fiftieth of an encoder revolution.",
)
@click.option("--after", type=click.Choice(AFTER), help="What was replaced, touched or restored.")
@click.option(
    "--reading",
    metavar="TURNS",
    help="Turns that the encoder shows at the reference after the work.",
)
@click.option(
    "--index-angle",
    metavar="A",
    help="Encoder angle from the switch edge to the index pulse, measured after the work.",
)
@click.option("--machine", "name", metavar="NAME", help="Machine, where MACHINE holds several.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Form of the answer; `axisproof schema recalibration` describes the json.",
)
@width_option
def recalibrate(
    machine: Path,
    axis: str,
    true: str,
    indicated: str,
    reference: str | None,
    tolerance: str | None,
    after: str | None,
    reading: str | None,
    index_angle: str | None,
    name: str | None,
    form: str,
    width: int | None,
) -> int:
    """Work out the new reference position of an axis.

    It follows from a true and an indicated position and from what homing does: homing finds a mark,
    or takes the axis where it stands (CiA 402 methods 35 and 37). For a mark, home first and read
    after that. Otherwise assign the position where both were read, and nowhere else.

    The answer stands first, then what must be solved before anything is written. It is checked
    against the stops, the range of the encoder, an index pulse, and a wrap within the travel. The
    shift is compared with whole encoder revolutions, a wrong sign, and teeth.
    """
    from ..report import recalibration_json, recalibration_text
    from ..report.ci_commands import without_commands
    from ..swap import api
    from .console import options_for, print_text, write_utf8

    result = api.recalibrate(
        machine,
        axis,
        true,
        indicated,
        name=name,
        reference=reference,
        tolerance=tolerance,
        after=after,
        reading=reading,
        index_angle=index_angle,
    )
    options = options_for(width)
    if form == "json":
        write_utf8(without_commands(recalibration_json.render(result, options), "json"))
    else:
        print_text(recalibration_text.render(result, options), options)
    return int(bool(result.to_solve))
