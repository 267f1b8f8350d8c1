"""The command line: it reads options, calls the API and prints.

Exit status: 0 no finding at or above the failing level, 1 a finding there, 2 unusable input or
usage or an unforeseen failure, 130 interrupted.
"""

from __future__ import annotations

import datetime
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import click

from ..base.errors import AxisproofError, UsageError
from . import asking as cli_asking
from . import changes as cli_changes
from . import editing as cli_editing
from . import guide as cli_guide
from . import importing as cli_import
from . import matching as cli_match
from . import merge as cli_merge
from . import site as cli_site
from . import swap as cli_swap
from .console import (
    explain_failure,
    options_for,
    print_line,
    print_text,
    require_usable,
    write_utf8,
)
from .options import (
    FILE,
    USER_CACHE,
    accepted_option,
    axis_option,
    cache_option,
    cluster_option,
    day_option,
    detail_option,
    fails_at_findings,
    force_option,
    form_option,
    jobs_option,
    no_cache_option,
    output_option,
    quiet_option,
    record_option,
    rules_option,
    select_option,
    settings_option,
    shard_option,
    shelf_option,
    site_option,
    stated,
    statistics_option,
    undecided_option,
    unwrapped,
    verbose_option,
    waivers_option,
    width_option,
    workings_option,
)

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem


SCHEMAS: Final = tuple(
    "machine settings findings changes waivers accepted mapping project part site spare"
    " recalibration".split()
)

SHELLS: Final = ("bash", "zsh", "fish")

_SETTINGS: Final = {"help_option_names": ["-h", "--help"], "max_content_width": 90}


_EXIT = """
Exit status:
  0    no finding at or above the failing level
  1    there is one. Or a check cannot be decided (with --undecided-fails). Or
       checks of turn counter, gearing, homing, interlock, brake or gantry of an
       axis lack one line for an error, or none of them can be decided
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
  axisproof check hall.yaml --detail --axis lift
  axisproof check hall.yaml --workings --on 2026-02-03
  axisproof check machines/ --select gearing --statistics
  axisproof check machines/ --format html --output report.html --force
  axisproof check machines/ --format sarif --fail-at error
  axisproof check machines/ --format junit --undecided-fails
  axisproof check machines/ --fix
  axisproof check archive/ --jobs 8 --cache
  axisproof check archive/ --shard 2/5 --record shard-2.json --fail-at never

Forms:
  text         for people at a terminal: a table, then short findings
  lines        one line a finding, for search and for problem lists of editors
  annotations  commands that a hosted build shows at the lines of a change
  codequality  a list for the code quality of a merge request
  json         for programs, as `axisproof schema findings` describes
  sarif        for code review and editors (SARIF 2.1.0)
  junit        for test dashboards, where a check that cannot be decided is skipped
  markdown     a summary for a merge request
  html         one page with pictures of the axes, which loads nothing
{_EXIT}"""
_EXPLAIN_EXAMPLES = """
Examples:
  axisproof explain rollover-divides-cycle
  axisproof explain rollover-divides-cycle --source
  axisproof explain controller.unfolding
  axisproof explain "wraps retained"
"""
_RULES_EXAMPLES = """
Examples:
  axisproof rules list gearing
  axisproof rules list --settings
  axisproof rules guide
  axisproof rules facts gravity
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

To have it in each shell (for bash, zsh is similar):
  eval "$(axisproof completion bash)"    as a line of ~/.bashrc
"""


@click.group(context_settings=_SETTINGS, no_args_is_help=True, epilog=unwrapped(_GROUP_EXAMPLES))
@click.version_option(package_name="axisproof", message="axisproof %(version)s")
def cli() -> None:
    """Check that drive, encoder, controller and mechanics of servo axes agree."""


