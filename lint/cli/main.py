"""The command line: it reads options, calls the API and prints.

Exit status: 0 no finding at or above the failing level, 1 a finding there, 2 unusable input or
usage or an unforeseen failure, 130 interrupted.
"""

from __future__ import annotations

import datetime
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from ..base.errors import AxisproofError, UsageError
from . import changes as cli_changes
from . import editing as cli_editing
from . import importing as cli_import
from . import merge as cli_merge
from . import swap as cli_swap
from .console import explain_failure, options_for, print_line, print_text, write_utf8
from .options import (
    FILE,
    USER_CACHE,
    accepted_option,
    cache_option,
    day_option,
    fails_at_findings,
    force_option,
    form_option,
    jobs_option,
    no_cache_option,
    output_option,
    record_option,
    rules_option,
    settings_option,
    shard_option,
    undecided_option,
    waivers_option,
    width_option,
    workings_option,
)

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem


SCHEMAS: Final = tuple(
    "machine findings changes waivers accepted mapping project part spare recalibration".split()
)

SHELLS: Final = ("bash", "zsh", "fish")

_SETTINGS: Final = {"help_option_names": ["-h", "--help"], "max_content_width": 90}


def _unwrapped(text: str) -> str:
    """Return an epilog whose paragraphs click does not wrap."""
    return "\n\n".join(f"\b\n{paragraph}" for paragraph in text.strip().split("\n\n"))


_EXIT = """
Exit status:
  0    no finding at or above the failing level
  1    there is one (or an undecided check, with --undecided-fails), or on an
       axis nothing about turn counter, gearing, homing or interlock could be
       decided
  2    the input, a rule or the command line cannot be used
  130  interrupted
"""
_GROUP_EXAMPLES = """
Examples:
  axisproof check machines/
  axisproof explain rollover-divides-cycle
  axisproof rules list

`axisproof COMMAND --help` says more and gives examples.
"""
_CHECK_EXAMPLES = f"""
Examples:
  axisproof check hall.yaml
  axisproof check machines/ --settings site.yaml --rules site-rules/
  axisproof check hall.yaml --workings --on 2026-02-03
  axisproof check machines/ --format html --output report.html --force
  axisproof check machines/ --format sarif --fail-at error
  axisproof check machines/ --format junit --undecided-fails
  axisproof check machines/ --fix
  axisproof check archive/ --jobs 8 --cache
  axisproof check archive/ --shard 2/5 --record shard-2.json --fail-at never

Forms:
  text      for people at a terminal
  json      for programs, as `axisproof schema findings` describes
  sarif     for code review and editors (SARIF 2.1.0)
  junit     for test dashboards; an undecided check counts as skipped
  markdown  a summary for a merge request
  html      one page with pictures of the axes, which loads nothing
{_EXIT}"""
_EXPLAIN_EXAMPLES = """
Examples:
  axisproof explain rollover-divides-cycle
  axisproof explain rollover-divides-cycle --source
"""
_RULES_EXAMPLES = """
Examples:
  axisproof rules list
  axisproof rules list --settings
  axisproof rules test site-rules/
  axisproof rules pages catalogue/
"""
_SCHEMA_EXAMPLES = """
Examples:
  axisproof schema machine
  axisproof schema findings
"""
_COMPLETION_EXAMPLES = """
Examples:
  axisproof completion bash
  axisproof completion fish

To have it in every shell (bash shown; zsh is alike):
  eval "$(axisproof completion bash)"    as a line of ~/.bashrc
"""


@click.group(context_settings=_SETTINGS, no_args_is_help=True, epilog=_unwrapped(_GROUP_EXAMPLES))
@click.version_option(package_name="axisproof", message="axisproof %(version)s")
def cli() -> None:
    """Check that drive, encoder, controller and mechanics of servo axes tell the same story."""


