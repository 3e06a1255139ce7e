"""Rules that check a run: order of days, accounting, readings, completeness, privacy.

In: a `Run`, today's date. Out: findings in the order of files. A run is never changed.
"""

from __future__ import annotations

from datetime import date

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.rows import Run
from sitegen.core.site.blocks import recap_file
from sitegen.judge import arms, blocks, footage, order, privacy, ranges, record
from sitegen.judge import order as milestones
from sitegen.judge import plant_readings as heights
from sitegen.judge import plant_readings as sheets
from sitegen.judge import ranges as doses
from sitegen.judge.accounting import picks, plants, seeds
from sitegen.judge.accounting import plants as counts
from sitegen.judge.accounting.shares import judge_shares
from sitegen.judge.context import Context, Rule

__all__ = ["RULES", "judge", "judge_recap", "judge_shares"]

TEXT_RULES: tuple[Rule, ...] = (
    blocks.bad_block,
    blocks.placed_twice,
    blocks.unknown_in_block,
    privacy.personal_detail,
)
RULES: tuple[Rule, ...] = (
    order.before_start,
    order.in_the_future,
    order.after_the_end,
    order.after_end_kept,
    order.two_ends,
    order.out_of_order,
    milestones.milestone_order,
    milestones.milestone_back,
    milestones.pick_before_milestone,
    picks.same_pick_twice,
    picks.spoilt_exceeds,
    picks.spoilt_heavier,
    picks.spoilt_disagrees,
    picks.tally_below_picks,
    picks.tally_below_earlier,
    seeds.too_many_sprouted,
    seeds.seeds_disagree,
    seeds.sprouted_went_down,
    seeds.thinned_to_more,
    counts.count_of_plants,
    counts.milestone_went_down,
    counts.more_at_later_stage,
    counts.tally_went_down,
    plants.lost_plant,
    plants.never_sown,
    plants.spots_exceeded,
    plants.routine_unknown,
    arms.compare_without_split,
    arms.compare_crossed,
    footage.clip_late,
    footage.clips_at_once,
    ranges.impossible_value,
    ranges.unusual_value,
    ranges.unusual_for_crop,
    ranges.more_than_the_tub,
    heights.shrunk,
    heights.tenfold,
    sheets.sheet_day_twice,
    doses.dose_unlike_label,
    sheets.sheet_and_log,
    record.no_log,
    record.plan_passed,
    record.nothing_sown,
    record.long_gap,
    record.no_end,
    record.no_answer,
    privacy.photo_location,
    *TEXT_RULES,
)


def judge(run: Run, today: date) -> tuple[Finding, ...]:
    """All findings of one run, in the order of files.

    `today` decides which days are in the future, and whether a run has had no entry for long.
    """
    context = Context.of(run, today)
    return sorted_findings(finding for rule in RULES for finding in rule(context))


def judge_recap(run: Run, today: date) -> tuple[Finding, ...]:
    """The findings of `judge` that lie in the recap: after an edit of its text alone, no others can change."""
    context, file = Context.of(run, today), recap_file(run.setup)
    found = (finding for rule in TEXT_RULES for finding in rule(context))
    return sorted_findings(finding for finding in found if finding.source.file == file)
