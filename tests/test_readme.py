"""What README and guide show is run as it stands: commands, Python, CI jobs, in scratch folders."""

from __future__ import annotations

import datetime
import doctest
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import axisproof
import pytest
import yaml
from axisproof.authoring.guide import ORDER, guide_pages
from axisproof.cli import main as cli
from axisproof.cli import options as cli_options
from axisproof.machine.schema import axis_type, facts

from tests.bench.guide_page import PARTS, part_of, with_part

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
PAGES = {page.name: page.text for page in guide_pages() if page.name != "language"}
ALL = "\n".join((README, *PAGES.values()))
COMMANDS = list(
    dict.fromkeys(line.strip() for line in ALL.splitlines() if line.startswith("    axisproof "))
)
ENDLESS = [
    "axisproof check machines --watch",
    "axisproof check machines --cluster tcp://host:8786",
    "axisproof serve",
]
FAULTY = (
    "site/cell",
    "fixtures/demo",
    "check fixtures/imports",
    "axisproof spare",
    "axisproof changes",
)
BLOCKS = re.findall(r"```(\w+)\n(.*?)```", ALL, re.DOTALL)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the fixtures, as the commands expect it."""
    shutil.copytree(ROOT / "fixtures", tmp_path / "fixtures")
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("command", [line for line in COMMANDS if line not in ENDLESS])
def test_every_command_of_readme_and_guide_does_what_it_says(
    command: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    if "--accepted" in command:
        assert cli.run(["accept", "fixtures/demo", "--output", "accepted.yaml"]) == 0
    status = cli.run(shlex.split(command)[1:])
    faulty = any(name in command for name in FAULTY) and "accept" not in command
    faulty = faulty and "fixtures/shelf" not in command  # a spare of the type that is fitted
    assert status == (1 if faulty else 0), capsys.readouterr().err
    written = re.search(r"--output (\S+)", command)
    assert not written or (folder / written[1]).stat().st_size > 1000


def test_the_commands_that_are_run_elsewhere_are_shown() -> None:
    assert set(ENDLESS) <= set(COMMANDS)
    assert len(COMMANDS) >= 30


def test_the_readme_is_one_page_to_read_and_the_rest_is_in_the_guide() -> None:
    assert len(README.splitlines()) <= 130
    assert len((ROOT / "DEVELOPERS.md").read_text("utf-8").splitlines()) <= 120
    assert sum(1 for line in README.splitlines() if line.startswith("    axisproof ")) >= 8
    pages = README[README.index("## The guide") :]
    assert re.findall(r"`([\w-]+)`", pages) == list(ORDER)


@pytest.mark.parametrize("name", PAGES)
def test_every_file_that_a_page_names_is_there(name: str) -> None:
    text = PAGES[name]
    named = set(re.findall(r"(?<![\w/])(?:fixtures|rules|tests|lint)/[\w./-]+\w", text + README))
    kept = {re.sub(r"(\.zip)/.*", r"\1", each) for each in named}  # a file in a zip file
    assert {each for each in kept if not (ROOT / each).exists()} == set()
    topics = set(re.findall(r"axisproof guide ([\w-]+)", text + README)) - {"TOPIC"}
    assert topics <= {page.name for page in guide_pages()}


def test_the_guide_lists_its_pages_and_prints_one(capsysbinary: Any) -> None:
    assert cli.run(["guide"]) == 0
    listed = capsysbinary.readouterr().out.decode()
    for page in guide_pages():
        assert re.search(rf"(?m)^  {page.name} +{re.escape(page.title)}$", listed)
        assert cli.run(["guide", page.name]) == 0
        assert capsysbinary.readouterr().out.decode() == page.text
    assert cli.run(["guide", "nothing"]) == 2
    assert "the guide has no page nothing" in capsysbinary.readouterr().err.decode()


USUAL = {
    "mechanics.stages", "mechanics.final.lead", "mechanics.final.pitch", "mechanics.final.teeth",
    "mechanics.final.module", "mechanics.final.diameter", "mechanics.final.helix_angle",
    "mechanics.load_inertia", "mechanics.travel", "mechanics.limit_switches",
    "controller.homing.switch.position", "controller.homing.index_after_switch",
    "controller.homing.reference_position", "controller.software_limits", "controller.cycle",
    "motor.brake.holding_torque", "mechanics.counterbalance", "mechanics.inclination",
    "mechanics.moved_by_gravity", "mechanics.couplings", "encoder.mounted_on", "encoder.form",
    "encoder.counts_per_revolution", "encoder.distinguishable_revolutions",
    "encoder.turn_counter.battery.places", "encoder.turn_counter.battery.offered_places",
    "encoder.turn_counter.battery.fitted_on",
}  # fmt: skip
"""Facts of a usual axis that somebody reads off at the machine or from a drawing."""


def test_each_fact_has_a_place_and_each_usual_one_a_drawing() -> None:
    rows = dict(re.findall(r"(?m)^\| `([a-z_.]+)` \| (.*) \|$", PAGES["where"]))
    known = {path for path, about in facts(axis_type()).items() if not about.implied}
    assert set(rows) == known
    cells = {fact: row.split(" | ") for fact, row in rows.items()}
    without = {fact for fact, (_, place, _) in cells.items() if not place.strip()}
    assert without <= {"description"}
    drawn = {fact: drawing.strip() for fact, (*_, drawing) in cells.items()}
    assert {fact for fact in USUAL if not drawn[fact]} == set()
    headings = set(re.findall(r"(?m)^## (.+)$", PAGES["facts"]))
    assert set(drawn.values()) - {""} <= headings


def test_what_the_readme_says_was_measured_is_what_a_bench_wrote() -> None:
    faults, speed = (part_of(PAGES["measured"], part) for part in ("faults", "speed"))
    together = re.search(r"\| \*\*together\*\* \| (\d+) \| (\d+) \| (\d+) \|", faults)
    sound = re.search(r"(\d+) sound axes: (\d+) findings", faults)
    share = re.search(r"(?m)^\| 1,000 axes as YAML, all rules [^|]*\| ([\d.]+) \|", speed)
    assert together
    assert sound
    assert share
    assert f"{together[1]} kinds of faults" in README
    assert f"| {together[3]} of {together[2]} |" in README
    assert f"| findings on {sound[1]} sound axes | {sound[2]} |" in README
    assert f"`yaml.load` | {share[1]} |" in README


def test_a_bench_writes_its_own_part_of_the_page_alone() -> None:
    page = PAGES["measured"]
    day = datetime.date(2026, 1, 2)
    for part in PARTS:
        written = with_part(page, part, ["| a |", "|---|", "| 1 |"], day)
        assert part_of(written, part) == "Measured on 2026-01-02.\n\n| a |\n|---|\n| 1 |"
        for other in {*PARTS} - {part}:
            assert part_of(written, other) == part_of(page, other)


def test_the_status_table_of_the_readme_is_that_of_the_help(
    capsys: pytest.CaptureFixture[str],
) -> None:
    cli.run(["check", "--help"])
    shown = capsys.readouterr().out
    for text in (README, PAGES["reports"]):
        assert re.findall(r"(?m)^\| (\d+) \|", text) == ["0", "1", "2", "130"]
    table = re.findall(r"(?m)^\| (\d+) \|", README)
    assert table == ["0", "1", "2", "130"]
    assert all(re.search(rf"(?m)^\s+{status}\s", shown) for status in table)


def test_the_forms_of_the_guide_are_those_there_are() -> None:
    assert tuple(re.findall(r"(?m)^\| `(\w+)` \|", PAGES["reports"])) == cli_options.FORMS


def test_the_python_of_the_guide_gives_what_it_shows(folder: Path) -> None:
    (block,) = [text for language, text in BLOCKS if language == "python"]
    test = doctest.DocTestParser().get_doctest(block, {}, "guide", "python.md", 0)
    assert len(test.examples) >= 6
    results = doctest.DocTestRunner().run(test)
    assert results.failed == 0


def test_importing_axisproof_imports_nothing_else_until_it_is_used() -> None:
    program = (
        "import sys, axisproof; "
        "print([name for name in sys.modules if name.startswith('axisproof.')]); "
        "axisproof.check; print('axisproof.api' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.stdout.split("\n")[:2] == ["[]", "True"]


def test_every_name_that_is_offered_exists() -> None:
    for name in axisproof.__all__:
        assert getattr(axisproof, name).__module__.startswith("axisproof.")
        assert name in dir(axisproof)
    with pytest.raises(AttributeError, match="no attribute 'chekc'"):
        axisproof.chekc  # noqa: B018


# CI ---------------------------------------------------------------------------------------------


def ci_jobs() -> dict[str, list[str]]:
    """The shell lines of each documented job, by the file the job stands in."""
    jobs: dict[str, list[str]] = {}
    for language, text in BLOCKS:
        if language != "yaml":
            continue
        name = text.split()[1]
        plain = yaml.load(text, yaml.BaseLoader)
        if "jobs" in plain:
            (job,) = plain["jobs"].values()
            jobs[name] = [step["run"] for step in job["steps"] if "run" in step]
        else:
            (job,) = plain.values()
            jobs[name] = job["script"]
    return jobs


BAD = "rollover-divides-cycle"


class Repository:
    """A repository of machine files whose changes are checked by one of the documented jobs."""

    def __init__(self, folder: Path, lines: list[str]) -> None:
        self.folder = folder / "repository"
        self.clones = folder / "clones"
        self.lines = lines
        shutil.copytree(ROOT / "fixtures" / "sound", self.folder / "machines")
        self.git("init", "-q", "-b", "main")

    def git(self, *arguments: str) -> None:
        names = ["-c", "user.name=t", "-c", "user.email=t@example.invalid"]
        subprocess.run(["git", *names, *arguments], cwd=self.folder, check=True, timeout=300)

    def commit(self, words: str) -> subprocess.CompletedProcess[str]:
        """Commit everything and run the job on a fresh clone, line by line as CI does."""
        self.git("add", "-A")
        self.git("commit", "-q", "-m", words)
        clone = self.clones / words.replace(" ", "-")
        self.clones.mkdir(exist_ok=True)
        source = self.folder.as_uri()
        subprocess.run(["git", "clone", "-q", source, str(clone)], check=True, timeout=300)
        summary = clone / "summary.md"
        # The interpreter of the tests has axisproof; .ci/run installs it from a wheel.
        path = os.pathsep.join([str(Path(sys.executable).parent), os.environ["PATH"]])
        environment = {**os.environ, "PATH": path, "GITHUB_STEP_SUMMARY": str(summary)}
        program = "\n".join(["set -e", *self.lines])
        done = subprocess.run(
            ["bash", "-c", program],
            cwd=clone,
            env=environment,
            capture_output=True,
            text=True,
            timeout=300,
        )
        left = [file for file in (summary, clone / "axisproof.xml") if file.exists()]
        assert left, done.stderr
        self.report = left[0].read_text("utf-8")
        return done

    def told(self, rule: str) -> int:
        """How often the last report tells of a broken rule."""
        plain = self.report.replace("\\", "")
        if plain.startswith("<?xml"):
            return len(re.findall(rf'<testcase name="{rule}"[^>]*[^/]>\s*<failure', plain))
        return len(re.findall(rf"(?m)^### Error: {rule}\b", plain))


@pytest.mark.parametrize(
    "name",
    [
        ".github/workflows/axisproof.yml",
        pytest.param(".gitlab-ci.yml", marks=pytest.mark.exhaustive),
    ],
)
def test_the_documented_job_blocks_a_bad_change_and_passes_its_repair(
    name: str, tmp_path: Path
) -> None:
    lines = ci_jobs()[name]
    install, *rest = lines
    assert install == 'pip install "$AXISPROOF"'
    repository = Repository(tmp_path, rest)
    assert repository.commit("a sound machine").returncode == 0

    hall = repository.folder / "machines" / "hall.yaml"
    sound = hall.read_text("utf-8")
    bad = sound.replace("distinguishable_revolutions: 65534", "distinguishable_revolutions: 65536")
    assert bad != sound
    hall.write_text(bad, "utf-8")
    assert repository.commit("a motor swapped in haste").returncode == 1
    assert repository.told(BAD) == 1

    hall.write_text(sound, "utf-8")
    assert repository.commit("turn count put right").returncode == 0
    assert repository.told(BAD) == 0


# Watching ---------------------------------------------------------------------------------------


def read_until(stream: int, wanted: str, seen: str = "") -> str:
    while wanted not in seen:
        data = os.read(stream, 4096)
        assert data, seen
        seen += data.decode()
    return seen


def save(path: Path, text: str, encoding: str) -> None:
    """Save as an editor does: in one step, so that nobody reads half a file."""
    new = path.with_suffix(".new")
    new.write_text(text, encoding)
    new.replace(path)


def test_watch_checks_again_on_save_and_ends_with_130(folder: Path) -> None:
    shutil.copytree(folder / "fixtures" / "sound", folder / "machines")
    (command,) = [line for line in COMMANDS if "--watch" in line]
    program = [sys.executable, "-m", *shlex.split(command)]
    environment = {**os.environ, "PYTHONUTF8": "1"}
    with subprocess.Popen(
        program, cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=environment
    ) as watching:
        try:
            assert watching.stdout
            stream = watching.stdout.fileno()
            first = read_until(stream, "Ctrl-C ends.")
            assert "Every check that applied passed" in " ".join(first.split())
            hall = folder / "machines" / "hall.yaml"
            sound = hall.read_text("utf-8")
            save(hall, sound.replace("revolutions: 65534", "revolutions: 65536"), "utf-8")
            second = read_until(stream, "Ctrl-C ends.")
            assert "changed: hall.yaml" in second
            assert "rollover-divides-cycle" in second
            save(hall, sound.replace("format: 1", "format: one"), "utf-8")
            assert "Unusable input" in read_until(stream, "Ctrl-C ends.")
            save(hall, sound, "utf-8")
            assert "passed" in read_until(stream, "Ctrl-C ends.")
            assert "\x1b" not in first + second
        finally:
            watching.send_signal(signal.SIGINT)
        assert watching.wait(30) == 130


def test_watch_goes_only_with_text_on_the_screen(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert cli.run(["check", "fixtures/sound", "--watch", "--format", "json"]) == 2
    assert "--watch goes with neither --format nor --output" in capsys.readouterr().err