@cli.command(epilog=_unwrapped(_CHECK_EXAMPLES))
@click.argument("paths", nargs=-1, required=True, type=FILE, metavar="PATH...")
@rules_option
@settings_option
@day_option("Check as of this day (battery ages and the like); otherwise today.")
@workings_option
@click.option(
    "--every-outcome", is_flag=True, help="List also what held and what did not apply, and why."
)
@click.option(
    "--pictures", is_flag=True, help="Give what pictures of the axes show (json; html has them)."
)
@form_option
@output_option
@force_option
@fails_at_findings
@waivers_option
@accepted_option
@undecided_option
@click.option(
    "--fix",
    is_flag=True,
    help="First write values that rules compute and that need nobody at the machine, as "
    "`axisproof fix` does: it shows the change and asks.",
)
@click.option("--yes", is_flag=True, help="With --fix: write without asking.")
@click.option("--watch", is_flag=True, help="Check again whenever a file is saved; Ctrl-C ends.")
@jobs_option
@cache_option
@no_cache_option
@shard_option
@record_option
@width_option
def check(
    paths: tuple[Path, ...], on: datetime.datetime | None, fix: bool, yes: bool, **given: Any
) -> int:
    """Check machine files and print findings.

    In a folder all of them are checked. Every finding points at the line, shows the numbers it was
    computed from, and says why it matters and what to do. A check that lacks a fact is undecided
    and says which fact.
    """
    from ..base.safe_write import refuse_to_replace
    from .check import CheckCommand, check_and_show

    if given["cache"] is USER_CACHE:
        from ..batch.cache import users_folder

        given["cache"] = users_folder()
    options = CheckCommand(on=on.date() if on else None, **given)
    for file in filter(None, (options.output, options.record)):
        refuse_to_replace(file, options.force, paths)
    if options.output is not None and options.output == options.record:
        raise UsageError(f"{options.output} cannot take report and record", expected="two files")
    if yes and not fix:
        raise UsageError("--yes belongs to --fix", expected="--fix --yes")
    if fix:
        if options.watch or options.form != "text":
            raise UsageError("--fix goes with neither --watch nor --format", expected="text")
        cli_editing.show_and_write_fixes(
            paths,
            rules=options.rules,
            settings=options.settings,
            on=options.on,
            waivers=options.waivers,
            accepted=options.accepted,
            yes=yes,
        )
        print_line("")
    return check_and_show(paths, options)


def _rule_names(
    context: click.Context, parameter: click.Parameter, typed: str
) -> list[CompletionItem]:
    """Complete a rule's name; without any message about errors, as a shell expects."""
    from click.shell_completion import CompletionItem

    from .. import api

    try:
        rules = api.list_rules(context.params.get("rules") or ())
    except AxisproofError:
        return []
    return [
        CompletionItem(rule.name, help=rule.title) for rule in rules if rule.name.startswith(typed)
    ]


@cli.command(epilog=_unwrapped(_EXPLAIN_EXAMPLES))
@click.argument("rule", metavar="RULE", shell_complete=_rule_names)
@rules_option
@click.option("--source", is_flag=True, help="Print also the rule as it is written.")
@width_option
def explain(rule: str, rules: tuple[Path, ...], source: bool, width: int | None) -> None:
    """Print what a rule requires and why.

    Prints also its basis, settings and examples.
    """
    from .. import api
    from ..report.rule_text import render_rule

    options = options_for(width)
    print_text(render_rule(api.explain(rule, rules), options, source=source), options)


@cli.group("rules", epilog=_unwrapped(_RULES_EXAMPLES))
def rules_group() -> None:
    """List rules, run their examples or write pages about them."""


@rules_group.command("list")
@rules_option
@click.option("--settings", is_flag=True, help="List the settings a site may change instead.")
@width_option
def list_rules(rules: tuple[Path, ...], settings: bool, width: int | None) -> None:
    """List the shipped rules and those of your site."""
    from .. import api
    from ..report.rule_text import render_rules, render_settings

    options = options_for(width)
    if settings:
        print_text(render_settings(api.list_settings(rules), options), options)
    else:
        print_text(render_rules(api.list_rules(rules), options), options)


