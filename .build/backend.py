"""How axisproof is built: setuptools, and the files that are generated from rules and schema.

A wheel holds the generated files. An editable install writes them into the checkout, where git
ignores them.
"""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

from generated_files import render, write_into_checkout
from setuptools import build_meta
from setuptools.build_meta import (
    build_sdist,
    build_wheel,
    get_requires_for_build_editable,
    get_requires_for_build_sdist,
    get_requires_for_build_wheel,
    prepare_metadata_for_build_editable,
    prepare_metadata_for_build_wheel,
)
from setuptools.command.build_py import build_py
from setuptools.command.egg_info import manifest_maker

__all__ = [
    "BuildPy",
    "build_editable",
    "build_sdist",
    "build_wheel",
    "get_requires_for_build_editable",
    "get_requires_for_build_sdist",
    "get_requires_for_build_wheel",
    "prepare_metadata_for_build_editable",
    "prepare_metadata_for_build_wheel",
]

manifest_maker.template = ".build/MANIFEST.in"


def build_editable(
    wheel_directory: str,
    config_settings: dict[str, Any] | None = None,
    metadata_directory: str | None = None,
) -> str:
    """Write the generated files into the checkout and build the wheel that refers to it."""
    write_into_checkout()
    made: str = build_meta.build_editable(wheel_directory, config_settings, metadata_directory)
    return made


class BuildPy(build_py):
    """Collects the modules of a wheel, the generated ones included."""

    def run(self) -> None:
        """Collect them in an empty folder: what a former build left there belongs to no wheel."""
        if self.editable_mode:
            super().run()
            return
        shutil.rmtree(self.build_lib, ignore_errors=True)
        super().run()
        for name, text in render(for_checkout=False).items():
            path = Path(self.build_lib, "axisproof", name)
            path.write_text(text, "utf-8", newline="\n")
