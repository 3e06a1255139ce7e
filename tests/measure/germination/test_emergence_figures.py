"""The pace of germination, the packet and the law, as figures of a run."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitegen.core.facts.figure import Per, Rate
from sitegen.core.facts.tree import Germination
from sitegen.core.records.rows import Deed, Event
from sitegen.core.records.setup import Claims, Crop, Seed
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, counted, exactly
from sitegen.core.values.units import Dimension
from sitegen.measure.germination.germination import germination_of
from tests.measure.builders import event, joint, remarks_of, run_of, seeds, setup_of

ALL = joint("P1", "P2", "P3", "P4", word="all")
SOWN = seeds(0, 3, "P1", "P2", "P3", "P4")


def up(day: int, number: int) -> Event:
    """So many seedlings in all."""
    return event(Deed.SPROUTED, day, ALL, amount=counted(number))


def germinated(*rows: Event, **head: Any) -> Germination:
    """Germination of a run with twelve seeds sown on day 0."""
    return germination_of(run_of(replace(setup_of(), **head), events=(SOWN, *rows)))


def days(low: float, high: float) -> Quantity:
    """A time to a tenth of a day."""
    return Quantity(low, high, Dimension.DAYS, step=0.1)


def test_seedlings_lie_between_two_counts() -> None:
    """The mean goes from the days after the counts before to the days seen."""
    facts = germinated(up(4, 0), up(5, 4), up(7, 8))
    assert facts.rate.mean_time.value == days(5.5, 6)
    assert facts.rate.half_time.value == days(5, 5)
    assert (remarks_of(facts.first_day), facts.last_day.value) == ("none up on day 4", Day.on(7))


def test_daily_counts_give_one_mean() -> None:
    """Where every day was looked at, the mean is one number."""
    assert germinated(up(4, 0), up(5, 4), up(6, 8)).rate.mean_time.value == days(5.5, 5.5)


def test_seedlings_of_a_first_count_may_have_come_up_on_any_day_before() -> None:
    """Nothing but the sowing says when they were not there yet."""
    assert germinated(up(5, 4), up(6, 8)).rate.mean_time.value == days(3, 5.5)


def test_one_count_that_finds_them_all_gives_no_rate() -> None:
    """They were up by that day: neither a mean, nor a spread, speed or synchrony follows; counting again adds nothing."""
    for rows in ((up(5, 4),), (up(5, 4), up(9, 4))):
        rate = germinated(*rows).rate
        figures = (
            rate.mean_time,
            rate.half_time,
            rate.variation,
            rate.speed,
            rate.synchrony,
            rate.uncertainty,
        )
        assert [figure.value for figure in figures] == [None] * 6
        assert {remarks_of(figure) for figure in figures} == {"all were up at the first count"}


def test_counts_on_uncertain_days_carry_to_the_mean_alone() -> None:
    """A count on days 5-9 has no speed, spread or synchrony; one on about day 5 makes them about so much."""
    span = up(5, 4)._replace(day=Day(5, 9))
    rate = germinated(up(4, 0), span, up(11, 8)).rate
    assert rate.mean_time.value == days(5.5, 10)
    assert (rate.half_time.value, rate.speed.value, rate.synchrony.value) == (None, None, None)
    assert remarks_of(rate.speed) == "counted on days that are not certain"
    about = germinated(up(4, 0), up(5, 4)._replace(day=Day.on(5, about=True)), up(8, 8)).rate
    assert about.half_time.value == replace(days(5, 5), about=True)
    assert isinstance(about.speed.value, Rate)
    assert about.speed.value.amount.about


def test_speed_synchrony_uncertainty() -> None:
    """The rarer indices come with the days seen."""
    rate = germinated(up(4, 0), up(5, 4), up(8, 8)).rate
    assert rate.speed.value == Rate(exactly(1.3, Dimension.COUNT), Per.DAY)
    assert rate.synchrony.value == exactly(12 / 28, Dimension.COUNT)
    assert rate.uncertainty.value == exactly(1, Dimension.COUNT)


def test_counts_said_again_change_nothing() -> None:
    """A count that adds nothing moves neither the mean nor the last day."""
    facts = germinated(up(4, 0), up(5, 4), up(9, 4))
    assert (facts.rate.mean_time.value, facts.last_day.value) == (days(5, 5), Day.on(5))


def test_sown_on_several_days() -> None:
    """Days since sowing have no meaning where seeds went in on several days."""
    rate = germinated(up(5, 4), seeds(6, 2, "P1"), up(9, 6)).rate
    assert {remarks_of(figure) for figure in (rate.mean_time, rate.half_time, rate.speed)} == {
        "sown on several days"
    }


def test_uncounted_seedlings_have_no_pace() -> None:
    """Some seedlings are no number."""
    some = Quantity(1, None, Dimension.COUNT, open=1, step=1)
    rate = germinated(event(Deed.SPROUTED, 4, ALL, amount=some, what="some")).rate
    assert (rate.mean_time.value, remarks_of(rate.mean_time)) == (None, "seedlings were not counted")


def test_the_packet() -> None:
    """The share claimed stands as it was noted; the note sets the count's interval beside it."""
    seed = Seed(claims=Claims(germination=exactly(85, Dimension.SHARE, 1)))
    good, poor = germinated(up(5, 10), seed=seed).claims.seed, germinated(up(5, 5), seed=seed).claims.seed
    assert good.value == poor.value == exactly(85, Dimension.SHARE, 1)
    assert remarks_of(good) == "who said so was not recorded; the count fits"
    assert remarks_of(poor) == (
        "who said so was not recorded; fewer came up than chance explains, even in so small a count"
    )


def test_no_packet() -> None:
    """Without a claim the figure says so."""
    figure = germinated(up(5, 10)).claims.seed
    assert (figure.value, remarks_of(figure)) == (None, "none recorded")


def test_the_law() -> None:
    """The legal minimum of the crop, with its source; more than a minimum breaks no promise."""
    tomato = Crop("dwarf-tomato", "Dwarf tomato", "fruiting", "Solanum lycopersicum")
    figure = germinated(up(5, 12), crop=tomato).claims.standard
    assert figure.value == exactly(75, Dimension.SHARE, 1)
    assert remarks_of(figure) == "7 CFR 201.31, a test of 400 seeds; the count fits"


def test_a_crop_without_a_minimum() -> None:
    """A crop that the table does not have has no standard."""
    figure = germinated(up(5, 12)).claims.standard
    assert (figure.value, remarks_of(figure)) == (None, "no minimum for this crop is known here")