@cli.command(epilog=unwrapped(_CHECK_EXAMPLES))
@click.argument("paths", nargs=-1, type=FILE, metavar="PATH...")
@rules_option
@settings_option
@shelf_option
@day_option("Check for this day (ages of batteries and the like). Default: today.")
@detail_option
@workings_option
@quiet_option
@statistics_option
@verbose_option
@select_option
@axis_option
@click.option(
    "--every-outcome",
    is_flag=True,
    help="List also the checks that passed or do not apply, with the reason.",
)
@click.option(
    "--pictures",
    is_flag=True,
    help="Add the data of the pictures of the axes (json). html always has them.",
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
    help="First correct values that no device holds, as `axisproof fix` does. It shows the change "
    "and asks.",
)
@click.option("--yes", is_flag=True, help="With --fix: write without asking.")
@click.option("--watch", is_flag=True, help="Check again each time a file is saved. Ctrl-C ends.")
@jobs_option
@cluster_option
@cache_option
@no_cache_option
@shard_option
@record_option
@width_option
@site_option
def check(
    paths: tuple[Path, ...], on: datetime.datetime | None, fix: bool, yes: bool, **given: Any
) -> int:
    """Check machine files and print findings.

    In a folder, all machine files are checked. Each file of another program is skipped and counted.
    A table shows what failed on each axis, the worst first. Each finding says what is wrong, where
    it is written, and what to do. --detail adds the numbers and the reason. If data is missing, a
    check cannot be decided. The report names the missing data. Without PATH, the command checks
    what the site file names (`axisproof schema site`).
    """
    from ..base.safe_write import refuse_to_replace
    from .check import CheckCommand, check_and_show
    from .site import paths_of_site_file, site_for

    if given["cache"] is USER_CACHE:
        from ..batch.cache import users_folder

        given["cache"] = users_folder()
    named = stated("form", "fail_at")
    options = CheckCommand(on=on.date() if on else None, given=named, **given)
    paths = paths or paths_of_site_file(options.no_site_file)
    for file in filter(None, (options.output, options.record)):
        refuse_to_replace(file, options.force, paths)
    if options.output is not None and options.output == options.record:
        raise UsageError(f"{options.output} cannot take report and record", expected="two files")
    if yes and not fix:
        raise UsageError("--yes belongs to --fix", expected="--fix --yes")
    if fix:
        if options.watch or options.form != "text":
            raise UsageError("--fix goes with neither --watch nor --format", expected="text")
        if Path("-") in paths:
            raise UsageError(
                "standard input is no file that --fix could write",
                expected="`axisproof fix - --yes`, which prints the corrected file",
            )
        cli_editing.show_and_write_fixes(
            paths,
            rules=options.rules,
            settings=options.settings,
            shelf=options.shelf,
            on=options.on,
            waivers=options.waivers,
            accepted=options.accepted,
            yes=yes,
            site=site_for(paths, options.no_site_file),
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


def _concern_names(
    context: click.Context, parameter: click.Parameter, typed: str
) -> list[CompletionItem]:
    """Complete the name of a concern, as ``_rule_names`` does that of a rule."""
    from click.shell_completion import CompletionItem

    from .. import api

    try:
        rules = api.list_rules(context.params.get("rules") or ())
    except AxisproofError:
        return []
    names = sorted({rule.concern for rule in rules})
    return [CompletionItem(name) for name in names if name.startswith(typed)]


@cli.command(epilog=unwrapped(_EXPLAIN_EXAMPLES))
@click.argument("rule", metavar="NAME", shell_complete=_rule_names)
@rules_option
@click.option("--source", is_flag=True, help="Print also the rule as it is written.")
@width_option
@site_option
def explain(
    rule: str, rules: tuple[Path, ...], source: bool, width: int | None, no_site_file: bool
) -> None:
    """Print what a rule requires, or what a fact means.

    For a rule, prints also its basis, settings and examples. NAME can be a fact such as
    controller.unfolding, or a word of the vocabulary such as "wraps retained".
    """
    from .. import api
    from ..report.rule_text import render_facts, render_rule

    options = options_for(width)
    found = api.explain(rule, cli_site.rules_for(rules, no_site_file))
    if isinstance(found, tuple):
        print_text(render_facts(found, options), options)
    else:
        print_text(render_rule(found, options, source=source), options)


@cli.group("rules", epilog=unwrapped(_RULES_EXAMPLES))
def rules_group() -> None:
    """List rules and their words, run their examples, write pages."""


@rules_group.command("list")
@click.argument("concern", required=False, shell_complete=_concern_names)
@rules_option
@click.option("--all", "every", is_flag=True, help="List the rules of all concerns.")
@click.option("--settings", is_flag=True, help="List the settings that a site can change instead.")
@width_option
@site_option
def list_rules(
    concern: str | None,
    rules: tuple[Path, ...],
    every: bool,
    settings: bool,
    width: int | None,
    no_site_file: bool,
) -> None:
    """List the concerns, or the rules of one CONCERN."""
    from .. import api
    from ..report.rule_text import render_concerns, render_rules, render_settings

    options = options_for(width)
    rules = cli_site.rules_for(rules, no_site_file)
    if settings:
        print_text(render_settings(api.list_settings(rules), options), options)
        return
    found = api.list_rules(rules)
    if concern not in (None, *(names := sorted({rule.concern for rule in found}))):
        raise UsageError(f"there is no concern {concern}", expected=", ".join(names))
    listed = [rule for rule in found if concern in (None, rule.concern)]
    render = render_rules if every or concern else render_concerns
    print_text(render(listed, options), options)


@rules_group.command("facts")
@click.argument("words", nargs=-1, metavar="[WORD...]")
@rules_option
@width_option
@site_option
def list_names(
    words: tuple[str, ...], rules: tuple[Path, ...], width: int | None, no_site_file: bool
) -> None:
    """List what a rule can name: facts, definitions, settings, functions.

    With WORD, lists only those with this word in name, kind or meaning. With several words, all of
    them must be there. Each is shown with its kind, its unit and its meaning.
    """
    from .. import api
    from ..report.rule_text import render_names

    options = options_for(width)
    found = api.list_names(words, cli_site.rules_for(rules, no_site_file))
    print_text(render_names(found, options), options)


@rules_group.command("guide")
def print_guide() -> None:
    """Print the page that describes the rule language."""
    from ..base.package_data import read_text

    write_utf8(read_text("axisproof.rules", "reference.md"))


@rules_group.command("test")
@click.argument("paths", nargs=-1, type=FILE, metavar="[PATH...]")
@width_option
def test_rules(paths: tuple[Path, ...], width: int | None) -> int:
    """Run the examples of the rules at PATH.

    Without PATH, runs those of the shipped rules. Exits with 1 if an example disagrees with its
    rule. Exits with 1 too if no example notices a small alteration of the rule.
    """
    from .. import api
    from ..report.rule_text import render_rule_test

    options = options_for(width)
    report = api.test_rules(paths)
    print_text(render_rule_test(report, options), options)
    return int(not report.clean)


@rules_group.command("pages")
@click.argument("folder", type=FILE)
@rules_option
@click.option("--force", is_flag=True, help="Replace existing pages.")
@site_option
def write_pages(folder: Path, rules: tuple[Path, ...], force: bool, no_site_file: bool) -> None:
    """Write a page (HTML) for each concern, and the guide, into FOLDER.

    The page index.html leads to them. A page of a concern shows the meaning, formula, basis and
    settings of each rule. It also shows what the rule finds in one of its examples.
    """
    from .. import api
    from ..authoring.guide import guide_pages
    from ..base.safe_write import write_folder
    from ..report.concern_pages import INDEX, render
    from ..report.layout import visible

    guide = {page.name: (page.title, page.text) for page in guide_pages()}
    pages = render(api.concerns(cli_site.rules_for(rules, no_site_file)), guide)
    write_folder(folder, pages, force=force)
    print_line(f"Written: {len(pages)} pages. Begin with {visible(str(folder / INDEX))}.")


@cli.command(epilog=unwrapped(_SCHEMA_EXAMPLES))
@click.argument("name", type=click.Choice(SCHEMAS), metavar="[NAME]", default="machine")
def schema(name: str) -> None:
    """Print a published JSON Schema.

    For input, NAME is machine (the default), project, mapping or part. For other files of a site it
    is site, settings, waivers or accepted. For json reports it is findings, changes, spare or
    recalibration.
    """
    from importlib.resources import files

    text = files("axisproof.schemas").joinpath(f"{name}.schema.json").read_text("utf-8")
    write_utf8(text)


@cli.command(epilog=unwrapped(_COMPLETION_EXAMPLES))
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
            require_usable(argument)
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


cli_import.register(cli)
cli_match.register(cli)
cli_changes.register(cli)
cli_asking.register(cli)
cli_editing.register(cli)
cli_swap.register(cli)
cli_guide.register(cli)
cli_merge.register(cli)
cli_site.register(cli)


def main() -> None:
    """Entry point of the ``axisproof`` command."""
    sys.exit(run())
