"""What viewers ask about every run."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitegen.core.language.wording import NBSP, Wording
from sitegen.core.records.rows import Deed, Run
from sitegen.core.records.setup import Answer
from sitegen.core.site.content import Picture, PictureFile
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.render.story.questions import answered_questions
from tests.measure.builders import event, grams, joint, litres, pick, reading, run_of, seeds, setup_of
from tests.render.builders import full_run, started_run

SAY = Wording()


def asked(run: Run, *pictures: Picture) -> dict[str, str]:
    """Each question with its answer as plain text."""
    found = answered_questions(measure(run), pictures, SAY)
    return {
        reply.question: " ".join(s.plain(SAY) for s in reply.sentences).replace(NBSP, " ") for reply in found
    }


def long_run() -> Run:
    """A run picked twice, three weeks apart, of which a plant stands 41 cm tall in a tub with 50 cm."""
    return run_of(
        setup_of(2),
        events=(
            seeds(0, 1, "P1", "P2"),
            event(Deed.TRANSPLANT, 20, joint("P1", "P2")),
            event(Deed.WATER, 20, amount=litres(8), filled=True),
            event(Deed.END, 70, what="spent", kept=False),
        ),
        readings=(reading("height", 50, exactly(41, Dimension.LENGTH, 1), ("P1",)),),
        picks=(pick(48, joint("P1"), grams(60)), pick(69, joint("P2"), grams(30))),
    )


def picture(shows: str, day: int) -> Picture:
    """A picture that says what it shows."""
    return Picture(
        "a.jpg", "Drawn", (PictureFile("a.jpg", "image/jpeg", 4, 3),), day=Day.on(day), shows=shows
    )


@pytest.mark.parametrize(
    ("question", "answer"),
    [
        (
            "How long until the first bite?",
            "The first pick came on day 48 after sowing, 28 days after transplanting.",
        ),
        (
            "How much did it give?",
            (
                "In all, 90 g (3.17 oz) was picked. Spread over the 21 days of picking, that is 30 g (1.06 oz) per "
                "week."
            ),
        ),
        (
            "Does it fit under the lamp?",
            (
                "The greatest height measured was 41 cm (16 in), P1, day 50. Room with the lamp at its highest: "
                "50 cm (19.7 in), in Bucket; 9 cm (3.5 in) was left above the tallest plant measured, on day 50, "
                "when last measured."
            ),
        ),
        ("What did it use?", "Water in all: 8 L (2.1 gal)."),
    ],
)
def test_what_was_recorded_is_answered(question: str, answer: str) -> None:
    """Each answer says what the records give, in sentences that are true alone."""
    assert asked(long_run())[question] == answer


def test_work_is_counted_in_visits() -> None:
    """Work is said as visits and what they were for."""
    assert asked(long_run())["How much work was it?"] == (
        "6 visits over 70 days: 1 to add water, 3 to work on the plants."
    )


def test_a_short_picking_gives_no_amount_a_week() -> None:
    """Two picks five days apart say nothing of a week."""
    assert "week" not in asked(full_run())["How much did it give?"]


def test_what_the_records_do_not_say_is_not_asked() -> None:
    """A run that has hardly begun is only asked for its work."""
    assert list(asked(started_run())) == ["How much work was it?"]


def test_a_plant_as_tall_as_its_room_leaves_none() -> None:
    """A plant that outgrew the room below the lamp is said to have left none."""
    tall = (reading("height", 50, exactly(55, Dimension.LENGTH, 1), ("P1",)),)
    run = long_run()

    said = asked(replace(run, rows=replace(run.rows, readings=tall)))["Does it fit under the lamp?"]

    assert said.endswith(
        "Room with the lamp at its highest: 50 cm (19.7 in), in Bucket. "
        "The plants used all of it, on day 50, when last measured."
    )


def test_ripeness_leads_to_its_pictures() -> None:
    """Ready and too late lead to the first entry with a picture of it."""
    pictures = (picture("too late", 60), picture("ready", 52), picture("ready", 48), picture("not ready", 40))

    (found,) = [r for r in answered_questions(measure(long_run()), pictures, SAY) if r.links]

    assert found.links == (
        (f"ready: see the picture from day{NBSP}48", "day-48"),
        (f"too late: see the picture from day{NBSP}60", "day-60"),
    )


def test_what_would_be_changed_is_the_authors_word() -> None:
    """What the author would do otherwise is said as written, as a sentence."""
    run = long_run()
    changed = replace(run, setup=replace(run.setup, answer=Answer("again", "it fruited", "pick earlier")))

    assert asked(changed)["What should change next time?"] == "Pick earlier."
