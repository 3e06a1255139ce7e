"""Which runs count once."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.across import RunArms, TubUse
from sitegen.measure.across.comparison import compare
from sitegen.measure.across.units import units_of
from tests.measure.across.builders import grown, run_with


def units(*runs: RunArms) -> list[tuple[str, ...]]:
    """The runs of each unit."""
    return [unit.runs for unit in units_of(runs)]


def used(number: int, began: int | None = None, *, tubs: int = 1, owned: int = 1, last: int = 100) -> RunArms:
    """A run in some tubs of a system, of which its owner has so many."""
    return replace(run_with(number, began=began, last=last), uses=(TubUse("bucket", tubs, owned),))


def undated(number: int, *, owned: int = 1) -> RunArms:
    """A run without a date."""
    return replace(used(number, owned=owned), began=None, ended=None)


def test_runs_one_after_the_other() -> None:
    """A tub that is used again is another unit; on the day on which one run ends the next may begin."""
    assert units(used(1, 0), used(2, 100), used(3, 300)) == [("run-1",), ("run-2",), ("run-3",)]


def test_one_tub_at_the_same_time_counts_once() -> None:
    """Two runs in the only tub of a system at the same time are one unit."""
    assert units(used(1, 0), used(2, 99), used(3, 300)) == [("run-1", "run-2"), ("run-3",)]


def test_enough_tubs() -> None:
    """Two runs at the same time are two units where there are two tubs, declared or used by one run."""
    assert units(used(1, 0, owned=2), used(2, 50, owned=2)) == [("run-1",), ("run-2",)]
    assert units(used(1, 0), used(2, 50), used(3, 300, tubs=2)) == [("run-1",), ("run-2",), ("run-3",)]


def test_more_at_once_than_there_are() -> None:
    """Three runs at once in two tubs count once, though any two of them would have had room."""
    three = [used(n, 10 * n, owned=2) for n in (1, 2, 3)]
    assert units(*three) == [("run-1", "run-2", "run-3")]


def test_a_long_run_does_not_join_those_around_it() -> None:
    """Runs that each had room beside a long one, one after the other, stay apart."""
    assert len(units(used(1, 0, owned=2, last=400), used(2, 10, owned=2), used(3, 200, owned=2))) == 3


def test_a_declared_tub_counts_once() -> None:
    """Runs that declare a shared tub are one unit, and take one tub: a third one still has room."""
    shared = replace(used(2, 20, owned=2), shares=(("run-1", "bucket"),))
    assert units(used(1, 0, owned=2), shared, used(3, 30, owned=2)) == [("run-1", "run-2"), ("run-3",)]


def test_copies_count_once() -> None:
    """A run with the log of another is the same run, whatever its dates, and takes no tub of its own."""
    copy = replace(used(2, 900), log="log-1")
    assert units(used(1, 0), copy) == [("run-1", "run-2")]
    beside = replace(used(3, 0, owned=2), log="log-1")
    assert units(used(1, 0, owned=2), beside, used(4, 5, owned=2)) == [("run-1", "run-3"), ("run-4",)]


def test_undated_runs() -> None:
    """Runs without a date count once among themselves, and not at all beside dated ones that filled the tubs."""
    assert units(undated(1), undated(2)) == [("run-1", "run-2")]
    assert units(undated(1, owned=2), undated(2, owned=2)) == [("run-1",), ("run-2",)]
    assert units(used(1, 0), undated(2)) == [("run-1",)]
    assert compare([used(1, 0), undated(2)]).left_out == ("run-2",)
    assert units(undated(2, owned=2), used(1, 0, owned=2)) == [("run-2",), ("run-1",)]


def test_runs_without_a_log() -> None:
    """A run from memory, or without records, is in no unit and takes no tub."""
    memory = replace(used(2, 0), arms=(), log="")
    assert units(used(1, 0), memory, used(3, 300)) == [("run-1",), ("run-3",)]


# Properties --------------------------------------------------------------------------------------

RUNS = st.lists(
    st.tuples(
        st.one_of(st.none(), st.integers(0, 600)),
        st.integers(1, 3),
        st.sampled_from([1, 1, 2, 3]),
        st.one_of(st.none(), st.integers(0, 40)),
        st.one_of(st.none(), st.integers(0, 40)),
    ),
    max_size=9,
)


def made(drawn: list[tuple[int | None, int, int, int | None, int | None]]) -> list[RunArms]:
    """Runs with two varieties in some tubs."""
    found = []
    for number, (began, tubs, owned, first, second) in enumerate(drawn):
        run = grown(number, {"a": first, "b": second}, uses=(TubUse("bucket", tubs, owned),))
        dates = {"began": None, "ended": None} if began is None else {}
        base = run_with(number, began=began or 0)
        found.append(replace(run, **{"began": base.began, "ended": base.ended, **dates}))
    return found


def said(runs: list[RunArms]) -> object:
    """What is said of the varieties, without the names of runs."""
    found = compare(runs)
    return len(found.units), [
        (
            each.measure,
            each.evidence.row,
            each.evidence.runs,
            each.evidence.chance,
            each.evidence.leader,
            each.evidence.gap,
            each.evidence.difference,
        )
        for each in found.contrasts
    ]


@given(RUNS, st.randoms(use_true_random=False))
def test_names_and_order_do_not_matter(
    drawn: list[tuple[int | None, int, int, int | None, int | None]], random: Random
) -> None:
    """Renaming and reordering runs changes nothing that is said."""
    runs = made(drawn)
    names = list(range(len(runs)))
    random.shuffle(names)
    again = [replace(run, run=f"x{name}", log=f"y{name}") for run, name in zip(runs, names, strict=True)]
    random.shuffle(again)
    before, after = said(runs), said(again)
    assert str(after) == str(before)


@given(RUNS, st.data())
def test_a_copy_adds_no_evidence(
    drawn: list[tuple[int | None, int, int, int | None, int | None]], data: st.DataObject
) -> None:
    """With a copy of a run, also at another date, the units and all that is said are the same."""
    runs = made(drawn)
    if not runs:
        return
    one = data.draw(st.sampled_from(runs))
    copy = replace(one, run="copy", title="A copy")
    assert said([*runs, copy]) == said(runs)


@given(RUNS)
def test_memories_change_no_number(drawn: list[tuple[int | None, int, int, int | None, int | None]]) -> None:
    """Runs from memory beside the others change nothing."""
    runs = made(drawn)
    memories = [replace(run, run=f"memory-{run.run}", log="", arms=()) for run in runs]
    assert said([*runs, *memories]) == said(runs)


@given(RUNS)
def test_no_more_units_than_tubs_at_once(
    drawn: list[tuple[int | None, int, int, int | None, int | None]],
) -> None:
    """On each day there are no more units than tubs."""
    runs = made(drawn)
    owned = max((max(use.owned, use.tubs) for run in runs for use in run.uses), default=1)
    spans = {run.run: (run.began, run.ended) for run in runs}
    for day in {began for began, _ in spans.values() if began}:
        there = 0
        for unit in units_of(runs):
            known = [
                (began, ended) for began, ended in (spans[name] for name in unit.runs) if began and ended
            ]
            there += any(began <= day < ended for began, ended in known)
        assert there <= owned
