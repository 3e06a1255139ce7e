"""Events of plants that were lost or not yet sown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import Deed, Reading, Which
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.judge.accounting.plants import lost_plant, never_sown
from tests.judge.builders import (
    Row,
    by,
    checked,
    day,
    done,
    everyone,
    height,
    lost,
    named,
    picked,
    place,
    run,
    seen,
    some_of,
    sown,
    up,
)

MEND = "check which plant it was, or the day that `P3` was lost"


@pytest.mark.parametrize(
    ("row", "verb"),
    [
        (picked(51, 20, named("P3")), "be picked"),
        (height(51, 20, "P3"), "be measured"),
        (seen("first_flower", 51, named("P3")), "reach `first_flower`"),
        (done(Deed.PRUNE, 51, named("P3")), "be pruned"),
        (lost(51, named("P3")), "be lost again"),
    ],
)
def test_after_a_loss(row: Row, verb: str) -> None:
    """Whatever comes from a plant after its loss is an error that names both days."""
    (found,) = by(lost_plant, run(sown(), lost(44, named("P3")), row))

    message = f"`P3` was lost on day 44; it cannot {verb} on day 51"
    assert found == f"e.yaml:151:5: error[lost-plant]: {message} ({MEND})"


def test_on_the_day_of_the_loss() -> None:
    """A plant may be picked on the day that it was lost."""
    assert by(lost_plant, run(sown(), lost(44, named("P3")), picked(44, 20, named("P3")))) == []


def test_all_after_a_loss() -> None:
    """`all` does not claim that a lost plant was picked."""
    assert by(lost_plant, run(sown(), lost(44, named("P3")), picked(51, 20, everyone()))) == []


def test_sown_anew_after_a_loss() -> None:
    """A spot sown anew has a plant again."""
    made = run(sown(), lost(44, named("P3")), sown(46, which=named("P3")), picked(90, 20, named("P3")))

    assert by(lost_plant, made) == []


def test_milestone_said_again_after_a_loss() -> None:
    """A milestone reached before the loss may be recorded again."""
    flower = seen("first_flower", 40, named("P3"))
    made = run(sown(), flower, lost(44, named("P3")), replace(flower, day=day(51), source=place(151)))

    assert by(lost_plant, made) == []


def test_before_sowing() -> None:
    """Nothing comes from a plant before it was sown."""
    made = run(sown(0, which=named("P1")), sown(35, which=named("P4")), picked(30, 20, named("P4")))

    assert by(never_sown, made) == [
        (
            "e.yaml:130:5: error[never-sown]: `P4` was sown on day 35; it cannot be picked on day 30 "
            "(check which plant it was, or its day of sowing)"
        )
    ]


def test_never_sown() -> None:
    """Nothing comes from a plant that the log never says was sown."""
    assert by(never_sown, run(sown(0, which=named("P1")), up(9, 1, which=named("P3")))) == [
        "e.yaml:109:5: error[never-sown]: `P3` was never sown; it cannot sprout on day 9 (write `sow` for `P3`)"
    ]


def test_young_plants_that_were_brought() -> None:
    """A plant that was set in need not have been sown."""
    rows = done(Deed.TRANSPLANT, 5, named("P3")), picked(30, 20, named("P3"))

    assert by(never_sown, run(sown(0, which=named("P1")), *rows)) == []


def test_log_without_sowing() -> None:
    """A log that says nothing of sowing is not held to it plant by plant."""
    assert by(never_sown, run(picked(30, 20, named("P3")))) == []


def after_loss(line: int, verb: str, plant: str = "P3", loss: str = "on day 44") -> Finding:
    """An event of a plant after its loss."""
    when = f"on day {line - 100}"
    return Finding(
        "lost-plant",
        place(line),
        f"`{plant}` was lost {loss}; it cannot {verb} {when}",
        f"check which plant it was, or the day that `{plant}` was lost",
        f"`{plant}` {when}",
        f"a plant that still stands {when}",
    )


VERBS = {
    Deed.SPROUTED: "sprout",
    Deed.THIN: "be thinned",
    Deed.TRANSPLANT: "be transplanted",
    Deed.PRUNE: "be pruned",
    Deed.TRAIN: "be trained",
    Deed.POLLINATE: "be pollinated",
    Deed.TREAT: "be treated",
    Deed.TROUBLE: "have trouble",
    Deed.LOST: "be lost again",
    Deed.MOVE: "be moved",
}


@pytest.mark.parametrize("deed", sorted(set(Deed) - {Deed.SOW}))
def test_every_deed_after_a_loss(deed: Deed) -> None:
    """A deed that needs a living plant is an error after its loss; any other may be about its remains."""
    expected = [after_loss(151, VERBS[deed])] if deed in VERBS else []

    made = run(sown(), lost(44, named("P3")), done(deed, 51, named("P3"), tub="tub"))
    assert checked(lost_plant, made) == expected


def column(when: int, *ids: str) -> Reading:
    """A row of a spreadsheet, whose columns are plants."""
    return Reading("height", day(when), None, place(100 + when), exactly(9, Dimension.LENGTH, 1), ids)


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        (picked(44, 20, named("P3")), []),
        (picked(45, 20, named("P3")), [after_loss(145, "be picked")]),
        (picked(45, 20, named("P2")), []),
        (picked(45, 20, named("P2", "P3")), [after_loss(145, "be picked")]),
        (picked(45, 20, Which(("P3",), word="P3")), [after_loss(145, "be picked")]),
        (picked(45, 20, Which(("P3",), word="left")), []),
        (picked(45, 20, some_of(1, 4)), []),
        (replace(picked(45, 20, named("P3")), day=day((44, 46))), []),
        (height(45, 9, "P3"), [after_loss(145, "be measured")]),
        (height(45, 9, "P3")._replace(which=None, plants=("P3",)), []),
        (column(45, "P3"), [after_loss(145, "be measured")]),
        (column(45, "P2", "P3"), []),
        (seen("ripe", 45, named("P3")), [after_loss(145, "reach `ripe`")]),
        (seen("ripe", 45, named("P3"), reached=False), []),
        (up(45, 1, which=named("P3")), [after_loss(145, "sprout")]),
    ],
)
def test_row_after_a_loss(row: Row, expected: list[Finding]) -> None:
    """A row that names a plant by itself is an error from the day after its loss on."""
    assert checked(lost_plant, run(sown(), lost(44, named("P3")), row)) == expected


def test_several_events_after_a_loss() -> None:
    """Every event of every lost plant is a finding; a milestone reached before may be recorded again."""
    both = named("P2", "P3")
    rows = (
        up(5, 2, which=named("P3")),
        seen("ripe", 40, named("P3")),
        picked(43, 20, both),
        lost(44, both),
        picked(45, 20, both),
        picked(46, 20, named("P1")),
        picked(47, 20, named("P3")),
        seen("ripe", 48, both),
        up(49, 1, which=both),
    )

    assert checked(lost_plant, run(sown(), *rows)) == [
        after_loss(149, "sprout", "P2"),
        after_loss(145, "be picked", "P2"),
        after_loss(145, "be picked"),
        after_loss(147, "be picked"),
        after_loss(148, "reach `ripe`", "P2"),
    ]


@pytest.mark.parametrize(
    ("sowing", "fine"), [(43, False), (44, True), (45, True), (51, True), (52, False), ((40, 44), True)]
)
def test_sown_around_an_event(sowing: int | tuple[int, int], fine: bool) -> None:
    """A plant lives again if its spot was sown between its loss and the event, both days included."""
    made = run(
        sown(),
        lost(44, named("P3")),
        done(Deed.SOW, sowing, None, line=199),
        picked(51, 20, named("P3")),
    )

    assert (checked(lost_plant, made) == []) is fine


def test_loss_that_was_noted_to_a_span() -> None:
    """Within the span of its loss a plant may still stand."""
    span = done(Deed.LOST, (44, 50), named("P3"))

    assert checked(lost_plant, run(sown(), span, picked(50, 20, named("P3")))) == []
    assert checked(lost_plant, run(sown(), span, picked(51, 20, named("P3")))) == [
        after_loss(151, "be picked", loss="on days 44-50")
    ]


def not_sown(line: int, verb: str, sown_on: int | None = None, plant: str = "P4") -> Finding:
    """An event of a plant before its sowing, or without one."""
    when = f"on day {line - 100}"
    sowing = "was never sown" if sown_on is None else f"was sown on day {sown_on}"
    mend = (
        f"write `sow` for `{plant}`" if sown_on is None else "check which plant it was, or its day of sowing"
    )
    message = f"`{plant}` {sowing}; it cannot {verb} {when}"
    return Finding("never-sown", place(line), message, mend, f"`{plant}` {when}", "a plant that was sown")


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ([sown(35, which=named("P4")), picked(35, 20, named("P4"))], []),
        ([sown(35, which=named("P4")), picked(34, 20, named("P4"))], [not_sown(134, "be picked", 35)]),
        ([sown(35, which=named("P4")), replace(picked(34, 20, named("P4")), day=day((34, 35)))], []),
        ([sown(35, which=named("P4")), sown(30, which=named("P4")), picked(31, 20, named("P4"))], []),
        ([sown(35), picked(34, 20, named("P4"))], [not_sown(134, "be picked", 35)]),
        ([done(Deed.SOW, 35), picked(34, 20, named("P4"))], [not_sown(134, "be picked", 35)]),
        ([done(Deed.SOW, 0), picked(34, 20, named("P4"))], []),
        ([picked(34, 20, named("P4"))], [not_sown(134, "be picked")]),
        ([done(Deed.TRANSPLANT, 50, named("P4")), picked(34, 20, named("P4"))], []),
        ([done(Deed.TRANSPLANT, 50), picked(34, 20, named("P4"))], []),
        (
            [
                done(Deed.TRANSPLANT, 50, named("P4")),
                sown(35, which=named("P4")),
                picked(34, 20, named("P4")),
            ],
            [not_sown(134, "be picked", 35)],
        ),
        (
            [picked(31, 9, named("P4")), picked(32, 9, named("P1")), picked(33, 9, named("P4", "P3"))],
            [
                not_sown(131, "be picked"),
                not_sown(133, "be picked"),
                not_sown(133, "be picked", plant="P3"),
            ],
        ),
    ],
)
def test_events_and_sowing(rows: list[Row], expected: list[Finding]) -> None:
    """Each event of a plant lies on the day of its first sowing or later; a plant that was set in needs none."""
    assert checked(never_sown, run(sown(0, which=named("P1")), *rows)) == expected
