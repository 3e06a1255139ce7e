"""Remarks on a figure as data: a code and the values that its message has places for.

In: nothing. Out: `Remark` and `Label`, made of plain data. The messages stand in `core.language.remarks`, the words of
labels in `core.language.labels`; a fact holds none.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity

LabelKind = Literal["", "cost", "flush", "part", "phase", "reading", "routine", "site", "stage", "work"]


@dataclass(frozen=True, slots=True)
class Label:
    """What something is called: a name as its author wrote it, or with a `kind` a word of the site, by its key.

    `tub` is the id of the tub that it belongs to, where there are several.
    """

    name: str
    kind: LabelKind = ""
    tub: str = ""


NOT_SAID = Label("not said", "site")

RemarkValue = int | float | str | Day | Quantity | Label | tuple[str | Label, ...]

RemarkCode = Literal[
    # of any figure
    "not_counted",
    "not_kept_by_plant",
    "not_recorded",
    "readings",
    # the run
    "lost_plants_not_named",
    "no_entry",
    "to_last_entry",
    # germination
    "claim_above",
    "claim_below",
    "claim_met",
    "claim_without_count",
    "fewer_than_two_seedlings",
    "half_up_at_first_count",
    "minimum_of_test",
    "minimum_unknown",
    "more_seedlings_than_seeds",
    "none_up_on",
    "nothing_came_up",
    "packet_without_germination",
    "seedlings_not_counted",
    "seedlings_on_day_of_sowing",
    "seeds_not_counted",
    "sowings_after_last_count",
    "sowings_not_counted",
    "sown_on_several_days",
    # stages
    "counted_from_own_sowing",
    "from_plants",
    "from_plants_some_waiting",
    "no_stage_before",
    "not_reached",
    "not_reached_by_half",
    "not_yet_on",
    "plants_lost_before",
    "plants_went_on",
    "since_stage",
    "too_few_for_upper_limit",
    # growth
    "day_to_day",
    "from_day_to_day",
    "group_not_measured_together",
    "group_size",
    "heights_not_recorded",
    "in_tub",
    "lower_than_claim",
    "many_plants_on_day",
    "measured_to",
    "on_day",
    "packet_without_height",
    "plants_on_day",
    "reading_without_size",
    "taller_than_claim",
    "within_claim",
    # harvest
    "no_harvest",
    "nothing_weighed",
    "picks",
    "picks_between_tallies",
    "picks_by_eye",
    "picks_may_hold_earlier",
    "picks_not_counted",
    "picks_not_weighed",
    "picks_with_another_tub",
    "picks_with_other_plants",
    "picks_with_plants",
    "picks_without_spoilt",
    "spoilt_of_unknown_number",
    "tallies_cover_others",
    "weights_are_lower_bounds",
    # yields and times to harvest
    "earlier_than_claim",
    "footprint_not_recorded",
    "from_sowing",
    "from_transplant",
    "later_than_claim",
    "mean_of_plants",
    "moved_plants_left_out",
    "one_stem_a_spot",
    "packet_days_from_sowing",
    "packet_days_from_transplant",
    "packet_without_beginning",
    "packet_without_days",
    "packet_without_days_or_beginning",
    "picked_on_one_day",
    "picked_plants_not_kept",
    "sown_again_later",
    "transplanting_not_recorded",
    # costs
    "no_feed",
    "no_product_has_price",
    "price_not_recorded",
    "routines_not_included",
    "thing_not_recorded",
    "without_things",
    # water and feed
    "amounts_are_lower_bounds",
    "band_of_crop",
    "band_unknown",
    "between_fillings",
    "doses_by_eye",
    "doses_in_other_unit",
    "doses_not_measured",
    "feed_by_routine",
    "feed_not_measured",
    "fillings_by_eye",
    "fillings_not_measured",
    "no_plant_in_tub",
    "no_refill",
    "no_second_filling",
    "no_undisturbed_readings",
    "over_days",
    "over_days_pairs",
    "readings_not_independent",
    "refills_not_measured",
    "water_by_routine",
    "water_not_measured",
    # air and light
    "above_base",
    "base_unknown",
    "days_without_samples",
    "export_not_dated",
    "for_days",
    "gap",
    "lamp_a_tub",
    "lamp_hours_not_recorded",
    "lamp_not_recorded",
    "lamp_power_not_recorded",
    "lamp_strength_at_distance",
    "lamp_strength_not_recorded",
    "leaf_temperature_not_recorded",
    "no_air_sensor",
    "no_paired_readings",
    "paired_readings",
    "sensor_days",
    "sensor_means",
    "setting_changed",
    "shorter_gaps",
    "visits",
]


@dataclass(frozen=True, slots=True)
class Remark:
    """One remark: its code, and values by the name of their place in the message."""

    code: RemarkCode
    values: tuple[tuple[str, RemarkValue], ...] = ()


def remark(code: RemarkCode, **values: RemarkValue) -> Remark:
    """A remark; a value named `n` is the number that its message counts."""
    return Remark(code, tuple(values.items()))


def counted_remark(code: RemarkCode, n: int, **values: RemarkValue) -> Remark | None:
    """A remark on so many things; None where there are none."""
    return remark(code, n=n, **values) if n else None


NOT_RECORDED = remark("not_recorded")
