"""The methods page's text, taken from the formulas' own docstrings.

In: the documented formulas of this stage. Out: one `Method` each. Never says anything that the code does not.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable

from sitegen.core.facts.method import Method
from sitegen.measure.climate.light import daily_light_integral, lamp_energy
from sitegen.measure.climate.sensors import daily_range, sensor_gaps
from sitegen.measure.climate.vapour import (
    leaf_vapour_pressure_deficit,
    saturation_vapour_pressure,
    vapour_pressure_deficit,
)
from sitegen.measure.climate.warmth import degree_days
from sitegen.measure.germination.counts import seedlings_up, seeds_sown
from sitegen.measure.germination.emergence import (
    emergence_speed,
    emergence_synchrony,
    emergence_uncertainty,
    emergence_variation,
    half_emergence_time,
    mean_emergence_time,
)
from sitegen.measure.germination.germination import share_against
from sitegen.measure.growth.growth import headroom_left, largest_reading
from sitegen.measure.growth.rates import (
    absolute_growth_rate,
    group_relative_growth_rate,
    height_against,
    plateau_day,
    relative_growth_rate,
)
from sitegen.measure.harvest.costs import cost_at_price, cost_per_100_g, sum_of_costs
from sitegen.measure.harvest.harvest import flush_numbers, pick_count, piece_count, weight_per_spot
from sitegen.measure.harvest.timing import days_against_claim, days_from, days_to_picks, packet_day
from sitegen.measure.harvest.totals import total_weight, weight_kept_together
from sitegen.measure.harvest.yields import mean_weight, weight_per
from sitegen.measure.ranges import reading_range
from sitegen.measure.run.axis import day_count, first_day, last_day
from sitegen.measure.run.work import visit_count
from sitegen.measure.shares import wilson_interval
from sitegen.measure.solution.feed import dose_count, feed_added, feed_from_rate, feed_per_litre
from sitegen.measure.solution.trend import drift_a_day
from sitegen.measure.solution.uptake import mean_interval, water_taken_up
from sitegen.measure.solution.water import change_count, refill_count, water_added
from sitegen.measure.stages.survival import curve_limits, kaplan_meier_median, median_interval, survival_curve

# In the order in which a reader meets them.
FORMULAS: tuple[Callable[..., object], ...] = (
    day_count,
    first_day,
    last_day,
    seeds_sown,
    seedlings_up,
    wilson_interval,
    mean_emergence_time,
    half_emergence_time,
    emergence_variation,
    emergence_speed,
    emergence_synchrony,
    emergence_uncertainty,
    share_against,
    survival_curve,
    kaplan_meier_median,
    curve_limits,
    median_interval,
    largest_reading,
    headroom_left,
    absolute_growth_rate,
    relative_growth_rate,
    group_relative_growth_rate,
    plateau_day,
    height_against,
    total_weight,
    weight_kept_together,
    weight_per_spot,
    weight_per,
    mean_weight,
    days_from,
    days_against_claim,
    packet_day,
    days_to_picks,
    pick_count,
    piece_count,
    flush_numbers,
    water_added,
    refill_count,
    change_count,
    feed_from_rate,
    feed_added,
    dose_count,
    feed_per_litre,
    water_taken_up,
    mean_interval,
    drift_a_day,
    reading_range,
    daily_range,
    sensor_gaps,
    saturation_vapour_pressure,
    vapour_pressure_deficit,
    leaf_vapour_pressure_deficit,
    degree_days,
    daily_light_integral,
    lamp_energy,
    cost_at_price,
    sum_of_costs,
    cost_per_100_g,
    visit_count,
)

_YEAR = re.compile(r"\b(1[89]|20)\d\d\b")  # a reference with one is a publication's
_HEADING = re.compile(r"^(\w+)\n-{3,}\n", re.MULTILINE)


def _sections(doc: str) -> dict[str, str]:
    """A NumPy-style docstring by section; what stands before the first heading has the name ``""``."""
    before, *rest = _HEADING.split(doc)
    return {
        "": before.strip("\n"),
        **dict(zip(rest[::2], (text.strip("\n") for text in rest[1::2]), strict=True)),
    }


def _blocks(text: str) -> list[str]:
    return [block for block in re.split(r"\n\s*\n", text) if block.strip()]


def _joined(block: str) -> str:
    return " ".join(block.split())


def _equation(notes: str) -> tuple[list[str], str]:
    """Notes as paragraphs and the literal block among them."""
    paragraphs = [_joined(block) for block in _blocks(notes) if not block.startswith("    ")]
    literal = [inspect.cleandoc(block) for block in _blocks(notes) if block.startswith("    ")]
    said = [re.sub(r"::$", ":", paragraph) for paragraph in paragraphs if paragraph != "::"]
    return said, "\n".join(literal)


def method_of(formula: Callable[..., object]) -> Method:
    """What a formula's docstring says."""
    sections = _sections(inspect.getdoc(formula) or "")
    title, *text = _blocks(sections[""])
    said, equation = _equation(sections.get("Notes", ""))
    references = [_joined(block) for block in _blocks(sections.get("References", ""))]
    return Method(
        name=formula.__name__,
        title=_joined(title).rstrip("."),
        text="\n\n".join((*map(_joined, text), *said)),
        equation=equation,
        references=tuple(references),
    )


def method_messages() -> tuple[str, ...]:
    """What formulas say of themselves, as messages with the context `method`: all but references to a publication."""
    found: list[str] = []
    for each in methods():
        found += [each.title, *each.text.split("\n\n"), each.equation]
        found += [reference for reference in each.references if not _YEAR.search(reference)]
    return tuple(text for text in dict.fromkeys(found) if text)


def methods() -> tuple[Method, ...]:
    """All formulas of this stage, in reading order."""
    return tuple(method_of(formula) for formula in FORMULAS)
