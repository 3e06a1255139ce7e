"""Whole narrations: right and wrong numbers, in digits and in words, metric and US, English and German.

The numbers are by hand from the logs in content_demo. Wrong on purpose are those whose verdict says so.
"""

from __future__ import annotations

import pytest

from sitegen.notes.check.verdicts import Outcome
from tests.notes.check.checking import checked, verdicts
from tests.notes.materials import LOGGED, of_demo, script_of

ENGLISH = """\
We sowed on the fifth of April.
By day 5, seven of the twelve seeds were up.
On day 7 it was ten of twelve.
On day twenty-four they moved into the tubs.
We started at an EC of one point four, and by day 62 it was 2.4 in the right tub.
On day 41 the left tub was at an EC of one point six.
Plant three went to the right-hand tub on day 63.
The tallest plant under the bar stood at thirty-four centimetres on day 58.
Under the panel it was thirty.
Two plants had flowered by day fifty-three.
The first ripe one was picked on July twelfth.
That was three tomatoes and twenty-four grams.
On day 118 plant five gave ninety-one grams and plant six gave ninety-one.
The biggest pick was on day 126.
In all we picked at least one kilo three hundred and thirty.
The packet says sixty-five days.
We counted seventy-four from transplanting.
The panel takes two thirds more power.
That is a hundred watts against sixty.
The panel hung at thirty-eight centimetres above the plants.
It came to eighty-five and a half litres of water.
Of that the left tub drank thirty-five litres.
We fed them four times.
Taste was four out of five.
Two plants died.
It was 28 degrees in the water on day 82.
"""
ENGLISH_SAID = [
    ("fifth of April", "right: sown on day 0"),
    ("seven of the twelve", "right: 7 of 12 seeds up on day 5"),
    ("ten of twelve", "wrong: 11 of 12 seeds up on day 7"),
    ("day twenty-four", "right: transplanted on day 24"),
    ("one point four", "right: 1.4 mS/cm, EC of right tub, day 24"),
    ("2.4", "right: 2.4 mS/cm, EC of right tub, day 62"),
    ("one point six", "wrong by 0.2 mS/cm: 1.8 mS/cm, EC of left tub, day 41"),
    ("day 63", "wrong by 3 days: P3 moved on day 66; a correction of the page says so already"),
    ("thirty-four centimetres", "right: 34 cm (13.4 in), tallest (P3) of group bar, day 58"),
    (
        "thirty",
        (
            "wrong by 3 cm (1.2 in): 27 cm (10.6 in), tallest (P5) of group panel, day 58; "
            "that number is 30 cm (12 in), lamp above the plants of left tub, day 24"
        ),
    ),
    ("Two plants", "right: 2 of 6 had flowered on day 53"),
    ("July twelfth", "right: first pick on day 98"),
    ("three tomatoes", "right: 3, pieces picked of P5, day 98"),
    ("twenty-four grams", "right: 24 g (0.85 oz), picked, day 98"),
    ("ninety-one grams", "right: 91 g (3.2 oz), pick of P5, day 118"),
    (
        "ninety-one",
        (
            "wrong by 13 g (0.46 oz): 78 g (2.75 oz), pick of P6, day 118; "
            "that number is 91 g (3.2 oz), pick of P5, day 118"
        ),
    ),
    ("day 126", "wrong by 8 days: pick on day 118"),
    ("one kilo three hundred and thirty", "right: at least 1.33 kg (2 lb 15 oz), harvest in all"),
    ("sixty-five days", "right: 65 days, days by the packet"),
    ("seventy-four", "right: 74 days, from transplanting to first ripe"),
    ("two thirds more", "right: power, group panel against group bar: 100 W against 60 W, 67 % more"),
    ("a hundred watts", "right: 100 W, 100 W panel of right tub"),
    ("sixty", "right: 60 W, 60 W bar of left tub"),
    ("thirty-eight centimetres", "right: 38 cm (15 in), lamp above the plants of right tub, day 24"),
    ("eighty-five and a half litres", "right: 85.5 L (22.59 gal), water in all"),
    ("thirty-five litres", "wrong by 2 L (0.53 gal): 33 L (8.7 gal), water in all of left tub"),
    ("four times", "right: 4, feedings from day 24 to day 82"),
    ("four out of five", "right: taste 4 of 5 on day 104"),
    ("Two plants", "wrong: 0 of 6 plants lost"),
    ("28 degrees", "wrong by 5 °C (9.0 °F): 23 °C (73 °F), water temperature of right tub, day 82"),
]

