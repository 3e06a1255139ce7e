"""What the program says to single slips of the hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.pipeline import validate
from tests.slips.judged import TODAY, judged
from tests.slips.table import HELD, HERE, Slip, slips, sound, with_text

_HELD = frozenset(HELD.read_text("utf-8").splitlines())


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for the copies of the journals."""
    return tmp_path_factory.mktemp("slips")


@pytest.mark.parametrize("slip", [pytest.param(one, id=one.id) for one in slips() if one.id in _HELD])
def test_a_slip_comes_out_as_wanted(slip: Slip, bench: Path) -> None:
    """The first finding marks the slip and its remedy gives what was meant; what all understand is taken."""
    row = judged(slip, bench)

    assert row.right, row.row()


@pytest.mark.parametrize("journal", sorted(path.name for path in (HERE / "sound").iterdir()))
def test_a_journal_without_slips_has_no_finding(journal: str) -> None:
    """What is found in a slipped journal comes from the slip."""
    assert validate(sound(journal), TODAY).findings == ()


@pytest.mark.parametrize("slip", [pytest.param(one, id=one.id) for one in slips() if one.meant != one.stands])
def test_what_was_meant_has_no_finding(slip: Slip, bench: Path) -> None:
    """A mend can be held against what was meant, since that is sound."""
    row = judged(_typed(slip, slip.meant), bench)

    assert row.verdict == "accepted", row.row()


def test_every_slip_stands_in_its_file() -> None:
    """Each slip changes its file, names the place that a finding must mark, and differs from all others."""
    table = slips()

    assert [slip.id for slip in table if with_text(slip, slip.typed) == with_text(slip, slip.stands)] == []
    assert [slip.id for slip in table if not slip.marks() and slip.outcome != "accept"] == []
    assert len({slip.id for slip in table}) == len(table)
    assert {slip.id for slip in table} >= _HELD


def test_another_fact_is_not_taken_for_what_was_meant(bench: Path) -> None:
    """A weight that nobody meant passes validation, and is seen as another fact."""
    slip = next(one for one in slips() if one.stands == "P1: 18 g,")

    row = judged(_typed(slip, "P1: 17 g,"), bench)

    assert (row.verdict, row.right) == ("passed in silence", False)


def _typed(slip: Slip, text: str) -> Slip:
    return Slip(slip.line, slip.kind, slip.name, slip.stands, text, slip.meant, (), "accept")
