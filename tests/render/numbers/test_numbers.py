"""All numbers of a run."""

from __future__ import annotations

import re

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Run
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.numbers import numbers, rarer, unrecorded
from tests.measure.builders import grams, joint, pick, run_of, setup_of, unweighed
from tests.render.builders import facts, full_run, started_run

PICKS = [pick(40, joint("P1"), grams(20), 1), pick(44, joint("P3"), grams(30), 2)]


def said(run: Run) -> dict[str, list[str]]:
    """The numbers of a run by subject, as text."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    return {
        item.name: [re.sub(r"\s+", " ", line.striptags()).replace(NBSP, " ") for line in item.lines]
        for item in numbers(facts(run), book)
    }


def test_the_run() -> None:
    """Length and last entry come first."""
    assert said(full_run())["The run"] == ["Length: 64 days", "Last visit: day 64"]


def not_recorded(run: Run) -> str:
    """What is said of all that is missing."""
    return unrecorded(facts(run), FigureBook(Wording(), "experiments/first-physalis.html"))


def test_what_every_run_is_asked_for_is_never_left_out() -> None:
    """A run without readings has no lines of them; one sentence names all that is missing."""
    found = said(started_run())
    missing = not_recorded(started_run())

    assert "not recorded" not in str(found)
    assert "Growth" not in found
    assert missing.startswith("Not recorded so far: ")
    assert {"tallest", "widest", "humidity of the air"} <= set(re.split(r": |, | and |\.", missing))


def test_what_is_recorded_is_not_missing() -> None:
    """A figure has its line or is named as missing, never both; a run with its end says nothing of "so far"."""
    lines = {line.partition(":")[0].lower() for lines in said(full_run()).values() for line in lines}
    missing = not_recorded(full_run())

    assert missing.startswith("Not recorded: ")
    assert lines & set(re.split(r": |, | and |\.", missing)) == set()


def test_sets_of_the_same_plants_are_measured_once() -> None:
    """Where each group has a tub of its own, the figures of the tubs that say the same are left out; others stay."""
    groups = (("early", ("P1", "P2")), ("late", ("P3", "P4")))
    found = facts(run_of(setup_of(4, tubs=("left", "right"), groups=groups), picks=PICKS))
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    (sets,) = (item.lines for item in rarer(found, book) if item.name == "Groups, varieties and tubs")
    known = [text for line in sets if "This log cannot say" not in (text := line.striptags())]
    said_of = [text.partition(",")[0] for text in known]

    assert {found.sets.by_tub[n].plants for n in (0, 1)} == {("P1", "P2"), ("P3", "P4")}
    assert set(said_of) == {"Early", "Late"}


def test_what_a_table_shows_is_left_out() -> None:
    """The figures that a page shows already are not among the rarer ones."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    shown = frozenset({"harvest.per.day"})

    def named(but: frozenset[str]) -> set[str]:
        return set(re.findall(r'data-figure="([^"]+)"', str(rarer(facts(), book, but))))

    assert named(frozenset()) - named(shown) == shown & named(frozenset())


def test_a_stage_is_one_line() -> None:
    """First day, share and median of a stage stand together, and what limits several of them is said once."""
    (line,) = said(full_run())["Stages"]

    assert line == (
        "First flower: first seen day 41 (not yet on day 38); 3 of 4 (95 % interval 30–95 %) got there, one plant was "
        "lost before that; half the plants in days 39–41 (from 4 plants); plant by plant, after 39–41 days "
        "(3 plants alike)"
    )


def test_a_lone_part_is_not_said_twice() -> None:
    """Where all picks are of one part, tub or variety, only the total stands."""
    lines = said(full_run())["Harvest"]

    assert [line for line in lines if line.startswith("Harvest, ")] == [
        # The lower bound stays one in ounces: 84 g are 2.96 oz.
        "Harvest, “early”: at least 84 g (2.96 oz); one pick was not weighed; one pick was weighed together with P3",
        "Harvest, “late”: up to 112 g (3.95 oz); one pick was weighed together with P1 and P2",
        "Harvest, not split between these: 112 g (3.95 oz)",
    ]


def test_what_a_value_says_already_is_only_counted_beside_it() -> None:
    """Of a part that nobody weighed it is said once that it was not weighed, with the number of picks."""
    picks = [
        pick(40, joint("P1"), grams(20), 1, part="leaf"),
        pick(44, joint("P3"), unweighed(), 2),
        pick(48, joint("P3"), unweighed(), 3),
    ]
    lines = said(run_of(setup_of(4), picks=picks))["Harvest"]

    assert "Harvest, the rest: not weighed; two picks" in lines
    assert "Harvest: at least 20 g (0.71 oz); two picks were not weighed" in lines


def test_what_the_log_cannot_say_is_told_by_reason() -> None:
    """Things that are not known for the same reason stand in one point of a list, and the reason follows once."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    lines = {item.name: item.lines for item in rarer(facts(full_run()), book)}["Water and feed"]

    assert lines[-1] == (
        '<div class="none">This log cannot say:<ul>'
        "<li>Water used; water used per plant: no refill after the first fill was logged</li>"
        "<li>From one refill to the next: no refill was logged</li>"
        "<li>Change in EC; EC readings in the usual range: not recorded</li>"
        "<li>Change in pH: something was added between every two readings</li>"
        "<li>pH readings in the usual range: no usual range for this crop is known here</li>"
        "</ul></div>"
    )


def test_a_stage_of_a_group_is_one_line() -> None:
    """How far the plants of each group came stands with the sets: numbers, median, days of each."""
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    lines = {item.name: item.lines for item in rarer(facts(full_run()), book)}["Groups, varieties and tubs"]
    found = [re.sub(r"\s+", " ", line.striptags()).replace(NBSP, " ") for line in lines]

    assert [line for line in found if "first flower" in line] == [
        (
            "Early, first flower: 2 got there; that is both (95 % interval 34–100 %); half the plants in days "
            "39–41 (from 2 plants); plant by plant, after 39–41 days (2 plants alike)"
        ),
        (
            "Late, first flower: 1 got there; that is 1 of 2 (95 % interval 9–91 %); 1 lost before that; half "
            "the plants in days 39–41 (from 2 plants); plant by plant, after 39–41 days"
        ),
    ]