US = """\
The Cinder Buttons flowered on day fifty-two.
The tallest was one foot two inches.
In all, half a pound.
Pebble Lantern gave two point nine ounces.
Cinder Button gave over seven ounces.
On October 30 we picked the first one.
By day forty-eight all four had buds.
Two plants had leaf mould on day 78.
A hundred watts for fourteen hours a day.
We watered it twelve times.
"""
US_SAID = [
    ("day fifty-two", "right: Cinder Button had flowered on day 52"),
    ("one foot two inches", "right: 14 in (36 cm), tallest (P2), day 70"),
    ("half a pound", "wrong by at least 2.3 oz (65 g): at least 10.3 oz (292 g), harvest in all"),
    ("two point nine ounces", "right: 2.86 oz (81 g), harvest of Pebble Lantern"),
    ("seven ounces", "right: at least 7.44 oz (211 g), harvest of Cinder Button"),
    ("October 30", "right: first pick on day 97"),
    ("four", "right: 4 of 4 had a flower bud on day 48"),
    ("Two plants", "right: 2 of 4 plants: trouble (leaf mould on the lowest leaves) on day 78"),
    ("A hundred watts", "right: 100 W, 100 W panel"),
    ("fourteen hours", "right: 14 h, light a day"),
    ("twelve times", "right: 12, visits with water from day 22 to day 112"),
]

GERMAN = """\
Elf von zwölf Samen sind aufgegangen.
Eine Pflanze ist an Tag zwölf umgefallen.
Bis Tag sechsundvierzig waren zwei Pflanzen geschossen.
Es waren achtundzwanzig Komma acht Grad.
Am ersten Juli war die erste Ernte.
An Tag 37 haben wir hundertsechsunddreißig Gramm geerntet.
Die höchste Pflanze war siebenundvierzig Zentimeter hoch.
Insgesamt ein Drittel Kilo Blätter.
Insgesamt einundfünfzig Liter Wasser.
Wir haben zweimal gedüngt.
"""
GERMAN_SAID = [
    ("Elf von zwölf", "wrong: 9 of 12 seeds up on day 4"),
    ("Eine Pflanze", "right: 1 of 6 plants lost on day 12"),
    ("zwei Pflanzen", "right: 2 of 6 had bolted on day 46"),
    ("achtundzwanzig Komma acht Grad", "right in °C: 28.8 °C (83.8 °F), highest air, day 32"),
    ("ersten Juli", "right: first pick on day 30"),
    ("hundertsechsunddreißig Gramm", "right: 136 g (4.8 oz), picked, day 37"),
    ("siebenundvierzig Zentimeter", "right: 47 cm (18.5 in), tallest (P4), day 55"),
    (
        "ein Drittel Kilo",
        ("right, say “leaf and whole plant” (38 g of it was whole plant): 333 g (11.75 oz), harvest in all"),
    ),
    ("einundfünfzig Liter", "right: 51 L (13.5 gal), water in all"),
    ("zweimal", "wrong: 12, feedings from day 7 to day 50"),
]


@pytest.mark.parametrize(
    ("run", "spoken", "language", "units", "said"),
    [
        ("pebble-two-lamps", ENGLISH, "en", "metric", ENGLISH_SAID),
        ("cinder-beside-pebble", US, "en", "us", US_SAID),
        ("emberfrill-hot-loft", GERMAN, "de", "metric", GERMAN_SAID),
    ],
    ids=["english", "us", "german"],
)
def test_a_narration(run: str, spoken: str, language: str, units: str, said: list[tuple[str, str]]) -> None:
    """Each number in turn, with its verdict."""
    assert verdicts(run, spoken, language=language, units=units) == said


def test_there_are_enough_claims() -> None:
    """The three narrations hold forty claims or more, right and wrong."""
    every = [*ENGLISH_SAID, *US_SAID, *GERMAN_SAID]
    wrong = sum(verdict.startswith("wrong") for _, verdict in every)
    assert (len(every) >= 40, wrong >= 10) == (True, True)


# Wrong by the log, but by the author's own words: an advice for next time, and leaves that were weighed on the floor.
NOT_OF_THE_LOG = {("emberfrill-hot-loft", "day 40"), ("oak-in-jars", "80")}


@pytest.mark.parametrize("run", LOGGED)
def test_a_drafted_script_is_right(run: str) -> None:
    """No number of a script that was drafted from the log is wrong, and few are not placed."""
    found = checked(run, "\n".join(script_of(of_demo(run)))).claims
    wrong = {(run, each.claim.words) for each in found if each.outcome is Outcome.WRONG}
    missed = sum(each.outcome is Outcome.NOT_PLACED for each in found)
    assert wrong <= NOT_OF_THE_LOG
    assert (missed <= 2, len(found) > 20) == (True, True)
