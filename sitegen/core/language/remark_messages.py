"""Remarks of figures in words: the one table of their messages.

In: nothing. Out: `MESSAGES` and `COUNTED`, by the code of a remark. `figure_words` fills their places.
"""

from __future__ import annotations

from collections.abc import Mapping

from sitegen.core.facts.figure import RemarkCode
from sitegen.core.language.catalogue import tr_n_noop, tr_noop

# A pair is counted by `n`: `{n}` in digits, `{number}` in words.
MESSAGES: Mapping[RemarkCode, str | tuple[str, str]] = {
    "not_counted": tr_noop("not counted"),
    "not_kept_by_plant": tr_noop("not recorded plant by plant"),
    "not_recorded": tr_noop("not recorded"),
    "readings": tr_n_noop("{n} reading", "{n} readings"),
    # the run
    "lost_plants_not_named": tr_n_noop(
        "{number} plant was lost; which one was not recorded",
        "{number} plants were lost; which ones was not recorded",
    ),
    "no_entry": tr_noop("no visit yet"),
    "to_last_entry": tr_noop("up to the last visit"),
    # groups, varieties and tubs
    "fewer_than_three_plants": tr_noop("fewer than three plants"),
    "moved_plants_until_move": tr_noop("{plants} until moved to another tub"),
    "of_plants": tr_n_noop("of {n} plant", "of {n} plants"),
    "plants_not_measured": tr_n_noop(
        "{number} plant was not measured by itself", "{number} plants were not measured by themselves"
    ),
    "plants_not_weighed": tr_n_noop(
        "{number} plant was not weighed by itself", "{number} plants were not weighed by themselves"
    ),
    "picks_perhaps_of_others": tr_n_noop(
        "{number} pick in these days may have been of other plants only",
        "{number} picks in these days may have been of other plants only",
    ),
    "no_pick_of_set": tr_noop("no pick of these plants was logged"),
    "picked_with_others_only": tr_noop("picked only together with other plants"),
    "tub_of_several_sets": tr_noop("other plants were in the same tub"),
    "whole_tub_with_moves": tr_noop("the whole tub, with {plants} while it was there"),
    "spots_not_counted": tr_noop("not every spot was counted by itself"),
    "value_is_a_range": tr_noop("a plant's value is a range"),
    # germination
    "all_up_at_first_count": tr_noop("all were up at the first count"),
    "counted_on_uncertain_days": tr_noop("counted on days that are not certain"),
    "claim_above": tr_noop("more came up than chance explains, even in so small a count"),
    "claim_below": tr_noop("fewer came up than chance explains, even in so small a count"),
    "claim_met": tr_noop("the count fits"),
    "claim_source": tr_noop("where the seed came from: {source}"),
    "claim_without_count": tr_noop("nothing to compare it with"),
    "claimant_not_said": tr_noop("who said so was not recorded"),
    "claimed_by": tr_noop("said by {who}"),
    "fewer_than_two_seedlings": tr_noop("fewer than two seedlings"),
    "half_up_at_first_count": tr_noop("half were already up at the first count"),
    "minimum_of_test": tr_noop("{source}, a test of {seeds} seeds"),
    "minimum_unknown": tr_noop("no minimum for this crop is known here"),
    "more_seedlings_than_seeds": tr_noop("more seedlings than seeds are recorded"),
    "none_up_on": tr_noop("none up on {day}"),
    "nothing_came_up": tr_noop("nothing came up"),
    "no_share_claimed": tr_noop("none recorded"),
    "seedlings_not_all_counted": tr_noop("not all seedlings were counted"),
    "seedlings_not_counted": tr_noop("seedlings were not counted"),
    "seedlings_on_day_of_sowing": tr_noop("seedlings on the day of sowing"),
    "seeds_not_counted": tr_noop("seeds were not counted"),
    "sowings_after_last_count": tr_n_noop(
        "{number} sowing came after the last count", "{number} sowings came after the last count"
    ),
    "sowings_not_counted": tr_n_noop("{number} sowing was not counted", "{number} sowings were not counted"),
    "sown_on_several_days": tr_noop("sown on several days"),
    # stages
    "alike_of_plants": tr_n_noop("{n} plant alike", "{n} plants alike"),
    "counted_from_own_sowing": tr_noop("{plants} counted from the day of sowing there"),
    "from_plants": tr_n_noop("from {n} plant", "from {n} plants"),
    "from_plants_some_waiting": tr_n_noop(
        "from {n} plant, {waiting} not there when last checked",
        "from {n} plants, {waiting} not there when last checked",
    ),
    "interval_coverage": tr_noop("it includes the median in {percent} % of such samples"),
    "interval_coverage_at_least": tr_noop("it includes the median in at least {percent} % of such samples"),
    "no_stage_before": tr_noop("no earlier stage was logged"),
    "not_reached": tr_noop("not reached"),
    "not_reached_by_half": tr_noop("fewer than half got there"),
    "not_yet_on": tr_noop("not yet on {day}"),
    "plants_in_another_order": tr_n_noop(
        "{number} plant was seen at this stage before that one",
        "{number} plants were seen at this stage before that one",
    ),
    "plants_lost_before": tr_n_noop(
        "{number} plant was lost before that", "{number} plants were lost before that"
    ),
    "plants_not_counted_again": tr_n_noop(
        "{number} plant was no longer counted", "{number} plants were no longer counted"
    ),
    "plants_not_looked_at": tr_n_noop(
        "{number} plant was not checked for it", "{number} plants were not checked for it"
    ),
    "plants_picked_before": tr_n_noop(
        "{number} plant was picked before it was seen at that stage",
        "{number} plants were picked before they were seen at that stage",
    ),
    "plants_picked_meanwhile": tr_n_noop(
        "{number} plant was picked before the last check and will not get there",
        "{number} plants were picked before the last check and will not get there",
    ),
    "plants_went_on": tr_n_noop("{went} of {n} plants went on", "{went} of {n} plants went on"),
    "since_stage": tr_noop("since {stage}"),
    "too_few_for_interval": tr_noop("fewer than six plants had reached it"),
    "too_few_for_upper_limit": tr_noop("too few plants to give a latest day"),
    # growth
    "counted_until_moved": tr_noop("{plants} counted until moved to another tub"),
    "day_to_day": tr_noop("{first} to {last}"),
    "from_day_to_day": tr_noop("from {first} to {last}"),
    "group_cut_between": tr_noop(
        "something was cut or picked between any two days on which all its plants were measured"
    ),
    "group_not_measured_together": tr_noop("no two days on which all its plants were measured"),
    "group_size": tr_n_noop("one plant", "{n} plants"),
    "heights_not_recorded": tr_noop("heights were not recorded"),
    "in_tub": "{tub}",
    "longest_stretch": tr_noop("over the longest time without a cut or a pick"),
    "lower_than_claim": tr_noop("the tallest plant stayed below that"),
    "many_plants_on_day": tr_n_noop("{n} plant, {day}", "{n} plants, {day}"),
    "measured_to": tr_noop("measured to the {place}"),
    "on_day": "{day}",
    "no_height_claimed": tr_noop("none recorded"),
    "plants_on_day": "{plants}, {day}",
    "reading_without_size": tr_noop("one reading has no number"),
    "taller_than_claim": tr_noop("the tallest plant outgrew that"),
    "when_last_measured": tr_noop("on {day}, when last measured"),
    "when_measured": tr_noop("on {day}"),
    "when_measured_before": tr_noop("{day}, when measured"),
    "within_claim": tr_noop("the tallest plant was within that"),
    # harvest
    "count_until_moves": tr_noop("{plants} counted only until they moved"),
    "counts_until_move": tr_noop("{plants} counted only until the move, {day}"),
    "lost_before_pick": tr_noop("{plants} lost before a pick"),
    "no_harvest": tr_noop("no harvest was logged"),
    "nothing_picked_yet": tr_noop("nothing picked yet"),
    "nothing_weighed": tr_noop("nothing was weighed"),
    "of_at_least_pieces": tr_noop("of at least {pieces} pieces"),
    "of_pieces": tr_noop("of {pieces} pieces"),
    "picks": tr_n_noop("{n} pick", "{n} picks"),
    "picks_between_tallies": tr_n_noop(
        "{number} pick is worked out from totals so far", "{number} picks are worked out from totals so far"
    ),
    "picks_by_eye": tr_n_noop("{number} pick was judged by eye", "{number} picks were judged by eye"),
    "picks_may_be_of_other_flush": tr_n_noop(
        "{number} pick may be of another flush", "{number} picks may be of another flush"
    ),
    "picks_may_hold_earlier": tr_n_noop(
        "{number} pick may include earlier ones", "{number} picks may include earlier ones"
    ),
    "picks_not_counted": tr_n_noop("{number} pick was not counted", "{number} picks were not counted"),
    "picks_not_weighed": tr_n_noop("{number} pick was not weighed", "{number} picks were not weighed"),
    "picks_with_other_plants": tr_n_noop(
        "{number} pick was weighed together with other plants",
        "{number} picks were weighed together with other plants",
    ),
    "picks_with_plants": tr_n_noop(
        "{number} pick was weighed together with {plants}",
        "{number} picks were weighed together with {plants}",
    ),
    "picks_without_spoilt": tr_n_noop(
        "spoilt pieces were not counted in {number} pick",
        "spoilt pieces were not counted in {number} picks",
    ),
    "spoilt_of_unknown_number": tr_noop("out of how many was not recorded"),
    "spoilt_parts_not_weighed": tr_n_noop(
        "the spoilt part of {number} pick was not weighed",
        "the spoilt parts of {number} picks were not weighed",
    ),
    "tallies_above_picks": tr_n_noop(
        "{number} total so far is more than its picks add up to",
        "{number} totals so far are more than their picks add up to",
    ),
    "tallies_cover_others": tr_n_noop(
        "{number} total so far covers other plants too",
        "{number} totals so far cover other plants too",
    ),
    "weights_are_lower_bounds": tr_n_noop(
        "for {number} pick the log says only “at least”", "for {number} picks the log says only “at least”"
    ),
    # yields and times to harvest
    "earlier_than_claim": tr_noop("earlier"),
    "footprint_not_recorded": tr_noop("the footprint was not recorded"),
    "from_sowing": tr_noop("{days} from sowing"),
    "from_transplant": tr_noop("{days} from transplanting"),
    "later_than_claim": tr_noop("later"),
    "mean_of_plants": tr_n_noop("{n} plant", "{n} plants"),
    "moved_plants_left_out": tr_noop("not counting {plants}, moved to another tub"),
    "nothing_picked_yet_from": tr_noop("nothing picked yet from {plants}"),
    "one_stem_a_spot": tr_noop("no spot kept more than one stem"),
    "claimed_days_from_sowing": tr_noop("{days} from sowing"),
    "claimed_days_from_transplant": tr_noop("{days} from transplanting"),
    "claimed_days_from_unsaid": tr_noop("what they count from was not recorded"),
    "no_days_claimed": tr_noop("none recorded"),
    "no_days_claimed_or_from_when": tr_noop("none recorded, or not what they count from"),
    "picked_on_one_day": tr_noop("picked on one day only"),
    "picked_plants_not_kept": tr_noop("which plants were picked was not recorded"),
    "sown_again_later": tr_noop("a spot was sown again later"),
    "transplanting_not_recorded": tr_noop("transplanting was not recorded"),
    # costs
    "no_feed": tr_noop("no feed was logged"),
    "no_product_has_price": tr_noop("no feed has a price"),
    "price_not_recorded": tr_noop("price not recorded: {what}"),
    "thing_not_recorded": tr_noop("not recorded: {what}"),
    "without_things": tr_noop("not counting {things}"),
    # water and feed
    "amounts_are_lower_bounds": tr_n_noop(
        "for {number} amount the log says only “at least”",
        "for {number} amounts the log says only “at least”",
    ),
    "band_of_crop": tr_noop("{low} to {high} is usual for this crop, going by sources"),
    "band_unknown": tr_noop("no usual range for this crop is known here"),
    "between_fillings": tr_n_noop("over {n} fill", "over {n} fills"),
    "doses_by_eye": tr_n_noop("{number} dose was judged by eye", "{number} doses were judged by eye"),
    "doses_in_other_unit": tr_n_noop(
        "{number} dose is in a unit that cannot be added", "{number} doses are in units that cannot be added"
    ),
    "doses_not_measured": tr_n_noop("{number} dose was not measured", "{number} doses were not measured"),
    "feed_at_unlogged_refills": tr_noop("not counting doses at refills that were not logged"),
    "feed_by_routine": tr_noop("not counting doses given as a routine"),
    "feed_not_measured": tr_noop("feed was not measured"),
    "fillings_by_eye": tr_n_noop("{number} refill was judged by eye", "{number} refills were judged by eye"),
    "fillings_not_measured": tr_n_noop(
        "{number} refill was not measured", "{number} refills were not measured"
    ),
    "fillings_without_tub": tr_n_noop(
        "for {number} refill the tub was not recorded", "for {number} refills the tub was not recorded"
    ),
    "no_plant_in_tub": tr_noop("no plant was in the tub"),
    "no_readings_without_routine": tr_noop("water or feed was a routine between every two readings"),
    "no_refill": tr_noop("no refill after the first fill was logged"),
    "no_refill_under_routine": tr_noop("no refill was logged while feed was a routine"),
    "no_second_filling": tr_noop("no refill was logged"),
    "no_undisturbed_readings": tr_noop("something was added between every two readings"),
    "of_readings": tr_n_noop("of {n} reading", "of {n} readings"),
    "over_days": tr_noop("over {days}"),
    "over_days_pairs": tr_n_noop("over {days}, {n} pair of readings", "over {days}, {n} pairs of readings"),
    "readings_not_independent": tr_noop(
        "each reading depends on the one before, so the interval is only a guide"
    ),
    "refills_not_measured": tr_n_noop(
        "{number} refill was not measured", "{number} refills were not measured"
    ),
    "tub_shared": tr_noop("the tub was shared with another run"),
    "tubs_shared": tr_n_noop("{tubs}: a tub shared with another run", "{tubs}: tubs shared with other runs"),
    "tub_shared_uncounted": tr_noop("the tub was shared with another run, whose log is not counted"),
    "tubs_shared_uncounted": tr_n_noop(
        "{tubs}: a tub shared with another run, whose log is not counted",
        "{tubs}: tubs shared with other runs, whose logs are not all counted",
    ),
    "water_by_routine": tr_noop("not counting refills done as a routine"),
    "water_not_measured": tr_noop("water was not measured"),
    # air and light
    "above_base": tr_noop("above {temperature} °C ({source})"),
    "base_unknown": tr_noop("the crop's base temperature is not known"),
    "days_with_few_samples": tr_n_noop(
        "not counting {n} day with few readings", "not counting {n} days with few readings"
    ),
    "days_without_samples": tr_n_noop("no readings on {n} day of {all}", "no readings on {n} days of {all}"),
    "export_not_dated": tr_noop("a sensor's readings cannot be placed: the start has no date"),
    "for_days": tr_n_noop("{remark} for {n} day", "{remark} for {n} days"),
    "for_span_of_days": tr_noop("{remark} for {days}"),
    "gap": tr_noop("{hours} h from {day}"),
    "lamp_a_tub": tr_noop("counting one lamp for each tub"),
    "lamp_hours_not_recorded": tr_noop("lamp hours were not recorded"),
    "lamp_not_recorded": tr_noop("the lamp was not recorded"),
    "lamp_power_not_recorded": tr_noop("the lamp's power was not recorded"),
    "lamp_strength_at_distance": tr_noop("the lamp's strength at this distance is not known"),
    "lamp_strength_not_recorded": tr_noop("the lamp's strength was not recorded"),
    "light_from_lux": tr_noop("estimated from lux with a factor of {factor} ({source})"),
    "light_read_beside_change": tr_noop(
        "light was measured on a day that may be before or after a change of the lamp"
    ),
    "light_readings": tr_n_noop("{n} reading of light at the plants", "{n} readings of light at the plants"),
    "leaf_temperature_not_recorded": tr_noop("leaf temperature was not recorded together with the air's"),
    "no_air_sensor": tr_noop("no sensor for air temperature"),
    "no_paired_readings": tr_noop("air temperature and humidity were not recorded together"),
    "no_samples_by_light": tr_noop("no readings while the lamp was surely on that setting"),
    "paired_readings": tr_n_noop("{n} pair of readings", "{n} pairs of readings"),
    "periods": tr_n_noop("{n} period", "{n} periods"),
    "periods_with_few_samples": tr_n_noop(
        "not counting {n} period with few readings", "not counting {n} periods with few readings"
    ),
    "sensor_days": tr_n_noop("logged by a sensor on {n} day", "logged by a sensor on {n} days"),
    "sensor_means": tr_n_noop("daily means of a sensor on {n} day", "daily means of a sensor on {n} days"),
    "setting_changed": tr_noop("the setting was changed"),
    "shorter_gaps": tr_n_noop("{n} shorter ones", "{n} shorter ones"),
    "visits": tr_n_noop("{n} visit", "{n} visits"),
}
# What was not weighed, counted or measured, beside a value whose own words are "not weighed" and so on.
COUNTED: Mapping[RemarkCode, tuple[str, str]] = {
    "doses_not_measured": tr_n_noop("{number} dose", "{number} doses"),
    "fillings_not_measured": tr_n_noop("{number} refill", "{number} refills"),
    "picks_not_counted": tr_n_noop("{number} pick", "{number} picks"),
    "picks_not_weighed": tr_n_noop("{number} pick", "{number} picks"),
}
