"""Less evidence never acquits on random machines: no check holds for want of a fact.

No failed or undecided check holds without a fact. A failed check may become "does not apply" only
in rules that compare two statements.
"""

from __future__ import annotations

import pytest

from tests.properties.acquittals import tried


@pytest.mark.parametrize("seed", range(3))
def test_no_facts_left_out_of_a_random_machine_acquit(seed: int) -> None:
    assert tried(seed, 15, 10) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("seed", range(3, 63))
def test_no_facts_left_out_of_many_random_machines_acquit(seed: int) -> None:
    assert tried(seed, 40, 20) == []
