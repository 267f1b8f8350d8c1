"""The commands that change files or serve an editor: fix, serve."""

from __future__ import annotations

import datetime
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import click

from ..base.errors import UsageError
from .console import options_for, print_line, print_text, write_utf8
from .options import (
    FILE,
    accepted_option,
    day_option,
    rules_option,
    settings_option,
    shelf_option,
    site_option,
    waivers_option,
)

if TYPE_CHECKING:
    from ..checking.fixing import Repair
    from ..importing.site_file import SiteFile


_FIX_EXAMPLES: Final = """\b
Examples:
  axisproof fix machines/
  axisproof fix machines/ --yes
  axisproof fix machines/ --waivers waivers.yaml --accepted accepted.yaml
  axisproof fix - --yes < hall.yaml > corrected.yaml

\b
Exit status:
  0    nothing is left to write
  1    there are values to write, and they were not written
  2    the input, a rule or the command line cannot be used, or a file cannot be written
  130  interrupted
"""
_SERVE_EXAMPLES: Final = """\b
Examples:
  axisproof serve
  axisproof serve --rules site-rules/ --settings site.yaml
  axisproof serve --waivers waivers.yaml --accepted accepted.yaml
"""


def register(group: click.Group) -> None:
    """Add the commands to the command line."""
    group.add_command(fix)
    group.add_command(serve)


@click.command("fix", epilog=_FIX_EXAMPLES)
@click.argument("paths", nargs=-1, type=FILE, metavar="PATH...")
@rules_option
@settings_option
@shelf_option
@day_option("Check for this day. Default: today.")
@waivers_option
@accepted_option
@click.option("--yes", is_flag=True, help="Write without asking.")
@site_option
def fix(
    paths: tuple[Path, ...],
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    on: datetime.datetime | None,
    waivers: Path | None,
    accepted: Path | None,
    yes: bool,
    no_site_file: bool,
) -> int:
    """Write values that rules compute into machine files.

    It shows the change first. It corrects only values that no device holds. It leaves the rest of
    the file as it is. Other corrections need somebody at the machine: `check` says what to do.
    Findings that --waivers or --accepted cover stay as they are. Without --yes it asks. It writes
    nothing if nobody can answer. Without PATH, it takes what the site file names. If PATH is -, it
    reads standard input. With --yes it then prints the corrected file, and all else as errors.
    """
    from ..source.reader import STDIN
    from .site import paths_of_site_file, site_for

    paths = paths or paths_of_site_file(no_site_file)
    if STDIN in paths and len(paths) > 1:
        raise UsageError(
            "standard input is corrected by itself", expected="- alone, and a run for the files"
        )
    found, written = show_and_write_fixes(
        paths,
        rules=rules,
        settings=settings,
        shelf=shelf,
        on=on.date() if on else None,
        waivers=waivers,
        accepted=accepted,
        yes=yes,
        site=site_for(paths, no_site_file),
    )
    _print_remaining(found, as_error=STDIN in paths)
    return int(not written)


def show_and_write_fixes(
    paths: tuple[Path, ...],
    *,
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    on: datetime.date | None,
    waivers: Path | None,
    accepted: Path | None,
    yes: bool,
    site: SiteFile | None,
) -> tuple[Repair, bool]:
    """Show the safe fixes, and write them if ``yes`` or if the user agrees.

    Returns the fixes, and whether nothing is left to write. Raises as ``api.fixes`` does.
    """
    from .. import api
    from ..report.layout import visible
    from ..source.standard_input import standard_input

    texts = standard_input(paths)
    piped = texts is not None
    found = api.fixes(
        paths,
        api.CheckOptions(
            rules=rules,
            settings=settings,
            shelf=shelf,
            on=on,
            waivers=waivers,
            accepted=accepted,
            site=site,
            texts=texts,
        ),
    )
    _print_visible("".join(change.diff() for change in found.changes), as_error=piped)
    names = ", ".join(visible(change.name) for change in found.changes)
    if texts is not None and yes:
        _print_corrected(found, *texts.values())
    if not found.changes:
        _say("There is no value to write.", piped)
    elif piped and yes:
        pass
    elif piped:
        _say("Nothing was written. --yes prints the corrected file.", piped)
        return found, False
    elif _confirmed(found, yes):
        api.write_fixes(found.changes)
        print_line(f"Written: {names}.")
    else:
        print_line("Nothing was written. --yes writes without asking.")
        return found, False
    return found, True


def _print_corrected(found: Repair, text: str) -> None:
    """Print the text of standard input with the values that rules compute."""
    for change in found.changes:
        text = ("\ufeff" if change.bom else "") + change.after
    write_utf8(text)


def _say(line: str, as_error: bool) -> None:
    print_text(f"{line}\n", options_for(None, error=as_error), error=as_error)


def _confirmed(found: Repair, yes: bool) -> bool:
    if yes:
        return True
    if not sys.stdin.isatty():
        return False
    number = sum(len(change.edits) for change in found.changes)
    what = "this value" if number == 1 else f"these {number} values"
    return click.confirm(f"Write {what}?", default=False)


def _print_remaining(found: Repair, *, as_error: bool) -> None:
    """Print how many findings remain, as a written file may still have some."""
    from ..report.words import uncounted_words

    left = len(found.report.findings)
    if not left:
        return
    text = f"With that, {left} finding{'s are' if left > 1 else ' is'} left"
    text += uncounted_words(found.report.findings)
    if found.at_machine:
        text += f", {found.at_machine} of them with a value that needs work at the machine"
    _say(f"{text}. `axisproof check` shows them.", as_error)


@click.command("serve", epilog=_SERVE_EXAMPLES)
@click.option("--rules", type=FILE, multiple=True, metavar="DIR", help="Rules of your site.")
@settings_option
@shelf_option
@waivers_option
@accepted_option
@site_option
def serve(
    rules: tuple[Path, ...],
    settings: Path | None,
    shelf: Path | None,
    waivers: Path | None,
    accepted: Path | None,
    no_site_file: bool,
) -> int:
    """Serve an editor (Language Server Protocol).

    It uses standard input and output. The editor starts it by itself. It needs the extra `editor`
    of the package. Findings that --waivers or --accepted cover are shown as information. These two
    files, rules, settings and plates are read again each time a text is opened, changed, saved or
    closed. The site file is that of the present folder.
    """
    try:
        from ..editor.server import serve_editor
        from ..editor.side_files import SideFileOptions
    except ModuleNotFoundError as missing:
        if missing.name not in ("pygls", "lsprotocol"):
            raise
        raise UsageError(
            "the language server needs the package pygls, which is not installed",
            expected="axisproof installed with its extra `editor`, for example by "
            "pip install '.[editor]' in its folder",
        ) from None
    return serve_editor(
        SideFileOptions(
            rules, settings, waivers, accepted, shelf, None if no_site_file else Path.cwd()
        )
    )


def _print_visible(text: str, *, as_error: bool) -> None:
    from ..report.layout import visible

    lines = [visible(line) for line in text.split("\n")]
    print_text("\n".join(lines), options_for(None, error=as_error), error=as_error)
