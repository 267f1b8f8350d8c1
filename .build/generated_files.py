"""Makes the files that are generated from rules and schema, with the code of this source tree.

``python .build/generated_files.py`` writes them into the checkout, as an editable install does.
"""

from __future__ import annotations

import py_compile
import sys
from collections.abc import Mapping
from importlib.util import module_from_spec, spec_from_file_location
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PACKAGES = {"axisproof": "lint", "axisproof.rules": "rules", "axisproof.schemas": "schemas"}
"""Packages and their folders, as in pyproject.toml."""


def import_axisproof() -> None:
    """Import the package from its folders in this source tree, whatever else is installed."""
    for name, folder in PACKAGES.items():
        place = ROOT / folder
        spec = spec_from_file_location(
            name, place / "__init__.py", submodule_search_locations=[str(place)]
        )
        assert spec is not None
        assert spec.loader is not None
        module = module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)


def render(*, for_checkout: bool) -> Mapping[str, str]:
    """Make the generated files of this source tree: texts by folder and name."""
    import_axisproof()
    from axisproof.catalogue import build

    texts: Mapping[str, str] = build.render(for_checkout=for_checkout)
    return texts


def write_into_checkout() -> None:
    """Write the generated files beside the rules and the schema, each in one step."""
    texts = render(for_checkout=True)
    from axisproof.base.safe_write import write_file

    for name, text in texts.items():
        path = ROOT / name
        write_file(path, text, force=True)
        if path.suffix == ".py":  # pip compiles a wheel, but no checkout
            py_compile.compile(str(path), doraise=True)


if __name__ == "__main__":
    write_into_checkout()
