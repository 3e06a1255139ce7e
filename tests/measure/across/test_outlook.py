"""What is to come in a run, from earlier runs of its crop."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction
from random import Random

from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.facts.across import Expected, RunArms, TubUse
from sitegen.core.records.rows import Deed, Which
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.measure import measure, run_arms
from sitegen.measure.across.outlook import for_outlook, outlook_of
from tests.measure.across.builders import not_yet, run_with, seen
from tests.measure.builders import event, grams, joint, milestone, pick, run_of, setup_of

NOW = run_with(9, last=40, running=True)


def expected(run: RunArms, earlier: Sequence[RunArms]) -> dict[str, Expected]:
    """What is expected, by its name."""
    return {each.what: each for each in outlook_of(run, earlier).expected}


def picked_on(*days: int | Day | None, last: int = 100) -> list[RunArms]:
    """A run for each day of a first pick."""
    return [run_with(number, picked=day, last=last) for number, day in enumerate(days)]


def test_first_pick() -> None:
    """Three earlier runs: from the earliest first pick to the latest, one time in two."""
    found = expected(NOW, picked_on(58, 71, 64))["first_pick"]
    assert (found.window, found.chance, found.runs) == (Day(58, 71), Fraction(1, 2), 3)
    assert (found.open, found.passed, found.at_least, found.later) == (0, 0, False, False)


def test_two_runs_are_not_enough() -> None:
    """Two earlier runs give no window."""
    found = expected(NOW, picked_on(58, 71))["first_pick"]
    assert (found.window, found.chance, found.runs) == (None, None, 2)


def test_nothing_before() -> None:
    """Without earlier runs nothing is said."""
    assert outlook_of(NOW, ()).expected == ()


def test_by_the_last_look() -> None:
    """Only runs that were no further on the day of the last look count; the window begins after it."""
    found = expected(replace(NOW, last_day=60), picked_on(58, Day(59, 66), 64, 70, 71))["first_pick"]
    assert (found.window, found.chance, found.runs, found.passed) == (Day(61, 71), Fraction(1, 2), 3, 1)
    assert found.at_least


def test_later_than_all() -> None:
    """A run past the latest of all before is later than they were."""
    found = expected(replace(NOW, last_day=71), picked_on(58, 71, 64))["first_pick"]
    assert (found.later, found.passed, found.window) == (True, 3, None)


def test_earlier_run_without_a_pick() -> None:
    """A run that ended without a pick had it later, if ever, and lowers the chance; one that ended early says nothing."""
    three = picked_on(58, 71, 64)
    ended = [run_with(4, last=45), run_with(5, last=30)]
    found = expected(NOW, [*three, *ended])["first_pick"]
    assert (found.window, found.chance, found.runs, found.open) == (Day(58, 71), Fraction(2, 5), 3, 1)
    assert found.at_least


def test_a_pick_ends_its_expectation() -> None:
    """After the first pick none is expected."""
    assert "first_pick" not in expected(replace(run_with(9, picked=30, running=True)), picked_on(58, 71, 64))


def test_the_end_is_expected_after_the_first_pick() -> None:
    """It lies between the ends of the earlier runs: by order alone, of three runs one in two lies between the others.

    The (n - 1)/(n + 1) of order statistics; from memory.
    """
    now = run_with(9, picked=30, last=119, running=True)
    ended = [run_with(n, picked=60, last=day) for n, day in enumerate((143, 134, 168))]
    found = expected(now, ended)["end"]

    assert (found.window, found.chance, found.runs) == (Day(134, 168), Fraction(1, 2), 3)
    assert "end" not in expected(NOW, ended)


def test_a_run_that_goes_on_has_no_end_yet() -> None:
    """It counts as later than its last look, where that is after the look at this one; else it says nothing."""
    now = run_with(9, picked=30, last=119, running=True)
    ended = [run_with(n, picked=60, last=day) for n, day in enumerate((143, 134, 168))]
    beyond, short = (run_with(5, picked=60, last=day, running=True) for day in (130, 110))

    assert expected(now, [*ended, beyond])["end"].open == 1
    assert expected(now, [*ended, short])["end"].open == 0


def test_ended_run_has_no_outlook() -> None:
    """Nothing is to come in a run that has ended, or that has no records."""
    assert outlook_of(replace(NOW, running=False), picked_on(58, 71, 64)).expected == ()
    assert outlook_of(replace(NOW, log=""), picked_on(58, 71, 64)).expected == ()


def test_next_stage() -> None:
    """The next stage is the first after those seen of which there is a window."""
    now = run_with(9, {"flower_bud": seen(36)}, last=40, running=True)
    earlier = [
        run_with(n, {"flower_bud": seen(35), "first_flower": seen(day), "first_fruit": seen(day + 9)})
        for n, day in enumerate((44, 52, 47))
    ]
    found = outlook_of(now, earlier).expected[0]
    assert (found.what, found.window, found.chance) == ("first_flower", Day(44, 52), Fraction(1, 2))


def test_stage_that_too_few_logs_name() -> None:
    """Where two logs name the next stage and three the one after, the one with a window is told."""
    earlier = [run_with(n, {"first_fruit": seen(60 + n)}) for n in range(3)]
    earlier[:2] = [
        run_with(n, {"flower_bud": seen(44), "first_fruit": seen(60 + n)}, last=100) for n in range(2)
    ]
    assert outlook_of(NOW, earlier).expected[0].what == "first_fruit"
    assert outlook_of(NOW, earlier[:2]).expected[0].what == "flower_bud"


def test_late_stage() -> None:
    """A stage that all three before had by now is told as late, though a later one has a window."""
    earlier = [run_with(n, {"flower_bud": seen(30 + n), "first_fruit": seen(60 + n)}) for n in range(3)]
    found = outlook_of(NOW, earlier).expected[0]
    assert (found.what, found.later, found.passed) == ("flower_bud", True, 3)


def test_stage_that_was_looked_for() -> None:
    """A run that looked for a stage in vain had it later; one that never looked says nothing of it."""
    earlier = [run_with(n, {"flower_bud": seen(45 + n)}) for n in range(3)]
    looked = [run_with(4, {"flower_bud": not_yet(50)}), run_with(5), run_with(6, {"flower_bud": not_yet(30)})]
    found = outlook_of(NOW, [*earlier, *looked]).expected[0]
    assert (found.window, found.chance, found.runs, found.open) == (Day(45, 47), Fraction(2, 5), 3, 1)


def test_run_of_records() -> None:
    """A measured run has the day on which a stage was first seen, or that of the last look in vain."""
    rows = (
        milestone("flower_bud", 30, Which((), 0, word="none"), reached=False),
        milestone("flower_bud", 36, joint("P2")),
        milestone("flower_bud", 41, joint("P1", "P2")),
        milestone("first_flower", 41, Which((), 0, word="none"), reached=False),
    )
    run = run_of(setup_of(2), milestones=rows, picks=(pick(60, joint("P1"), grams(20)),))
    bud, flower = run_arms(measure(run)).arms[0].stages
    assert (bud.first, bud.not_yet) == (Day.on(36), None)
    assert (flower.first, flower.not_yet) == (None, Day.on(41))


def test_copies_differ_in_words_at_most() -> None:
    """Logs with the same records are copies, whatever their notes say; another weight makes another log."""

    def log(weight: float, *notes: str) -> str:
        told = (event(Deed.NOTE, 60, what=note, line=n) for n, note in enumerate(notes, 1))
        picks = (pick(60, joint("P1"), grams(weight)),)
        return run_arms(measure(run_of(setup_of(2), events=tuple(told), picks=picks))).log

    assert log(20) == log(20, "sour") == log(20, "sweet", "red") != log(21)
    assert run_arms(measure(run_of(setup_of(2)))).log == ""


# the total


def test_harvest_of_a_spot() -> None:
    """The harvest is expected by spot: plants may stand closer than they did."""
    found = expected(NOW, [run_with(n, spot=weight) for n, weight in enumerate((120, 200, 150))])["per_spot"]
    assert found.window == Quantity(120, 200, Dimension.MASS, step=1)
    assert (found.chance, found.runs) == (Fraction(1, 2), 3)


def test_whole_harvest() -> None:
    """Where all stood about as close, it is that of all spots."""
    earlier = [run_with(n, spot=weight, density=20 + n) for n, weight in enumerate((120, 200, 150))]
    found = expected(replace(NOW, conditions=earlier[0].conditions), earlier)
    assert found["total"].window == Quantity(480, 800, Dimension.MASS, step=4)
    sparse = replace(NOW, conditions=run_with(1, density=10).conditions)
    assert set(expected(sparse, earlier)) == set(expected(NOW, earlier)) == {"first_pick", "per_spot"}


def test_harvest_so_far() -> None:
    """It cannot be less than there is: runs that gave less are passed."""
    now = run_with(9, picked=30, spot=140, running=True)
    gave = [run_with(n, picked=30, spot=weight) for n, weight in enumerate((120, 200, 150, 170))]
    found = expected(now, gave)["per_spot"]
    assert (found.window, found.runs, found.passed) == (
        Quantity(150, 200, Dimension.MASS, step=1),
        3,
        1,
    )
    assert expected(run_with(9, picked=30, spot=300, running=True), gave)["per_spot"].later


def test_harvest_that_nobody_weighed() -> None:
    """A run with a pick that was not weighed has no upper bound; one that still grows is not counted at all."""
    three = [run_with(n, spot=weight) for n, weight in enumerate((120, 200, 150))]
    open_ = run_with(4, picked=30, spot=Quantity(100, None, Dimension.MASS, unweighed=1))
    found = expected(NOW, [*three, open_, run_with(5, spot=90, running=True)])["per_spot"]
    assert (found.runs, found.open, found.chance) == (3, 1, Fraction(2, 5))
    assert expected(NOW, [*three[:2], open_])["per_spot"].window is None


def test_harvest_of_nothing() -> None:
    """A run that ended without a pick gave nothing; one whose picks have no weight says nothing."""
    earlier = [run_with(0, spot=120), run_with(1, spot=90), run_with(2), run_with(3, picked=40)]
    found = expected(NOW, earlier)["per_spot"]
    assert (found.window, found.runs) == (Quantity(0, 120, Dimension.MASS, step=1), 3)


# independent units


def test_shared_tubs_count_once() -> None:
    """Two runs that stood in one tub at the same time are one; in tubs of their own they are two."""
    earlier = picked_on(58, 71, 64)
    beside = run_with(7, picked=80, began=20)
    outlook = outlook_of(NOW, [*earlier, beside])
    found = outlook.expected[0]
    assert (found.window, found.runs, found.at_least, outlook.once) == (Day(58, 80), 3, True, True)
    apart = [replace(run, uses=(TubUse("bucket", 1, 2),)) for run in (*earlier, beside)]
    outlook = outlook_of(NOW, apart)
    assert (outlook.expected[0].runs, outlook.once) == (4, False)


def test_one_after_the_other() -> None:
    """A run that began on the day on which the one before it ended did not share its tub."""
    assert expected(NOW, [*picked_on(58, 71), run_with(7, picked=80, began=100)])["first_pick"].runs == 3


def test_a_chain_of_shared_tubs() -> None:
    """Runs that are joined by a third are one with it."""
    chain = [run_with(0, picked=58), run_with(1, picked=60, began=150), run_with(2, picked=62, began=80)]
    assert expected(NOW, chain)["first_pick"].runs == 1


def test_beside_this_one() -> None:
    """A run in the tub of the one that is told of is no earlier evidence."""
    beside = run_with(8, picked=66, began=1790)
    assert outlook_of(NOW, [*picked_on(58, 71, 64), beside]) == replace(
        outlook_of(NOW, picked_on(58, 71, 64)), once=True
    )


# properties

MAYBE_DAY = (
    st.none()
    | st.integers(20, 90)
    | st.builds(lambda a, b: Day(a, a + b), st.integers(20, 90), st.integers(0, 9))
)
STAGE = st.builds(seen, st.integers(5, 90)) | st.builds(not_yet, st.integers(5, 90))
STAGES = st.dictionaries(st.sampled_from(["flower_bud", "first_flower", "first_fruit"]), STAGE)


@st.composite
def several(draw: st.DrawFn) -> tuple[RunArms, list[RunArms]]:
    """A run that grows, and earlier ones."""
    number = draw(st.integers(0, 7))
    earlier = [
        run_with(
            n,
            draw(STAGES),
            picked=draw(MAYBE_DAY),
            spot=draw(st.none() | st.integers(10, 200)),
            last=draw(st.integers(20, 260)),
            running=draw(st.booleans()),
        )
        for n in range(number)
    ]
    now = run_with(9, draw(STAGES), last=draw(st.integers(1, 90)), running=True)
    return now, earlier


@given(several())
def test_never_from_two_nor_before_the_look(runs: tuple[RunArms, list[RunArms]]) -> None:
    """A window has three runs or more behind it, and begins after the day of the last look."""
    now, earlier = runs
    for each in outlook_of(now, earlier).expected:
        assert each.window is None or 3 <= each.runs <= len(earlier)
        assert not isinstance(each.window, Day) or each.window.first > now.last_day
        assert (each.window is None) == (each.chance is None)


@given(several(), st.data())
def test_copies_and_runs_without_records_change_nothing(
    runs: tuple[RunArms, list[RunArms]], data: st.DataObject
) -> None:
    """A copy of a run, a run from memory and a planned one count for nothing."""
    now, earlier = runs
    copied = (
        [replace(each, run=f"{each.run}-again") for each in data.draw(st.sets(st.sampled_from(earlier)))]
        if earlier
        else []
    )
    unwritten = replace(run_with(8, began=7), log="", running=data.draw(st.booleans()))
    copies = [replace(now, run="this-again", running=data.draw(st.booleans())), *copied, unwritten]
    assert outlook_of(now, [*earlier, *copies]) == outlook_of(now, earlier)


@given(several())
def test_the_part_for_an_outlook_is_enough(runs: tuple[RunArms, list[RunArms]]) -> None:
    """From what is kept of earlier runs for an outlook follows the same as from the whole runs."""
    now, earlier = runs
    assert outlook_of(now, [for_outlook(each) for each in earlier]) == outlook_of(now, earlier)


@given(several(), st.randoms(use_true_random=False))
def test_names_and_order_change_nothing(runs: tuple[RunArms, list[RunArms]], random: Random) -> None:
    """Other names of runs, and another order, give the same outlook."""
    now, earlier = runs
    renamed = [replace(each, run=f"x{n}", title="X", log=f"y{n}") for n, each in enumerate(earlier)]
    assert outlook_of(now, random.sample(renamed, len(renamed))) == outlook_of(now, earlier)


@given(several(), st.integers(1, 400))
def test_today_is_nowhere(runs: tuple[RunArms, list[RunArms]], days: int) -> None:
    """All runs some days later give the same outlook."""

    def moved(run: RunArms) -> RunArms:
        assert run.began is not None
        assert run.ended is not None
        by = timedelta(days=days)
        return replace(run, began=run.began + by, ended=run.ended + by)

    now, earlier = runs
    assert outlook_of(moved(now), [moved(each) for each in earlier]) == outlook_of(now, earlier)
