"""Narrations held against the log: right and wrong, in digits and in words, in both systems and languages.

The verdicts are by hand from the logs of the demo. A day beside another number of its sentence is judged with that.
Conversions are those of the unit table.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest

from sitegen.notes.check import check_narration
from sitegen.notes.check.verdicts import Verdict
from tests.notes.materials import of_demo

LAMPS, LOFT, BESIDE = "pebble-two-lamps", "emberfrill-hot-loft", "cinder-beside-pebble"


def _verdicts(run: str, text: str, language: str = "en") -> tuple[Verdict, ...]:
    material = of_demo(run)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "narration.txt"
        path.write_text(text, "utf-8", errors="replace")
        return check_narration(path, material.facts, material.wording, language).claims


@pytest.mark.parametrize(
    ("run", "text", "outcomes"),
    [
        (LAMPS, "Eleven of the twelve seeds came up.", ["right"]),
        (LAMPS, "11 out of 12 were up by day 5.", ["wrong"]),  # 7 of 12 on day 5
        (LAMPS, "Seven of the twelve seeds were up on day 5.", ["right"]),
        (LAMPS, "On day 24 everything moved into the tubs.", ["right"]),
        (LAMPS, "On day twenty-six the plants moved into the tubs.", ["wrong"]),
        (LAMPS, "I moved plant three on day sixty-three.", ["wrong"]),  # day 66
        (LAMPS, "The tallest plant stood at thirty-four centimetres.", ["right"]),
        (LAMPS, "The tallest was thirteen and a half inches.", ["right"]),  # 13.39 in
        (LAMPS, "The tallest plant was forty centimetres high.", ["wrong"]),
        (LAMPS, "The first pick was on July twelfth.", ["right"]),  # day 98
        (LAMPS, "The first pick was on the fifteenth of July.", ["wrong"]),
        (LAMPS, "Plant five gave twenty-four grams on day 98.", ["right"]),
        (LAMPS, "The biggest pick weighed 393 grams.", ["right"]),  # 52+40+49+83+91+78
        (LAMPS, "On day 118 the panel plants averaged eighty-four grams.", ["right"]),  # 83, 91, 78
        (LAMPS, "We picked 1.33 kilos in total.", ["right, say"]),  # one pick unweighed
        (LAMPS, "In all at least one kilo three hundred and thirty.", ["right"]),
        (LAMPS, "Two pounds four ounces of tomatoes.", ["wrong"]),
        (LAMPS, "At least two pounds and nearly fifteen ounces.", ["right"]),  # 2 lb 14.9 oz
        (LAMPS, "The three panel plants made 613 grams.", ["right", "right, say"]),  # they shared bowls
        (LAMPS, "The bar plants made 362 grams.", ["wrong"]),  # 124 g of it is plant 3's
        (LAMPS, "We used eighty-five and a half litres of water.", ["right"]),
        (LAMPS, "About twenty-three gallons of water went in.", ["right"]),  # 22.59 gal
        (LAMPS, "Sixty litres of water went in.", ["wrong"]),
        (LAMPS, "The panel uses forty per cent more power.", ["wrong"]),  # 100 W, 60 W: two thirds
        (LAMPS, "The panel uses two thirds more power.", ["right"]),
        (LAMPS, "The bar uses forty per cent less.", ["right"]),
        (LAMPS, "The lamps burned fifteen hours a day.", ["right"]),
        (LAMPS, "The taste got four out of five.", ["right"]),
        (LAMPS, "The taste got five out of five.", ["wrong"]),
        (LAMPS, "Seventy-four days from seed to the first tomato.", ["wrong"]),  # 98; 74 from transplanting
        (LAMPS, "All six were in flower by day 62.", ["right"]),
        (LAMPS, "Three people tried them.", ["right"]),
        (LOFT, "It hit eighty-four in there.", ["right"]),  # 28.8 °C is 83.8 °F
        (LOFT, "Thirty degrees under the lamp.", ["wrong"]),
        (LOFT, "It reached twenty-eight point eight degrees.", ["right"]),
        (LOFT, "Altogether 333 grams.", ["right"]),
        (LOFT, "A third of a kilo.", ["right"]),
        (LOFT, "Altogether four hundred grams.", ["wrong"]),
        (LOFT, "All six plants made it.", ["wrong"]),  # one lost on day 12
        (LOFT, "We lost one plant on day twelve.", ["right"]),
        (LOFT, "We lost three plants.", ["wrong"]),
        (LOFT, "Not quite five ounces on day thirty-seven.", ["right"]),  # 4.80 oz
        (LOFT, "The packet claims forty-five days.", ["right"]),
        (LOFT, "First cut two weeks ahead of the packet.", ["right"]),  # 15 days
        (LOFT, "The light used fifty-four kilowatt hours.", ["right"]),
        (LOFT, "It turned bitter on day forty-three.", ["right, say"]),
        (BESIDE, "Cinder Button beat Pebble Lantern by 15 days.", ["right"]),  # ripe on day 97 and 112
        (BESIDE, "Ten point three ounces so far.", ["right, say"]),
        (BESIDE, "All four have given ripe fruit now.", ["wrong"]),  # 3 of 4 on day 119
        (BESIDE, "The last height was thirty-six centimetres.", ["right"]),
    ],
)
def test_what_was_spoken(run: str, text: str, outcomes: list[str]) -> None:
    """Each number of a sentence has its verdict, in the order of the sentence."""
    assert [each.outcome.value for each in _verdicts(run, text)] == outcomes


@pytest.mark.parametrize(
    ("run", "text", "outcome"),
    [
        (LAMPS, "Elf von zwölf Samen sind aufgegangen.", "right"),
        (LAMPS, "Zehn von zwölf Samen sind aufgegangen.", "wrong"),
        (LAMPS, "Die höchste Pflanze war vierunddreißig Zentimeter hoch.", "right"),
        (LAMPS, "Die höchste Pflanze war fünfzig Zentimeter hoch.", "wrong"),
        (LAMPS, "Insgesamt wog die Ernte mindestens ein Kilo dreihundertdreißig.", "right"),
        (LAMPS, "Am Tag sechsundsechzig wurde Pflanze drei umgesetzt.", "right"),
        (LOFT, "Die Ernte wog insgesamt dreihundertdreiunddreißig Gramm.", "right"),
        (LOFT, "Achtundzwanzig Komma acht Grad, so heiß war es.", "right"),
        (LOFT, "Der Geschmack bekam drei von fünf Punkten.", "right"),
    ],
)
def test_what_was_spoken_in_german(run: str, text: str, outcome: str) -> None:
    """The same in German, number words and decimal commas included."""
    assert [each.outcome.value for each in _verdicts(run, text, "de")] == [outcome]


@pytest.mark.parametrize(
    ("text", "why"),
    [
        (
            "I moved plant three on day sixty-three.",
            "wrong by 3 days: P3 moved on day 66; a correction of the page says so already",
        ),
        ("11 out of 12 seeds were up by day 5.", "wrong: 7 of 12 seeds up on day 5; 11 on day 7"),
        (
            "Seventy-four days from seed to the first tomato.",
            (
                "wrong by 24 days: 98 days, from sowing to first pick; "
                "that number is 74 days, from transplanting to first pick"
            ),
        ),
    ],
)
def test_by_how_much_it_is_wrong(text: str, why: str) -> None:
    """A wrong number comes with what the log has, the difference, and where the number stands under another meaning."""
    (verdict,) = _verdicts(LAMPS, text)
    assert verdict.text == why
