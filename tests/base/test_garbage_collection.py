"""The collector of garbage: held back in a check, restored whatever happens, no machine left."""

import datetime
import gc
import json
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import InputError
from axisproof.base.garbage_collection import held_back
from axisproof.checking.reading import Rules
from axisproof.checking.record import CheckRequest, make_records
from axisproof.engine.engine import Options
from axisproof.importing.entry import find_candidates
from axisproof.machine.records import RecordNotes

SOUND = Path(__file__).parents[2] / "fixtures" / "sound" / "table.json"
DAY = datetime.date(2026, 6, 1)


@pytest.fixture(autouse=True)
def as_before() -> Iterator[None]:
    yield
    gc.enable()


def test_it_is_at_work_afterwards_if_it_was_before() -> None:
    with held_back():
        assert not gc.isenabled()
        with held_back():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()
    gc.disable()
    with held_back():
        pass
    assert not gc.isenabled()


def test_it_is_at_work_again_after_a_check_and_after_one_that_failed(tmp_path: Path) -> None:
    api.check([SOUND], api.CheckOptions(on=DAY))
    assert gc.isenabled()
    bad = tmp_path / "bad.yaml"
    bad.write_text("format: 1\nmachine: m\naxes: {}\n", "utf-8")
    with pytest.raises(InputError):
        api.check([bad], api.CheckOptions(on=DAY))
    assert gc.isenabled()


def axes_in_memory() -> int:
    """Axes name their machine, which names its axes: only the collector can take them away."""
    return sum(type(each) is RecordNotes and each.machine is not None for each in gc.get_objects())


def test_of_many_files_only_one_machine_is_in_memory_at_a_time(tmp_path: Path) -> None:
    for number in range(5):
        shutil.copy(SOUND, tmp_path / f"m{number}.json")
    orders = CheckRequest(Rules.of((), None), DAY, Options())
    gc.collect()
    before = axes_in_memory()
    axes = len(json.loads(SOUND.read_text("utf-8"))["axes"])
    with held_back():
        for made in make_records(find_candidates([tmp_path]), orders):
            assert made.record.judged
            assert axes_in_memory() <= before + axes
