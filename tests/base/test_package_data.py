"""Texts inside the package: alike from a folder and from an archive, whatever ends their lines."""

import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from axisproof.base.package_data import fingerprint, names, read_text

TEXTS = {"__init__.py": "", "a.rules": "one\r\ntwo\rthree\nµ\n", "b.rules": ""}


@pytest.fixture(params=["folder", "archive"])
def package(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    name = f"shipped_in_{request.param}"
    if request.param == "folder":
        place = tmp_path / "site"
        (place / name).mkdir(parents=True)
        for file, text in TEXTS.items():
            (place / name / file).write_bytes(text.encode())
    else:
        place = tmp_path / "site.zip"
        with zipfile.ZipFile(place, "w") as archive:
            for file, text in TEXTS.items():
                archive.writestr(f"{name}/{file}", text)
    sys.path.insert(0, str(place))
    yield name
    sys.path.remove(str(place))
    sys.modules.pop(name)


def test_texts_are_read_with_plain_line_breaks(package: str) -> None:
    assert read_text(package, "a.rules") == "one\ntwo\nthree\nµ\n"
    assert read_text(package, "b.rules") == ""
    with pytest.raises(OSError, match=r"c\.rules"):
        read_text(package, "c.rules")


def test_names_are_sorted(package: str) -> None:
    assert [name for name in names(package) if name != "__pycache__"] == list(TEXTS)


def test_a_fingerprint_depends_on_all_text_and_not_on_how_it_is_cut() -> None:
    assert fingerprint(["ab", "c"]) == fingerprint(["abc"]) != fingerprint(["acb"])
    assert fingerprint([]) == "0-00000000"
