"""What came of it: total and its reason, each arm, records over earlier runs, light, current, water, cost.

In: the material of a run. Out: moments that stand behind the days.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sitegen.core.facts.across import ArmSummary, RunArms
from sitegen.core.facts.figure import Figure, Money, Rate
from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import in_tub_words
from sitegen.core.language.wording import mid_sentence
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.notes.draft import AuthorWords, Number, Passage, number, passage, told
from sitegen.notes.material import ArmPlants, Material
from sitegen.notes.moments.moment import Moment
from sitegen.notes.speech.fractions import THIRDS_AND_QUARTERS, heard

_PATHS = {"groups": "by_group", "tubs": "by_tub", "varieties": "by_variety"}
_FEWEST = 2  # earlier runs from which "the smallest" says something; common practice, no source


def sums(material: Material) -> Iterator[Moment]:
    """Totals, records, and what it cost."""
    if not material.facts.run.logged:
        return
    yield _total(material)
    yield from _arms(material)
    yield from _records(material)
    yield from _lamps(material)
    yield from _energy(material)
    yield from _water(material)
    yield from _cost(material)


def _total(material: Material) -> Moment:
    harvest = material.facts.harvest
    figure, running = harvest.total, material.facts.running
    value = figure.value
    if not isinstance(value, Quantity):
        words = _nothing(material)
        return Moment("total", told(words), place="scale")
    if not value.known or (value.low == 0 and value.high is None):
        words = passage(tr("What was picked was never weighed."), figure.rows)
        return Moment("total", told(words), place="scale")
    amount = number(figure)
    if running:
        words = passage(tr("So far the picks come to {total}."), figure.rows, total=amount)
    elif (givers := _givers(material)) > 1:
        words = passage(
            tr("Together the {plants} gave {total}."),
            figure.rows,
            plants=Number("plants.standing", givers, noun="plant"),
            total=amount,
        )
    else:
        words = passage(tr("All picks together come to {total}."), figure.rows, total=amount)
    return Moment("total", told(words, *_reason(material, value)), place="scale")


def _givers(material: Material) -> int:
    """The plants that stood on the day of the first pick."""
    first = min((pick.day for pick in material.rows.picks), default=None)
    return len(material.setup.plants) if first is None else material.roster.count(first.first)


def _nothing(material: Material) -> Passage | None:
    last = material.last_visit
    entry = material.rows.entries[-1].source if material.rows.entries else material.setup.source
    on = Number("last_entry", last, "on")
    if material.facts.running:
        return passage(tr("Nothing had been picked {on_day}, at my last visit."), entry, on_day=on)
    return passage(tr("Nothing was ever picked."), entry)


def _reason(material: Material, value: Quantity) -> Iterator[Passage | None]:
    """Why a total is a bound, or that it is none."""
    unweighed = [pick for pick in material.rows.picks if pick.weight.unweighed]
    if value.single and not value.about and not value.by_eye and not value.open:
        places = [pick.source for pick in material.rows.picks]
        if len(places) > 1 and not material.rows.tallies:
            yield passage(tr("Every pick was on the scale."), places)
        return
    if not unweighed:
        if value.open:
            places = [pick.source for pick in material.rows.picks if pick.weight.open]
            yield passage(tr("For some of it my log itself says only at least."), places)
        elif value.by_eye:
            places = [pick.source for pick in material.rows.picks if pick.weight.by_eye]
            yield passage(tr("Part of it was judged by eye."), places)
        return
    places = [pick.source for pick in unweighed]
    days = tuple(dict.fromkeys(pick.day for pick in unweighed))
    many = Number("harvest.unweighed", len(unweighed), noun="pick")
    if len(unweighed) == 1:
        yield passage(
            tr("The pick {on_day} was never weighed."), places, on_day=Number("log.day", days[0], "on")
        )
    elif len(days) == 1:
        yield passage(
            tr("{on_day} {picks} went unweighed."),
            places,
            on_day=Number("log.day", days[0], "on"),
            picks=many,
        )
    else:
        yield passage(tr("Of the picks, {picks} were never weighed."), places, picks=many)
    yield passage(tr("That is why I say at least."), places)


def arm_total(arm: ArmPlants, material: Material) -> Figure | None:
    """What an arm gave; None where nothing is known of it."""
    rows = getattr(material.facts.harvest, _PATHS[arm.arm.kind])
    figure: Figure | None = next((row.figure for row in rows if row.key == arm.arm.key), None)
    return (
        figure if figure is not None and isinstance(figure.value, Quantity) and figure.value.known else None
    )


def _arms(material: Material) -> Iterator[Moment]:
    said = []
    for arm in material.arms:
        figure = arm_total(arm, material)
        if figure is None:
            return
        said.append(_of_arm(arm, figure, material))
    if len(said) > 1 and all(said):
        yield Moment("arms", told(*said), place="scale", arms=True, order=1)


def _of_arm(arm: ArmPlants, figure: Figure, material: Material) -> Passage | None:
    stayed = len(material.stayed(arm))
    count = Number("sets.plants", stayed or len(arm.plants), noun="plant")
    value = figure.value
    if isinstance(value, Quantity) and value.low == value.high == 0:
        return passage(tr("{where}, {plants} gave nothing yet."), figure.rows, where=arm.where, plants=count)
    return passage(
        tr("{where}, {plants} gave {total}."),
        figure.rows,
        where=arm.where,
        plants=count,
        total=number(figure),
    )


# records over earlier runs


def _records(material: Material) -> Iterator[Moment]:
    """The largest or the smallest harvest for each spot, and the earliest or latest first pick, of all runs so far."""
    run = material.run
    if run is None:
        return
    crop = mid_sentence(material.setup.crop.name)
    if not material.facts.running and (order := _order(run, material.earlier, _per_spot)) is not None:
        runs = Number("across.runs", order[1], noun="run")
        message = (
            tr("For each plant that is the most of my {runs} of {crop} so far.")
            if order[0] > 0
            else tr("For each plant that is the least of my {runs} of {crop} so far.")
        )
        words = passage(
            message, material.facts.harvest.per_spot.rows, runs=runs, crop=AuthorWords(crop, inside=True)
        )
        yield Moment("record", told(words), place="scale", order=3)
    if (order := _order(run, material.earlier, _first_pick)) is not None:
        runs = Number("across.runs", order[1], noun="run")
        message = (
            tr("Of my {runs} of {crop} this was the quickest to a first pick.")
            if order[0] < 0
            else tr("Of my {runs} of {crop} this was the slowest to a first pick.")
        )
        words = passage(
            message, material.facts.harvest.first_pick.rows, runs=runs, crop=AuthorWords(crop, inside=True)
        )
        first = material.facts.harvest.first_pick.value
        yield Moment("record", told(words), first if isinstance(first, Day) else None, "day", order=4)


def _whole(run: RunArms) -> ArmSummary | None:
    return next((arm for arm in run.arms if arm.kind == "run"), None)


def _per_spot(run: RunArms) -> tuple[float, float] | None:
    arm = _whole(run)
    value = arm.figures.per_spot.value if arm else None
    if run.running or not isinstance(value, Quantity) or value.high is None:
        return None
    return value.low, value.high


def _first_pick(run: RunArms) -> tuple[float, float] | None:
    arm = _whole(run)
    value = arm.figures.first_pick.value if arm else None
    return (float(value.first), float(value.last)) if isinstance(value, Day) and not value.about else None


def _order(run: RunArms, earlier: tuple[RunArms, ...], read) -> tuple[int, int] | None:  # type: ignore[no-untyped-def]
    """1 where a run lies above every earlier one, -1 below, with the number of runs; None where it cannot be told."""
    own = read(run)
    others = [read(each) for each in earlier if each.log]
    if own is None or len(others) < _FEWEST or any(each is None for each in others):
        return None
    if all(own[0] > each[1] for each in others):
        return 1, len(others) + 1
    return (-1, len(others) + 1) if all(own[1] < each[0] for each in others) else None


# the bill


def _lamps(material: Material) -> Iterator[Moment]:
    """The power of two lamps over the arms, where they burned for the same hours."""
    tubs = material.facts.climate.tubs
    lamps = {}
    for tub in material.setup.tubs:
        uses = [tub.light] if tub.light else []
        uses += [row.use for row in material.rows.lights if row.tub == tub.id]
        found = {use.lamp.id: use.lamp for use in uses if use.lamp}
        if len(found) != 1:
            return
        lamps[tub.id] = next(iter(found.values()))
    powers = [lamp.power for lamp in lamps.values()]
    if len(tubs) != 2 or len(powers) != 2 or any(power is None or not power.exact for power in powers):
        return
    energies = [tub.energy.value for tub in tubs]
    known = [each.low for each in energies if isinstance(each, Quantity) and each.low > 0]
    watts = [power.low for power in powers if power is not None]
    if len(known) != 2 or watts[0] == watts[1] or abs(known[0] / known[1] / (watts[0] / watts[1]) - 1) > 0.01:
        return  # the hours differed
    more, less = sorted((power for power in powers if power is not None), key=lambda each: -each.low)
    words = passage(
        tr("The lamps are {more} and {less}, and both burned for the same hours."),
        *(row.source for row in material.rows.lights),
        more=Number("setup.lamps.power", more, "own"),
        less=Number("setup.lamps.power", less, "own"),
    )
    ratio = Fraction(more.low / less.low).limit_denominator(100) - 1
    by = passage(
        tr("The larger takes {ratio} more."),
        *(row.source for row in material.rows.lights),
        ratio=Number("setup.lamps.power", ratio),
    )
    if ratio == 1:
        by = passage(tr("The larger takes twice as much."), *(row.source for row in material.rows.lights))
    easy = heard(float(ratio), THIRDS_AND_QUARTERS).near in ("", "about")
    yield Moment("bill", told(words, by if easy else None), place="bill", arms=True)


def _energy(material: Material) -> Iterator[Moment]:
    figure = material.facts.climate.energy
    if not isinstance(figure.value, Quantity) or not figure.value.known or figure.value.low <= 0:
        return
    by_eye = passage(tr("That is from the labels and the timer, not from a meter."), figure.rows)
    if material.facts.running:
        words = passage(tr("So far the light has taken {energy}."), figure.rows, energy=number(figure, "own"))
    else:
        words = passage(tr("The light took {energy}."), figure.rows, energy=number(figure, "own"))
    yield Moment("bill", told(words, by_eye), place="bill", order=1)


def _water(material: Material) -> Iterator[Moment]:
    """Water a day by tub where there are two, else all of it."""
    tubs = material.facts.solution.tubs
    rates = [(tub, tub.uptake.per_day) for tub in tubs if isinstance(tub.uptake.per_day.value, Rate)]
    if len(tubs) == 2 and len(rates) == 2:
        said = told(
            *(
                passage(
                    tr("{where}, the plants drank {rate} a day."),
                    rate.rows,
                    where=in_tub_words(tub.label),
                    rate=number(rate, "own"),
                )
                for tub, rate in rates
            )
        )
        yield Moment("bill", said, place="bill", arms=True, order=2)
        return
    figure = material.facts.solution.water
    if isinstance(figure.value, Quantity) and figure.value.known and figure.value.low > 0:
        words = passage(tr("The water came to {water}."), figure.rows, water=number(figure))
        yield Moment("bill", told(words), place="bill", order=2)


def _cost(material: Material) -> Iterator[Moment]:
    figure = material.facts.harvest.costs.total
    if isinstance(figure.value, Money) and figure.value.low >= 2:
        words = passage(tr("All told it cost {sum}."), figure.rows, sum=number(figure))
        yield Moment("bill", told(words), place="bill", order=3)
