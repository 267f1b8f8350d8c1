"""What the README promises is what CI runs."""

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def readme_commands() -> list[str]:
    lines = (ROOT / "README.md").read_text("utf-8").splitlines()
    return [line.strip() for line in lines if line.startswith("    python3 -m venv")]


def test_the_readme_gives_one_command_for_the_main_job_and_one_for_the_tests() -> None:
    main_job, tests = readme_commands()
    assert main_job.endswith("axisproof check fixtures/demo")
    assert tests.endswith("-m pytest")


def test_ci_runs_the_readmes_test_command_to_the_letter() -> None:
    ci = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert readme_commands()[1] in ci


def test_ci_runs_what_the_readmes_test_command_leaves_out() -> None:
    import tomllib

    options = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["tool"]["pytest"]
    assert "not exhaustive" in options["ini_options"]["addopts"]
    ci = (ROOT / ".ci" / "run").read_text("utf-8").splitlines()
    assert ".venv/bin/python -m pytest -m exhaustive" in ci


def test_every_python_version_that_is_claimed_is_tested_and_none_later_is_shut_out() -> None:
    import tomllib

    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    claimed = [
        each.rpartition(" ")[2]
        for each in project["classifiers"]
        if each.startswith("Programming Language :: Python :: 3.")
    ]
    assert claimed == ["3.11", "3.12", "3.13"]
    assert project["requires-python"] == ">=3.11"
    others = (ROOT / ".ci" / "other_versions").read_text("utf-8")
    assert f"for version in {' '.join(claimed[1:])}; do" in others
    assert "--cov" in others


def test_the_top_level_holds_what_was_agreed_and_nothing_else() -> None:
    import subprocess

    if not (ROOT / ".git").exists():
        pytest.skip("this tree is no git checkout")
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout.splitlines()
    top = {name.split("/")[0] for name in listed}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml"}
    allowed |= {"lint", "rules", "schemas", "tests", "fixtures"}
    assert {name for name in top if not name.startswith(".")} <= allowed
