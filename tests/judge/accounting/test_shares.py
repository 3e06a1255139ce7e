"""Tubs that two runs share: what the logs of both say of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

import pytest

from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Lamp, LampUse, SharedTub, System, Tub
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.accounting.shares import _apart, judge_shares
from tests.judge.builders import day, ended, finding_line, place, run, setup, sown

BAR, PANEL = Lamp("bar", "Bar"), Lamp("panel", "Panel")


def shared(
    *, with_: str = "second", start: int = 1, light: LampUse | None = None, id_: str = "first-physalis"
) -> Run:
    """A run from a day of March 2025 to 30 days later, in a tub that another run stands in too."""
    head = setup(
        id=id_, start=Start(dt.date(2025, 3, start), "day"), shares=(SharedTub("tub", with_, place(8)),)
    )
    made = run(sown(), ended(30), head=head)
    lights = (Light(day(0), None, place(9), "tub", light),) if light else ()
    return replace(made, rows=replace(made.rows, lights=lights))


def told(made: Run, *others: Run, known: Mapping[str, Run | None] | None = None) -> list[str]:
    """The findings of a run beside others, one on each line."""
    there: dict[str, Run | None] = {other.id: other for other in others}
    found = judge_shares(made, known or there, {made.id, *there, *(known or {})})
    return [finding_line(finding) for finding in found]


def second(**more: object) -> Run:
    """The other run."""
    return shared(with_="first-physalis", id_="second", **more)  # type: ignore[arg-type]


def test_both_say_so() -> None:
    """Two runs that name each other are sound, from either side."""
    assert told(shared(), second()) + told(second(), shared()) == []


def test_a_run_that_cannot_be_read() -> None:
    """The faults of the other run are its own."""
    assert told(shared(), known={"second": None}) == []


def test_itself() -> None:
    """No run shares a tub with itself."""
    assert told(shared(with_="first-physalis")) == [
        (
            "e.yaml:8:5: error[shares-itself]: `first-physalis` shares a tub with itself "
            "(name the other run, or remove `shares`)"
        )
    ]


def test_unknown() -> None:
    """The other run is one of the journal."""
    assert told(shared(with_="secund"), second()) == [
        "e.yaml:8:5: error[unknown-experiment]: `secund` is not an experiment of this journal (write `second`)"
    ]


def test_one_sided() -> None:
    """The other run says so too."""
    alone = run(sown(), ended(30), head=setup(id="second"))
    assert told(shared(), alone) == [
        (
            "e.yaml:8:5: error[shared-one-sided]: `second` does not say that it shares a tub with `first-physalis` "
            "(write `shares: {with: first-physalis}` in its experiment.yaml too, with `tub` where it has several)"
        )
    ]


def test_never_at_one_time() -> None:
    """A tub is shared while both runs go on; days that touch are found to be apart only after the last of one."""
    (line,) = told(shared(), replace_start(second(), dt.date(2025, 5, 1)))
    assert line == (
        "e.yaml:8:5: error[never-shared]: `first-physalis` and `second` were not there at the same time "
        "(mend the start or the end of one of them, or remove `shares` from both)"
    )


def replace_start(made: Run, start: dt.date) -> Run:
    """A run from another date on."""
    return replace(made, setup=replace(made.setup, start=Start(start, "day")))


def test_differing_lamps_and_systems() -> None:
    """One tub has one system, one lamp and one length of day; what one run leaves out differs from nothing."""
    fourteen, ten = exactly(14, Dimension.DURATION, 1), exactly(10, Dimension.DURATION, 1)
    assert told(shared(light=LampUse(BAR)), second(light=LampUse(PANEL))) == [
        (
            "e.yaml:8:5: error[shared-differs]: on day 0 the lamp of the shared tub is `bar` here and `panel` in "
            "`second` (write the same in both, or leave the lamp out of one of them)"
        )
    ]
    assert len(told(shared(light=LampUse(BAR, fourteen)), second(light=LampUse(BAR, ten)))) == 1
    assert told(shared(light=LampUse(BAR, fourteen)), second(light=LampUse(BAR))) == []
    other = second()
    bowl = replace(other, setup=replace(other.setup, tubs=(Tub("tub", System("bowl", "Bowl")),)))
    (line,) = told(shared(), bowl)
    assert "shared-differs" in line
    assert "`bowl` in `second`" in line


def _amount(low: float, high: float | None, **flags: bool) -> Quantity:
    return replace(exactly(low, Dimension.DURATION, 1), high=high, **flags)


@pytest.mark.parametrize(
    ("one", "other", "apart"),
    [
        (_amount(10, 10), _amount(14, 14), True),
        (_amount(14, 14), _amount(14, 14), False),
        (_amount(10, 14), _amount(14, 16), False),
        (_amount(10, 13), _amount(14, 16), True),
        (_amount(10, None), _amount(14, 14), False),
        (_amount(14, 14), _amount(15, None), True),
        (_amount(10, 10, about=True), _amount(14, 14), False),
        (_amount(10, 10, by_eye=True), _amount(14, 14), False),
        (_amount(10, 10, about=True, by_eye=True), _amount(14, 14), False),
    ],
)
def test_amounts_that_cannot_both_hold(one: Quantity, other: Quantity, *, apart: bool) -> None:
    """They have no value in common; one that is about so or by eye, of either run, may be the other."""
    assert (_apart(one, other), _apart(other, one)) == (apart, apart)


def _lit_on(when: int, line: int, light: LampUse) -> Light:
    return Light(day(when), None, place(line), "tub", light)


def test_lamps_are_compared_in_the_order_of_days() -> None:
    """However the log lists them: each setting goes on until the next."""
    made, other = shared(light=LampUse(BAR)), second(light=LampUse(BAR))
    lights = (_lit_on(20, 12, LampUse(PANEL)), *made.rows.lights)
    changed = replace(made, rows=replace(made.rows, lights=lights))
    (line,) = told(changed, other)

    assert "on day 20 the lamp of the shared tub is `panel` here and `bar` in `second`" in line
