"""A run by arm: the sentences, the table, the drawing and the caveat."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pytest

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Event, Pick
from sitegen.core.records.setup import LampUse, Setup
from sitegen.measure import measure
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.story.arms.arm_table import ArmTable
from sitegen.render.story.arms.side_by_side import ArmsView, arms_view, whole_table
from tests.measure.builders import event, grams, joint, milestone, pick, run_of, setup_of, unweighed
from tests.measure.test_random_runs import LAMP

WORDING = Wording()
GROUPS = (("bar", ("P1", "P2", "P3")), ("panel", ("P4", "P5", "P6")))
ONE_TUB = setup_of(6, groups=GROUPS)
TWO_TUBS = setup_of(6, tubs=("left", "right"), groups=GROUPS)
ENDED = event(Deed.END, 100, kept=False)
Row = Event | Pick


def view(*rows: Row, setup: Setup = ONE_TUB, **tables: Any) -> ArmsView:
    """The arms of a run of six plants."""
    events = [row for row in rows if isinstance(row, Event)]
    picks = [row for row in rows if isinstance(row, Pick)]
    facts = measure(run_of(setup, events=events, picks=picks, **tables))
    found = arms_view(facts, FigureBook(WORDING, f"experiments/{facts.id}.html"))
    assert found is not None
    return found


def said(found: ArmsView) -> list[str]:
    """What is said of each arm, with its remark."""
    lines = [f"{arm.sentence.plain(WORDING)} {arm.remark}".strip() for arm in found.arms]
    return [line.replace(NBSP, " ") for line in lines]


def table(found: ArmsView) -> dict[str, list[str]]:
    """The cells of the table as text."""
    return cells(found.table)


def cells(found: ArmTable) -> dict[str, list[str]]:
    """The cells of a table as text."""
    return {
        row.label: [re.sub(r"\s+", " ", cell.striptags()).replace(NBSP, " ") for cell in row.cells]
        for row in found.rows
    }


def test_a_run_without_arms_has_no_view() -> None:
    """Where all plants were treated alike nothing is set side by side."""
    facts = measure(run_of(setup_of()))
    assert arms_view(facts, FigureBook(WORDING, "x")) is None


def test_each_arm_says_what_it_gave() -> None:
    """The arm that gave most stands first; a joint pick is a range with its reason."""
    rows = [
        pick(30, joint("P1"), grams(20), 1),
        pick(40, joint("P4", "P5", "P6"), grams(90), 2),
        pick(50, joint("P3", "P4"), grams(10), 3),
        pick(60, joint("P2"), unweighed(), 4),
    ]
    assert said(view(*rows, ENDED)) == [
        "Panel: 90–100 g (3.17–3.53 oz) from 3 plants. One pick was weighed together with P3.",
        "Bar: at least 20 g (0.71 oz) from 3 plants. One pick was not weighed; one pick was weighed together with P4.",
    ]


def test_a_running_run_says_so_far() -> None:
    """While a run grows, what it gave is what it gave so far, and an arm may have given nothing yet."""
    assert said(view(pick(30, joint("P1"), grams(20), 1))) == [
        "Bar: 20 g (0.71 oz) so far, from 3 plants.",
        "Panel: nothing picked so far.",
    ]


def test_an_arm_that_gave_nothing_to_the_end_says_so() -> None:
    """After the end an arm without a pick gave nothing."""
    assert said(view(pick(30, joint("P1"), grams(20), 1), ENDED))[1] == "Panel: nothing was picked."


def test_what_was_not_weighed_is_not_known() -> None:
    """Picks that nobody weighed are picks of unknown weight, not of none."""
    assert said(view(pick(30, joint("P1"), unweighed(), 1), ENDED))[0] == (
        "Bar: picked, but how much is not known. One pick was not weighed."
    )


def test_before_the_first_pick_the_latest_stage_is_said() -> None:
    """Without a pick of any arm the answer is how far each came."""
    rows = [milestone("first_flower", 40, joint("P1", "P2", "P4"), line=1)]
    assert said(view(milestones=rows)) == [
        "Bar: nothing picked so far; first flower on 2 of 3.",
        "Panel: nothing picked so far; first flower on 1 of 3.",
    ]


def test_a_plant_that_was_moved_before_its_first_pick_gave_nothing() -> None:
    """A plant that left its arm without having given anything is none of those that its harvest is from."""
    rows = [event(Deed.MOVE, 20, joint("P3"), tub="right"), pick(30, joint("P1"), grams(20), 1)]
    found = view(*rows, ENDED, setup=TWO_TUBS)
    assert said(found)[0] == ("Bar: 20 g (0.71 oz) from 2 plants. P3 counted only until the move, day 20.")
    earlier = view(pick(10, joint("P3"), grams(5), 9), *rows, ENDED, setup=TWO_TUBS)
    assert "from 3 plants" in said(earlier)[0]


def test_the_table_has_what_is_known_of_any_arm() -> None:
    """A row is left out where nothing is known of any arm; the harvest and the first pick come first."""
    rows = [pick(30, joint("P1"), grams(20), 1), pick(40, joint("P4"), grams(60), 2)]
    found = table(view(*rows, ENDED, milestones=[milestone("first_flower", 25, joint("P1", "P4"))]))
    assert list(found) == ["Harvest", "First pick", "Plants", "Harvest per spot", "First flower"]
    assert found["Harvest"] == ["60 g (2.1 oz)", "20 g (0.71 oz)"]
    assert found["First pick"] == ["day 40", "day 30"]
    assert found["Plants"] == ["3: P4, P5 and P6", "3: P1, P2 and P3"]
    assert found["Harvest per spot"] == ["20 g (0.71 oz)", "6.7 g (0.236 oz)"]


def test_the_record_has_every_row() -> None:
    """The last pick and the heights are details: the record has them, the page of the run has not."""
    rows = [pick(30, joint("P1"), grams(20), 1), pick(40, joint("P4"), grams(60), 2)]
    facts = measure(run_of(ONE_TUB, events=[ENDED], picks=rows))
    whole = whole_table(facts, FigureBook(WORDING, "x"))
    assert whole is not None
    assert set(cells(whole)) - set(table(view(*rows, ENDED))) == {"Last pick"}


def test_a_cell_that_is_not_known_says_why() -> None:
    """Where another arm has a day, an arm that was only picked together with it says so."""
    rows = [pick(30, joint("P1"), grams(20), 1), pick(40, joint("P3", "P4"), grams(60), 2)]
    assert table(view(*rows, ENDED))["First pick"] == [
        "day 30",
        "not known picked only together with other plants",
    ]


def test_tubs_are_told_apart_by_what_hangs_over_them() -> None:
    """Where the tubs of arms have different lamps, the arm is named with its lamp; like lamps are not named."""
    other = replace(LAMP, id="panel", name="Panel 100")
    left, right = TWO_TUBS.tubs
    lit = replace(TWO_TUBS, tubs=(replace(left, light=LampUse(LAMP)), replace(right, light=LampUse(other))))
    alike = replace(TWO_TUBS, tubs=(replace(left, light=LampUse(LAMP)), replace(right, light=LampUse(LAMP))))
    assert [arm.note for arm in view(setup=lit).arms] == ["Bar", "Panel 100"]
    assert [arm.note for arm in view(setup=alike).arms] == ["", ""]


def test_every_plant_has_a_mark_with_its_weight() -> None:
    """The drawing has a row for each arm and a mark for each plant that stayed in it, and says the same in words."""
    rows = [
        event(Deed.MOVE, 10, joint("P3"), tub="right"),
        *(pick(30 + n, joint(f"P{n}"), grams(10 * n), n) for n in (1, 2, 3, 4, 5)),
    ]
    found = view(*rows, ENDED, setup=TWO_TUBS)
    assert found.dots is not None
    assert [[mark.name.split(":")[0] for mark in row.dots] for row in found.dots.rows] == [
        ["P6", "P4", "P5"],
        ["P1", "P2"],
    ]
    assert found.left_out == "Not counting P3, moved to another tub."
    assert found.said.replace(NBSP, " ").startswith(
        "Panel: P6: 0 g; P4: 40 g (1.4 oz); P5: 50 g (1.76 oz); mean 30 g"
    )


def test_a_running_total_for_each_arm() -> None:
    """Each arm has a line from its first pick on, and the drawing says where the lines begin and end."""
    rows = [
        pick(30, joint("P1"), grams(20), 1),
        pick(40, joint("P4"), grams(50), 2),
        pick(50, joint("P1"), grams(5), 3),
    ]
    found = view(*rows, ENDED)
    assert found.totals is not None
    assert [line.shape for line in found.totals.lines] == [0, 1]
    assert found.totals_said.replace(NBSP, " ") == (
        "Panel: from day 40 to day 40, then 50 g (1.76 oz). Bar: from day 30 to day 50, then 25 g (0.88 oz)."
    )
    assert view(pick(30, joint("P1"), grams(20), 1)).totals is None


def test_stages_are_drawn_where_arms_differ() -> None:
    """A stage that came on one day in all arms alone makes no drawing; one that came on two days does."""
    alike = [milestone("first_flower", 40, joint("P1", "P2", "P3", "P4", "P5", "P6"), line=1)]
    apart = [
        milestone("first_flower", 40, joint("P1", "P2", "P3"), line=1),
        milestone("first_flower", 50, joint("P4", "P5", "P6"), line=2),
    ]
    assert view(milestones=alike).stages is None
    found = view(milestones=apart)
    assert found.stages is not None
    assert found.stages_said.replace(NBSP, " ") == "First flower. Bar: by day 40; Panel: days 41–50."


def test_one_plant_makes_no_drawing() -> None:
    """Where only one plant was weighed by itself there is nothing to compare in a drawing."""
    assert view(pick(30, joint("P1"), grams(20), 1)).dots is None


@pytest.mark.parametrize(
    ("setup", "words"),
    [
        (
            ONE_TUB,
            "All these plants shared one tub, its water and its luck: this is true of that tub, this one time.",
        ),
        (
            TWO_TUBS,
            "Plants in one tub share water, light and luck: this is true of these two tubs, this one time.",
        ),
    ],
)
def test_the_caveat_counts_the_tubs(setup: Setup, words: str) -> None:
    """Plants of a tub share its luck: the caveat says in how many tubs, once, this was seen (Hurlbert 1984)."""
    assert view(setup=setup).caveat == words


def test_names_of_authors_are_escaped() -> None:
    """A group's name with markup in it stays text."""
    setup = setup_of(6, groups=(("<b>x", GROUPS[0][1]), ("y", GROUPS[1][1])))
    rows = [event(Deed.TASTE, 40, what="<b>x is <i>good</i>"), pick(30, joint("P1"), grams(20), 1)]
    cells = next(row.cells for row in view(*rows, setup=setup).table.rows if row.label == "Taste")
    assert "&lt;i&gt;good" in "".join(cells)
