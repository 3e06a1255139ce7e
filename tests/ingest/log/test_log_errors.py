"""What is said of a log's keys that are not in one of their forms."""

# ruff: noqa: E501 - a finding stays whole on its line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ingest.builders import GROUPS, PICTURES, TUBS, found

REFUSED_HEAD = [
    ("sow: 3", ["9:19: count-of-what: `3` seeds in each spot, or in all? (write `3 a spot` or `3 in all`)"]),
    (
        "sow: a pinch",
        [
            "9:19: not-a-count: `a pinch` is not a number of seeds (write how many, such as `sow: 3 a spot`, `sow: 18 in all` or `sow: unmeasured`)"
        ],
    ),
    (
        "sow: {plants: P3}",
        ["9:19: missing-key: `seeds` is missing: how many (write it, such as `seeds: 4 a spot`)"],
    ),
    (
        "sow: [3, 2]",
        [
            "9:19: wrong-type: `sow` wants a single value, not a list (write one value, such as `sow: 3 a spot`)"
        ],
    ),
    (
        "sprouted: most",
        [
            "9:24: not-a-count: `most` is not a number of seedlings (write how many, such as `sprouted: 16 of 18`, `sprouted: all`, `sprouted: every spot` or `sprouted: {P1: 3}`)"
        ],
    ),
    (
        "sprouted: [P1, P2]",
        [
            "9:24: wrong-type: `sprouted` wants a single value, not a list (write one value, such as `sprouted: 16 of 18`)"
        ],
    ),
    (
        "sprouted: {P9: 2}",
        [
            "9:25: unknown-plant: `P9` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
    (
        "thin_to: 1 a spot",
        ["9:23: not-a-count: `1 a spot` is not a whole number; `thin_to` wants one (write `thin_to: 1`)"],
    ),
    (
        "transplant: []",
        ["9:26: wrong-type: `transplant` holds nothing (write it, such as `transplant: all`, or remove it)"],
    ),
    (
        "transplant: [P1, 2 of 4]",
        [
            "9:31: not-a-selection: `2 of 4` names no plants, so it cannot stand in a list (name the plants, or write `transplant: 2 of 4`)"
        ],
    ),
    (
        "transplant: P1, P3",
        ["9:30: yaml-twist: the comma before `P3` begins a new key here (write `transplant: [P1, P3]`)"],
    ),
    ("transplant: P4-P1", ["9:26: reversed-range: `P4-P1` is no range of plants (write `P1-P4`)"]),
    ("transplant: p3 to p1", ["9:26: reversed-range: `p3 to p1` is no range of plants (write `P1-P3`)"]),
    (
        "transplant: 2",
        ["9:26: not-a-selection: `2` plants of how many? (write `2 of 4`, or name the plants)"],
    ),
    (
        "transplant: p11",
        ["9:26: unknown-plant: `p11` is not a plant, group or tub of this experiment (write `P1`)"],
    ),
    (
        "transplant: {P1: yes}",
        [
            "9:26: not-a-selection: `transplant` wants plants, not a mapping (write `transplant: [P1, P3]`, `transplant: 2 of 6`, `transplant: all` or `transplant: none`)"
        ],
    ),
    (
        "lost: {P1: {why: x}}",
        ["9:25: wrong-type: `P1` wants a single value, not a mapping (write one value, such as `P1: …`)"],
    ),
    (
        "lost: P9",
        [
            "9:20: unknown-plant: `P9` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
    (
        "end: [slow]",
        [
            "9:19: wrong-type: `end` wants a mapping, not a list (write a mapping, such as `end: {why: slow now, plants: kept}`)"
        ],
    ),
    (
        "end: cleared",
        [
            "9:19: wrong-type: `end: cleared` says what became of the plants, not why it ended (write `end: {plants: cleared}`)"
        ],
    ),
    (
        "end: {plants: gone}",
        ["9:28: unknown-choice: `plants` cannot be `gone` (write `cleared`)"],
    ),
    (
        "end: ",
        [
            "9:14: missing-key: `end` is left empty (write it, such as `end: {why: slow now, plants: kept}`, or remove it)"
        ],
    ),
    (
        "water: refilled",
        ["9:21: not-a-quantity: `refilled` is not an amount of water (write `filled`)"],
    ),
    (
        "water: {each: 2 L}",
        [
            "9:21: wrong-type: `water` wants a single value, not a mapping (write one value, such as `water: 2 L`)"
        ],
    ),
    ("water: 5", ["9:21: no-unit: `water: 5` has no unit (write `5 ml`, `5 cl`, `5 dl` or `5 L`)"]),
    (
        "feed: 10 ml",
        ["9:20: which-product: `feed` does not say which product (write `feed: {syrup: 10 ml}`)"],
    ),
    (
        "feed: syrup",
        [
            "9:20: which-product: `feed` does not say how much of `syrup` (write how much, such as `feed: {syrup: 10 ml}`, or `{syrup: unmeasured}`)"
        ],
    ),
    (
        "feed: {sirup: 10 ml}",
        ["9:21: unknown-product: `sirup` is not a product of gear.yaml (write `syrup`)"],
    ),
    (
        "feed: {syrup: 10}",
        ["9:28: no-unit: `syrup: 10` has no unit (write `10 ml`, `10 cl`, `10 dl` or `10 L`)"],
    ),
    (
        "feed: {syrup: 1 oz}",
        [
            "9:28: ambiguous-number: `1 oz` of a product can be a weight or a volume (write `1 fl oz`, or the weight in `g`)"
        ],
    ),
    ("feed: {syrup: 2 ml per L}", ["9:28: unknown-unit: `2 ml per L` is not a dose (write `2 ml/L`)"]),
    (
        "feed: {syrup: half dose}",
        [
            "9:28: not-a-quantity: `half dose` is not a dose (write a dose such as `10 ml` or `2 ml/L`, `as labelled` or `unmeasured`)"
        ],
    ),
    (
        "feed: {syrup: 3 cm}",
        ["9:30: wrong-dimension: `cm` is a length; `syrup` wants a volume (write a volume, such as `2 L`)"],
    ),
    (
        "feed: {syrup: 10 ml, at: every refill}",
        [
            "9:35: unknown-key: `at` belongs to a routine; `feed` is what was given at this visit (remove `at`, or write it under `from_now: {feed: {…}}`)"
        ],
    ),
    (
        "feed: {}",
        [
            "9:20: wrong-type: `feed` holds nothing (write it, such as `feed: {leaf-mix: 20 ml}`, or remove it)"
        ],
    ),
    (
        "light: 14",
        ["9:21: wrong-type: `light` wants a mapping, or `off` (write `light: {hours: 14 h}`, or `off`)"],
    ),
    (
        "light: [14 h]",
        [
            "9:21: wrong-type: `light` wants a mapping, not a list (write a mapping, such as `light: {hours: 14 h}`)"
        ],
    ),
    ("light: {hours: 14}", ["9:29: no-unit: `hours: 14` has no unit (write `14 h` or `14 min`)"]),
    ("light: {lamp: panel}", ["9:28: unknown-lamp: `panel` is not a lamp of gear.yaml (write `strip`)"]),
    (
        "from_now: daily feed",
        [
            "9:24: wrong-type: `from_now` wants a mapping, not a text (write a mapping, such as `from_now: {feed: {leaf-mix: 20 ml, at: every refill}}`)"
        ],
    ),
    (
        "from_now: {height: 3 cm}",
        [
            (
                "9:25: unknown-key: `height` is not a key of `from_now` "
                "(write one of `feed`, `light`, `water`, `pollinate`, `prune`, `treat`, `clean`, `at`)"
            )
        ],
    ),
    (
        "from_now: {feed: {at: every refill}}",
        [
            "9:31: which-product: `feed` does not say which product (write a product and how much, such as `feed: {syrup: 10 ml}`)"
        ],
    ),
    (
        "stop: feeding",
        [
            "9:20: unknown-choice: `feeding` is not a routine; there are feed, light, water, pollinate, prune, treat and clean (write `feed`)"
        ],
    ),
    (
        "stop: {feed: true}",
        [
            "9:20: wrong-type: `stop` wants a single value, not a mapping (write one value, such as `stop: feed`)"
        ],
    ),
    (
        "ec: {tub: 1.4 mS/cm}",
        ["9:18: missing-key: `ec` has no value here (write it, such as `value: 1.4 mS/cm`)"],
    ),
    ("ec: [1.4 mS/cm]", ["9:18: wrong-type: `ec` wants a single value, not a list (write `ec: 1.4 mS/cm`)"]),
    (
        "ph: {P1: 6.1}",
        [
            "9:19: unknown-key: `P1` is not a key of a reading (write one of `value`, `meter`, `each`, `together`, `plants`, `tub`)"
        ],
    ),
    (
        "height: [9 cm, 8 cm]",
        [
            "9:22: wrong-type: `height` wants a single value, not a list (write one value, such as `height: about 9 cm`)"
        ],
    ),
    (
        "height: {plants: P1}",
        [
            "9:22: missing-key: `height` has no value here (write it, such as `each: about 9 cm`, or `together: …`)"
        ],
    ),
    (
        "height: {P1: }",
        [
            "9:27: not-a-quantity: an empty text is not a length (write a value such as `9 cm`, or `unmeasured`)"
        ],
    ),
    (
        "height: {P1: 9 cm, each: 8 cm}",
        [
            "9:33: mixed-keys: `height` mixes subjects (`P1`) with fields (`each`) (put the fields under each subject, or name the plants with `plants:`)"
        ],
    ),
    (
        "height: {grth: 9 cm}",
        [
            "9:23: unknown-plant: `grth` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
    ("height: {eech: 9 cm}", ["9:23: unknown-key: `eech` is not a key of `height` (write `each`)"]),
    (
        "count: flowers",
        [
            "9:21: not-a-quantity: `flowers` is not a whole number (write a value such as `7`, or `unmeasured`)"
        ],
    ),
    (
        "milestone: rosette",
        [
            "9:25: which-plants: `milestone: rosette` does not say which plants (write `milestone: {rosette: P1}`, `{rosette: 2 of 6}` or `{rosette: all}`)"
        ],
    ),
    (
        "milestone: [rosette]",
        [
            "9:25: which-plants: `milestone: rosette` does not say which plants (write `milestone: {rosette: P1}`, `{rosette: 2 of 6}` or `{rosette: all}`)"
        ],
    ),
    ("milestone: {rosete: all}", ["9:26: unknown-milestone: `rosete` is not a milestone (write `rosette`)"]),
    (
        "milestone: {first_fruit: all}",
        [
            "9:26: unknown-milestone: `first_fruit` is not a milestone of leafy crops (write one of `seed_leaves`, `first_true_leaf`, `rosette`, `full_rosette`, `bolting`)"
        ],
    ),
    (
        "milestone: {rosette: 3}",
        ["9:35: not-a-selection: `3` plants of how many? (write `3 of 4`, or name the plants)"],
    ),
    (
        "prune: P1-P9",
        [
            "9:21: unknown-plant: `P1-P9` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
    (
        "prune: p21",
        ["9:21: unknown-plant: `p21` is not a plant, group or tub of this experiment (write `P1` or `P2`)"],
    ),
    (
        "lost: 'P1, some'",
        [
            "9:20: not-a-selection: `some` names no plants, so it cannot stand beside others (name the plants one by one)"
        ],
    ),
    ("prune: {waht: tip}", ["9:22: unknown-key: `waht` is not a key of `prune` (write `what`)"]),
    (
        "prune: {P1: [tip]}",
        ["9:26: wrong-type: `P1` wants a single value, not a list (write `P1: tip`)"],
    ),
    ("treat: soapp", ["9:21: unknown-product: `soapp` is not a product of gear.yaml (write `soap`)"]),
    (
        "treat: [P1]",
        [
            "9:21: which-product: `treat` does not say with which product (write the product, such as `treat: {product: soap, plants: P2}`, or `treat: {product: …, plants: …}`)"
        ],
    ),
    (
        "trouble: {plants: P1}",
        ["9:23: missing-key: `what` is missing: what went wrong (write it, such as `what: tip burn`)"],
    ),
    (
        "trouble: {what: mould, tub: left}",
        ["9:42: unknown-plant: `left` is not a tub of this experiment (remove `tub`: there is only one)"],
    ),
    (
        "trouble: {what: mould, until: monday}",
        [
            "9:44: not-a-day: `monday` is not a day; `until` counts days since sowing (write days since sowing, such as `until: 26`, `until: 33-38`, `until: about 36` or `until: before 40`)"
        ],
    ),
    (
        "taste: 4 stars",
        [
            "9:21: not-a-score: `4 stars` does not say out of how many (write the score out of so many, such as `taste: 4/5`, or the taste in words)"
        ],
    ),
    (
        "taste: 6/5",
        ["9:21: not-a-score: `6/5` is more than 5 out of 5 (write `5/5` or less)"],
    ),
    (
        "taste: six out of five",
        ["9:21: not-a-score: `six out of five` is more than 5 out of 5 (write `5/5` or less)"],
    ),
    (
        "harvest: none",
        ["9:23: not-a-quantity: `none` is not a weight (leave `harvest` out, or say it in a `note`)"],
    ),
    (
        "taste: [4/5]",
        ["9:21: wrong-type: `taste` wants a single value, not a list (write `taste: 4/5`)"],
    ),
    (
        "note: [roots]",
        ["9:20: yaml-twist: in `note`, `[` begins a list, and `note` is a text (write `note: '[roots]'`)"],
    ),
    (
        "note: &roots [white, long]",
        [
            "9:20: yaml-anchor: `&roots` is read as an anchor; a journal does not use anchors and aliases (write the value itself where it is needed)"
        ],
    ),
    (
        "note: {sad, and wilting}",
        [
            "9:20: yaml-twist: in `note`, `{` begins keys and values, and `note` is a text (write `note: '{sad, and wilting}'`)"
        ],
    ),
    (
        "clip: [[a]]",
        ["9:21: wrong-type: `clip` wants a single value, not a list (write `clip: a`)"],
    ),
    (
        "clip: {what: the cut, at: 4.10}",
        ["9:40: not-a-time: `4.10` is not a time; `at` wants minutes and seconds (write `at: 4:10`)"],
    ),
    (
        "clip: [the cut, {what: the scale, length: 12 s}]",
        [
            "9:56: not-a-time: `12 s` is not a time; `length` wants minutes and seconds (write minutes and seconds, such as `length: 12:30`, or with hours `length: 1:02:30`)"
        ],
    ),
    (
        "clip: {what: the cut, plants: P9}",
        [
            "9:44: unknown-plant: `P9` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
    (
        "clip: {what: the cut, name: a12.mp4}",
        ["9:36: unknown-key: `name` is not a key of `clip` (write one of `file`, `at`, `length`, `plants`)"],
    ),
    ("photo: stem.jpg", ["9:21: missing-photo: `stem.jpg` is not in photos/ (write `day-3-leaf.jpg`)"]),
    (
        "photo: {alt: A stem}",
        [
            "9:21: missing-key: `file` is missing: its name in photos/ (write it, such as `file: first-cut.jpg`)"
        ],
    ),
    (
        "photo: {file: day-3-leaf.jpg, shows: ripe}",
        ["9:51: unknown-choice: `shows` cannot be `ripe` (write one of `not ready`, `ready`, `too late`)"],
    ),
    (
        "tell: sometimes",
        ["9:20: unknown-choice: `tell` cannot be `sometimes` (write one of `never`, `always`)"],
    ),
    (
        "harvest: P1",
        ["9:23: not-a-quantity: `P1` is not a weight (write a value such as `84 g`, or `unweighed`)"],
    ),
    (
        "harvest: {P1: 8 g, part: leaf}",
        [
            "9:33: mixed-keys: `harvest` mixes subjects (`P1`) with fields (`part`) (put the fields under each subject, or name the plants with `plants:`)"
        ],
    ),
    (
        "harvest: {weight: 20 g, each: 5 g}",
        ["9:44: weights-disagree: `weight` and `each` both say how much was picked (keep one of them)"],
    ),
    (
        "harvest: {P1: [8 g, 9 g]}",
        [
            "9:28: wrong-type: `harvest` wants a single value, not a list (write one value, such as `harvest: {weights: [8 g, 9 g]}`)"
        ],
    ),
    (
        "harvest: {weight: 20 g, part: leafs}",
        ["9:44: unknown-choice: `part` cannot be `leafs` (write `leaf`)"],
    ),
    (
        "harvest: {weight: 20 g, count: few}",
        [
            "9:45: not-a-count: `few` is not a whole number; `count` wants one (write a whole number, such as `count: 6`)"
        ],
    ),
    (
        "harvest: {weight: 20 g, weights: [8 g, 9 g]}",
        [
            "9:47: weights-disagree: the single weights add up to 17 g, not to 20 g (check the scale notes, or write `weight: 17 g`)"
        ],
    ),
    (
        "harvest: {P1: 8 g, P2}",
        [
            "9:33: yaml-twist: the comma before `P2` begins a new key here (write a value after `P2: `, or `P1: '8 g, P2'` for one text)"
        ],
    ),
    (
        "total_so_far: [3 g]",
        ["9:28: wrong-type: `total_so_far` wants a single value, not a list (write `total_so_far: 3 g`)"],
    ),
    (
        "total_so_far: {weight: 3 g}",
        [
            "9:29: unknown-plant: `weight` is not a plant, group or tub of this experiment (write one of `P1`, `P2`, `P3`, `P4`, `front`, `back`)"
        ],
    ),
]

REFUSED_TUBS = [
    (
        "water: 2 L",
        [
            "8:21: which-tub: `water` belongs to a tub; this experiment has 2 (write `water: {left: 2 L}` or `water: {right: 2 L}`, or each tub with its own)"
        ],
    ),
    (
        "water: {left: 2 L, P1: 1 L}",
        [
            "8:33: unknown-plant: `P1` is not a tub of this experiment; `water` belongs to a tub (write one of `left`, `right`)"
        ],
    ),
    (
        "water: {left: 2 L, rigt: 1 L}",
        [
            "8:33: unknown-plant: `rigt` is not a tub of this experiment; `water` belongs to a tub (write `right`)"
        ],
    ),
    (
        "feed: {syrup: 10 ml}",
        [
            "8:20: which-tub: `feed` belongs to a tub; this experiment has 2 (write `feed: {left: …}` or `feed: {right: …}`, or each tub with its own)"
        ],
    ),
    (
        "humidity: 60 %",
        [
            "8:24: which-tub: `humidity` belongs to a tub; this experiment has 2 (write `humidity: {left: 60 %}` or `humidity: {right: 60 %}`, or each tub with its own)"
        ],
    ),
    (
        "light: {hours: 12 h}",
        [
            "8:21: which-tub: `light` belongs to a tub; this experiment has 2 (write `light: {left: …}` or `light: {right: …}`, or each tub with its own)"
        ],
    ),
    (
        "move: {P1: middle}",
        ["8:25: unknown-plant: `middle` is not a tub of this experiment (write one of `left`, `right`)"],
    ),
    (
        "move: P1",
        [
            "8:20: wrong-type: `move` wants a mapping, not a text (write a mapping, such as `move: {P3: right}`)"
        ],
    ),
    (
        "trouble: {what: mould, tub: lft}",
        ["8:42: unknown-plant: `lft` is not a tub of this experiment (write `left`)"],
    ),
]

REFUSED = [
    *((GROUPS, entry, findings) for entry, findings in REFUSED_HEAD),
    *((TUBS, entry, findings) for entry, findings in REFUSED_TUBS),
]


@pytest.mark.parametrize(("head", "entry", "findings"), REFUSED, ids=[entry for _, entry, _ in REFUSED])
def test_error_form(head: str, entry: str, findings: list[str], tmp_path: Path) -> None:
    """What is no form of a key is refused at its place, with one thing to do, and never left out in silence."""
    assert found(tmp_path, _log(entry), head, PICTURES) == findings


def _log(entry: str) -> str:
    return f"  - {{day: 3, {entry}}}\n"


def test_weights_are_told_in_the_unit_they_are_written_in(tmp_path: Path) -> None:
    """Weights that do not add up are told as the author wrote them: 3 oz and 4 oz are 7 oz."""
    entry = "  - day: 0\n    sow: 2 a spot\n  - {day: 9, harvest: {weight: 9.50 oz, weights: [3 oz, 4 oz]}}\n"
    assert [line for line in found(tmp_path, entry) if "weights-disagree" in line] == [
        (
            "10:50: weights-disagree: the single weights add up to 7 oz, not to 9.50 oz "
            "(check the scale notes, or write `weight: 7 oz`)"
        )
    ]


def test_a_log_without_any_tub_is_read(tmp_path: Path) -> None:
    """A run told from memory may have no system: values of a log that does not belong there are checked all the same."""
    head = "crop: sorrel\nstart: unknown\nfrom_memory: true\n"
    said = found(tmp_path, "  - day: 5\n    water: e\n", head)

    assert [line.split(": ")[1] for line in said if "water" in line] == ["not-a-quantity"]
