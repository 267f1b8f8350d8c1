"""The commands about a swapped part: spare, recalibrate."""

from __future__ import annotations

import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, cast

import click

from .options import (
    FILE,
    day_option,
    detail_option,
    force_option,
    output_option,
    rules_option,
    settings_option,
    shelf_option,
    site_option,
    width_option,
    workings_option,
)

if TYPE_CHECKING:
    from ..swap.part import Kind

PARTS: Final = ("drive", "motor", "encoder", "second-encoder", "gearbox", "battery")
TOUCHED: Final = (
    "coupling",
    "belt",
    "chain",
    "feedback-cable",
    "home-switch",
    "controller",
    "motor-refitted",
    "backup",
)
AFTER: Final = (*PARTS, *TOUCHED, "nothing")
"""As KINDS and TOUCHED of swap.part and AFTER of swap.recalibrating, which are not loaded here."""

_SPARE_EPILOG: Final = """\b
Examples:
  axisproof spare hall.yaml --axis infeed --part motor spares/motor.yaml
  axisproof spare hall.yaml --axis lift --part drive spares/drive.yaml --plan
  axisproof spare hall.yaml --axis lift --part motor motor.yaml --format html --output s.html
  axisproof spare hall.yaml --axis lift --part drive old/press.yaml --spare-axis ram
  axisproof spare hall.yaml --axis lift --part coupling --plan
  axisproof spare hall.yaml --axis lift --part motor SM80-24 --shelf plates/

\b
Exit status:
  0    it fits as it is (teaching is a separate verdict)
  1    settings must be written or warnings settled, or it does not fit, or data is missing, or
       there is no spare to compare
  2    the input, a rule or the command line cannot be used
  130  interrupted
"""
_RECALIBRATE_EPILOG: Final = """\b
Examples:
  axisproof recalibrate hall.yaml --axis infeed --true 100mm --indicated 98.75mm --after home-switch
  axisproof recalibrate hall.yaml --axis table --true 30deg --indicated 351.4deg --after motor
  axisproof recalibrate h.yaml --axis a --true 9mm --indicated 8mm --after motor --index-angle 1rev

\b
Exit status:
  0    calculated, and no check is against it
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
@click.option("--axis", required=True, metavar="AXIS", help="Axis to which the part belongs.")
@click.option(
    "--part",
    required=True,
    type=click.Choice((*PARTS, *TOUCHED)),
    help="What is replaced, touched or restored.",
)
@click.argument("spare_file", type=FILE, metavar="[SPARE]", required=False)
@click.option("--machine", "name", metavar="NAME", help="Machine, if MACHINE has several.")
@click.option(
    "--stage",
    type=click.IntRange(1, 100),
    metavar="N",
    help="Transmission stage that the gearbox replaces (1 is at the motor).",
)
@click.option(
    "--spare-axis",
    metavar="AXIS",
    help="Axis of SPARE, if SPARE is a machine file or an import with several axes.",
)
@click.option("--plan", is_flag=True, help="Add the plan of the work, step by step.")
@rules_option
@settings_option
@shelf_option
@day_option("Day of the swap. Default: today.")
@detail_option
@workings_option
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "html"]),
    default="text",
    show_default=True,
    help="Form of the report. html is the plan as a sheet to check off. `axisproof schema spare` "
    "describes the json.",
)
@output_option
@force_option
@width_option
@site_option
def spare(
    machine: Path,
    axis: str,
    part: str,
    spare_file: Path | None,
    plan: bool,
    on: datetime.datetime | None,
    detail: bool,
    form: str,
    output: Path | None,
    force: bool,
    width: int | None,
    no_site_file: bool,
    **given: Any,
) -> int:
    """Tell whether a spare fits and what to write into it.

    It also tells what to teach afterwards. SPARE is a part file (`axisproof schema part`), or a
    machine file or import that contains the part. With a shelf it can be the type of a plate. The
    spare takes the place of the fitted part, and all rules are checked. There are two verdicts: if
    it fits, and if something must be taught.

    A coupling, belt, chain, cable, switch or controller needs no SPARE. The same motor fitted again
    or an older backup needs none too. Then only the effects on the axis are told.
    """
    from ..base.safe_write import refuse_to_replace
    from ..report import sheet, spare_json, spare_text
    from ..source.standard_input import standard_input
    from ..swap import api
    from .console import options_for, output_text
    from .site import form_for, site_for

    site = site_for((machine,), no_site_file)
    form = form_for("spare", form, site)
    files = [machine, *([spare_file] if spare_file else [])]
    if output is not None:
        refuse_to_replace(output, force, files)
    report = api.spare(
        machine,
        axis,
        cast("Kind", part.replace("-", "_")),
        spare_file,
        on=on.date() if on else None,
        plan=plan or form == "html",
        site=site,
        texts=standard_input(files),
        **given,
    )
    look = {"detail": detail, "workings": given["workings"]}
    options = options_for(width, to_file=output is not None, **look)
    form_of = {"text": spare_text.render, "json": spare_json.render, "html": sheet.render}
    text = form_of[form](report, options)
    named = [*given["rules"], given["settings"], given["shelf"]]
    inputs = [*report.files, *named, *(site.files if site else ())]
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
    help="Present position at the reference, if it is not the one in MACHINE.",
)
@click.option(
    "--tolerance",
    metavar="T",
    help="How near to a pattern counts. Default: a fiftieth of an encoder revolution.",
)
@click.option(
    "--after", type=click.Choice(AFTER), help="What was replaced, touched or restored, or nothing."
)
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
@click.option("--machine", "name", metavar="NAME", help="Machine, if MACHINE has several.")
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json"]),
    default="text",
    show_default=True,
    help="Form of the answer. `axisproof schema recalibration` describes the json.",
)
@shelf_option
@width_option
@site_option
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
    shelf: Path | None,
    width: int | None,
    no_site_file: bool,
) -> int:
    """Calculate the new reference position of an axis.

    It uses a true and an indicated position, and the homing method. Some methods find a mark.
    Others assign the position at the present place (CiA 402 methods 35 and 37). For a mark, home
    first and then read. Otherwise assign the position only where both were read.

    The answer comes first, then what must be solved before anything is written. The checks use the
    stops, the range of the encoder, an index pulse and a wrap within the travel. The shift is
    compared with whole encoder revolutions, a wrong sign and teeth.
    """
    from ..report import recalibration_json, recalibration_text
    from ..report.ci_commands import without_commands
    from ..source.standard_input import standard_input
    from ..swap import api
    from .console import options_for, print_text, write_utf8
    from .site import form_for, site_for

    site = site_for((machine,), no_site_file)
    form = form_for("recalibrate", form, site)
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
        site=site,
        shelf=shelf,
        texts=standard_input([machine]),
    )
    options = options_for(width)
    if form == "json":
        write_utf8(without_commands(recalibration_json.render(result, options), "json"))
    else:
        print_text(recalibration_text.render(result, options), options)
    return int(bool(result.to_solve))
