"""Repositories of git for tests, with commits of nobody real."""

from __future__ import annotations

import subprocess
from pathlib import Path

WHO = ("-c", "user.name=a role", "-c", "user.email=role@example.invalid")


def git(folder: Path, *arguments: str, stdin: bytes = b"") -> str:
    """Run git in a folder and return what it prints, stripped.

    Raises CalledProcessError if git fails.
    """
    command = ["git", *WHO, *arguments]
    done = subprocess.run(command, cwd=folder, check=True, capture_output=True, input=stdin)
    return done.stdout.decode().strip()


def commit(folder: Path) -> None:
    """Commit all that is in a folder, even if nothing changed."""
    git(folder, "add", "-A")
    git(folder, "commit", "-qm", "as it is", "--allow-empty")
