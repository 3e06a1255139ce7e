"""Runs → findings: order, accounting, plausibility, the record, privacy; one module a subject.

Never changes a run.
"""

from __future__ import annotations

from datetime import date

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.records.rows import Run
from sitegen.core.site.blocks import recap_file
from sitegen.judge import blocks, milestones, order, plausibility, privacy, record, sheets
from sitegen.judge import plausibility as growth
from sitegen.judge.accounting import counts, picks, plants, seeds
from sitegen.judge.case import Case, Rule

__all__ = ["RULES", "judge", "judge_recap"]

RULES: tuple[Rule, ...] = (
    Rule("before the start", order.before_start),
    Rule("in the future", order.in_the_future),
    Rule("after the end", order.after_the_end),
    Rule("after an end that kept", order.after_end_kept),
    Rule("two ends", order.two_ends),
    Rule("out of order", order.out_of_order),
    Rule("order of milestones", milestones.milestone_order),
    Rule("milestones taken back", milestones.milestone_back),
    Rule("fruit without a flower", milestones.pick_before_milestone),
    Rule("same pick twice", picks.same_pick_twice),
    Rule("spoilt of picked", picks.spoilt_exceeds),
    Rule("tally of picks", picks.tally_below_picks),
    Rule("sprouted of sown", seeds.too_many_sprouted),
    Rule("seeds of sown", seeds.seeds_disagree),
    Rule("sprouted falls", seeds.sprouted_went_down),
    Rule("thinned to more", seeds.thinned_to_more),
    Rule("plants standing", counts.count_of_plants),
    Rule("milestone falls", counts.milestone_went_down),
    Rule("tally falls", counts.tally_went_down),
    Rule("after a loss", plants.lost_plant),
    Rule("before sowing", plants.never_sown),
    Rule("spots", plants.spots_exceeded),
    Rule("routines", plants.routine_unknown),
    Rule("impossible values", plausibility.impossible_value),
    Rule("unusual values", plausibility.unusual_value),
    Rule("unusual for the crop", plausibility.unusual_for_crop),
    Rule("shrunk", growth.shrunk),
    Rule("doses", growth.dose_unlike_label),
    Rule("spreadsheets", sheets.sheet_and_log),
    Rule("log", record.no_log),
    Rule("sowing", record.nothing_sown),
    Rule("gaps", record.long_gap),
    Rule("end", record.no_end),
    Rule("answer", record.no_answer),
    Rule("blocks of the recap", blocks.bad_block),
    Rule("blocks written twice", blocks.placed_twice),
    Rule("what blocks name", blocks.unknown_in_block),
    Rule("personal details", privacy.personal_detail),
    Rule("photo locations", privacy.photo_location),
)


def judge(run: Run, today: date) -> tuple[Finding, ...]:
    """What is wrong, odd or missing in one run, in file order.

    `today` only decides what is in the future and what has gone silent.
    """
    case = Case.of(run, today)
    return sorted_findings(finding for rule in RULES for finding in rule.check(case))


_OF_TEXTS = (blocks.bad_block, blocks.placed_twice, blocks.unknown_in_block, privacy.personal_detail)


def judge_recap(run: Run, today: date) -> tuple[Finding, ...]:
    """The findings of `judge` that lie in the recap: an edit of the text needs no other."""
    case, file = Case.of(run, today), recap_file(run.setup)
    found = (finding for rule in _OF_TEXTS for finding in rule(case))
    return sorted_findings(finding for finding in found if finding.source.file == file)