@rules_group.command("test")
@click.argument("paths", nargs=-1, type=FILE, metavar="[PATH...]")
@width_option
def test_rules(paths: tuple[Path, ...], width: int | None) -> int:
    """Run the examples of the rules at PATH.

    Without PATH, those of the shipped rules. Exits with 1 if an example disagrees with its rule, or
    if the examples of a rule do not tell it from a slightly altered one.
    """
    from .. import api
    from ..report.rule_text import render_rule_test

    options = options_for(width)
    report = api.test_rules(paths)
    print_text(render_rule_test(report, options), options)
    return int(bool(report.faults))


@rules_group.command("pages")
@click.argument("folder", type=FILE)
@rules_option
@click.option("--force", is_flag=True, help="Replace pages that are there.")
def write_pages(folder: Path, rules: tuple[Path, ...], force: bool) -> None:
    """Write a page (HTML) for each concern into FOLDER.

    One more, index.html, leads to them. A page says of each rule what it means, its formula, its
    basis and settings, and shows what it finds in one of its own examples.
    """
    from .. import api
    from ..base.safe_write import write_folder
    from ..report.concern_pages import INDEX, render
    from ..report.layout import visible

    pages = render(api.concerns(rules))
    write_folder(folder, pages, force=force)
    print_line(f"Written: {len(pages)} pages; begin with {visible(str(folder / INDEX))}.")


@cli.command(epilog=_unwrapped(_SCHEMA_EXAMPLES))
@click.argument(
    "name",
    type=click.Choice(SCHEMAS),
    metavar="[NAME]",
    default="machine",
)
def schema(name: str) -> None:
    """Print a published JSON Schema.

    NAME is machine (the default), project, mapping or part for what is read; waivers or accepted
    for what stands beside it; findings, changes, spare or recalibration for json reports.
    """
    from importlib.resources import files

    text = files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text("utf-8")
    write_utf8(text)


@cli.command(epilog=_unwrapped(_COMPLETION_EXAMPLES))
@click.argument("shell", type=click.Choice(SHELLS), metavar=f"{'|'.join(SHELLS)}")
def completion(shell: str) -> None:
    """Print the script for completion in a shell.

    It completes commands, options and rule names.
    """
    from click.shell_completion import get_completion_class

    kind = get_completion_class(shell)
    assert kind is not None
    write_utf8(kind(cli, {}, "axisproof", "_AXISPROOF_COMPLETE").source())


def run(arguments: Sequence[str] | None = None) -> int:
    """Run a command (``sys.argv`` by default) and return its exit status; never raises."""
    out = sys.stdout
    try:
        for argument in arguments or ():
            _require_usable(argument)
        # click handles no errors: all messages have one look, and status 1 means findings only.
        status: Any = cli.main(arguments, prog_name="axisproof", standalone_mode=False)
        return status if isinstance(status, int) else 0
    except (KeyboardInterrupt, click.Abort):
        return 130
    except click.exceptions.NoArgsIsHelpError as error:
        print_text(f"{error.format_message()}\n", options_for(None, error=True), error=True)
        return 2
    except click.ClickException as error:
        context = getattr(error, "ctx", None)
        taken = context.params.get("cache") if context else None
        if isinstance(error, click.MissingParameter) and taken not in (None, USER_CACHE):
            what = f"no PATH is left: --cache took {taken} as its folder"
            expected = "paths before --cache, or another option between --cache and them"
            return explain_failure(UsageError(what, expected=expected))
        command = context.command_path if context else "axisproof"
        expected = f"what `{command} --help` lists"
        return explain_failure(UsageError(error.format_message(), expected=expected))
    except SystemExit:
        if sys.stdout is not out:  # click: nobody reads --help or --version
            return 0
        raise
    except Exception as error:
        return explain_failure(error)


def _require_usable(argument: str) -> None:
    """Raise UsageError for a text that no system can pass to a program or open as a file."""
    try:
        unusable = b"\0" in os.fsencode(argument)
    except UnicodeEncodeError:
        unusable = True
    if unusable:
        raise UsageError(
            f"the argument {argument} holds a character that no name of a file can hold",
            expected="an argument without it",
        )


cli_import.register(cli)
cli_changes.register(cli)
cli_editing.register(cli)
cli_swap.register(cli)
cli_merge.register(cli)


def main() -> None:
    """Entry point of the ``axisproof`` command."""
    sys.exit(run())
