"""Twenty-five claims of the kind that is made in episodes, and what is to be said of each.

The numbers are by hand from the logs in content_demo: the days and sums stand in them. Where a verdict is "right,
say", the number is there and something honest is missing.
"""

from __future__ import annotations

import pytest

from tests.notes.check.checking import verdicts

LAMPS, LOFT, BESIDE = "pebble-two-lamps", "emberfrill-hot-loft", "cinder-beside-pebble"

CLAIMS: list[tuple[str, str, list[str]]] = [
    (LAMPS, "Eleven of the twelve seeds came up.", ["right: 11 of 12 seeds up on day 7"]),
    (LAMPS, "11 out of 12 were up by day 5.", ["wrong: 7 of 12 seeds up on day 5; 11 on day 7"]),
    (
        LAMPS,
        "We picked 1.33 kilos in total.",
        [
            (
                "right, say “at least” (one pick was not weighed, day 126): "
                "at least 1.33 kg (2 lb 15 oz), harvest in all"
            )
        ],
    ),
    (
        LAMPS,
        "Two pounds four ounces of tomatoes.",
        [("wrong by at least 309 g (10.9 oz): at least 1.33 kg (2 lb 15 oz), harvest in all")],
    ),
    (
        LAMPS,
        "I moved plant three on day sixty-three.",
        ["wrong by 3 days: P3 moved on day 66; a correction of the page says so already"],
    ),
    (LAMPS, "The first pick was on July twelfth.", ["right: first pick on day 98"]),
    (
        LAMPS,
        "Seventy-four days from seed to first tomato.",
        [
            (
                "wrong by 24 days: 98 days, from sowing to first pick; "
                "that number is 74 days, from transplanting to first pick"
            )
        ],
    ),
    (
        LAMPS,
        "The panel uses forty per cent more power.",
        ["wrong: power, group panel against group bar: 100 W against 60 W, 67 % more"],
    ),
    (
        LAMPS,
        "The bar uses forty per cent less.",
        ["right: power, group bar against group panel: 60 W against 100 W, 40 % less"],
    ),
    (
        LAMPS,
        "The three panel plants made 613 grams.",
        [
            "right: 3 of 3 had given a pick in group panel on day 111",
            (
                "right, say “at least” (two picks were weighed together with P3): "
                "613–968 g (21.62–34.15 oz), harvest of group panel"
            ),
        ],
    ),
    (
        LAMPS,
        "On day 118 the panel plants averaged eighty-four grams.",
        ["right: 84 g (2.96 oz), mean of 83 and 91 and 78 of group panel, day 118"],
    ),
    (
        LAMPS,
        "The bar plants made 362 grams.",
        [
            (
                "wrong by 124 g (4.37 oz): at least 238 g (8.4 oz), harvest of group bar; "
                "that sum holds 124 g of P3, moved on day 66"
            )
        ],
    ),
    (
        LAMPS,
        "Three people couldn't taste the difference between the lamps.",
        [("not placed: the tasting on day 104 had fruit of P3, P4, P5 only, all of one tub")],
    ),
    (LAMPS, "All six were in flower by day 62.", ["right: 6 of 6 had flowered on day 62"]),
    (LOFT, "It hit eighty-four in there.", ["right in °F: 28.8 °C (83.8 °F), highest air, day 32"]),
    (
        LOFT,
        "Thirty degrees under the lamp.",
        ["wrong by 1.2 °C (2.2 °F): 28.8 °C (83.8 °F), highest air, day 32"],
    ),
    (
        LOFT,
        "A third of a kilo of leaves.",
        [
            (
                "right, say “leaf and whole plant” (38 g of it was whole plant): "
                "333 g (11.75 oz), harvest in all"
            )
        ],
    ),
    (LOFT, "All six plants made it.", ["wrong: 5 of 6 plants alive on day 12; 6 on day 0"]),
    (
        LOFT,
        "It turned bitter on day forty-three.",
        [("right, say “by day 43” (the look before was on day 30): tasted (bitter at the rib) on day 43")],
    ),
    (
        LOFT,
        "First cut two weeks ahead of the packet.",
        ["right to 1 day: first pick before the packet's day: 15 days"],
    ),
    (
        BESIDE,
        "Cinder Button beat Pebble Lantern by 15 days.",
        ["right: first ripe: Cinder Button on day 97, Pebble Lantern on day 112: 15 days"],
    ),
    (
        BESIDE,
        "Ten point three ounces so far.",
        [
            (
                "right, say “at least” (one pick was not weighed, day 119): "
                "at least 292 g (10.3 oz), harvest in all"
            )
        ],
    ),
    (BESIDE, "All four have given ripe fruit now.", ["wrong: 3 of 4 had ripe fruit on day 119"]),
    (
        BESIDE,
        "Eighty-one grams from the Pebble Lanterns, forty each.",
        [
            "right: 81 g (2.86 oz), harvest of Pebble Lantern",
            "wrong: 81 g (2.86 oz), harvest of P2, 0 g, harvest of P4",
        ],
    ),
    (BESIDE, "We only fed them once.", ["wrong: 11, feedings from day 22 to day 112"]),
]


@pytest.mark.parametrize(("run", "spoken", "said"), CLAIMS, ids=[spoken for _, spoken, _ in CLAIMS])
def test_what_is_said_of_a_claim(run: str, spoken: str, said: list[str]) -> None:
    """Right, right with something to say, wrong by how much, or not placed, with the value of the log."""
    assert [verdict for _, verdict in verdicts(run, spoken)] == said
