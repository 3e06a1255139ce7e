"""What is said beside a tub becomes fields and a note."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from sitegen.core.format.entry import LOG_KEYS
from sitegen.filing.words.rules.listing import RULES, rule_lines
from sitegen.filing.words.understanding import understood
from tests.filing.words.runs import RUNS, SpokenLine, spoken_lines

LINES = tuple(spoken_lines())


@pytest.mark.parametrize("line", LINES, ids=lambda line: f"{line.run}: {line.text}")
def test_a_spoken_line(line: SpokenLine) -> None:
    """A line gives exactly the fields and the note that the table has for it."""
    found = understood(line.text, RUNS[line.run])

    assert (found.fields, found.note) == (line.fields, line.note)
    assert found.said == tuple(f"{key}: {value}" for key, value in line.fields)


@pytest.mark.parametrize(
    ("text", "fields", "note"),
    [
        ("gave it nutrients 5 ml", (("feed", "{leaf-mix: 5 ml}"),), ""),
        ("fed them with ten ml", (("feed", "{leaf-mix: 10 ml}"),), ""),
        ("fed grow juice 5 ml/L", (), "fed grow juice 5 ml/L"),
    ],
)
def test_the_only_feed_is_meant_where_none_is_named(
    text: str, fields: tuple[tuple[str, str], ...], note: str
) -> None:
    """A dose without a name is of the only feed; one of a product that the journal has not is no dose of it."""
    found = understood(text, replace(RUNS["tomato"], products=(("leaf-mix", "Leaf mix", "feed"),)))

    assert (found.fields, found.note) == (fields, note)


def test_there_are_many_lines_of_both_languages() -> None:
    """The table holds a hundred lines in English and fifty in German."""
    german = sum(line.run.endswith("-de") for line in LINES)

    assert len(LINES) - german >= 100
    assert german >= 50


def test_rules_give_keys_of_the_format() -> None:
    """Each rule names a key of an entry, and each is listed with its words."""
    assert {rule.key for rule in RULES} <= set(LOG_KEYS)
    assert ("water: changed", True) in [(key, "wasser gewechselt" in said) for key, said in rule_lines()]


def _digits(text: str) -> set[str]:
    return set(re.findall(r"\d+(?:\.\d+)?", text))


SAID = st.lists(
    st.sampled_from([line.text for line in LINES if line.run == "tomato"]), min_size=1, max_size=4
)


@given(SAID, st.sampled_from([", ", ". ", "; ", " and ", " then ", "\n"]))
def test_no_number_is_lost(lines: list[str], between: str) -> None:
    """However lines are put in a row, each number in digits is in a field or in the note, and each field is YAML."""
    text = between.join(lines)
    found = understood(text, RUNS["tomato"])

    written = " ".join([*(value for _, value in found.fields), found.note])
    # A row of plants is written plant by plant: what is said must be there, not as often.
    assert _digits(text) <= _digits(written)
    for _, value in found.fields:
        yaml.compose(value)
    assert len({key for key, _ in found.fields}) == len(found.fields)


VOCABULARY = """P1 P2 plant one two 9 1.5 g cm ml litres of and , . picked height tall leaf mix ph down ec not yet first
 flower
 all some each together filled it to a cane tied taste 4 / 5 then after no buds ripe nicht keine gegossen neun Gramm x " '
 { } [ ] # : | — ½ % ° \U0001f345"""
WORDS = st.sampled_from(VOCABULARY.split())


@given(st.lists(WORDS, max_size=25).map(" ".join))
def test_any_words_are_read(text: str) -> None:
    """Whatever is said gives fields that are YAML, and loses no digit."""
    for known in RUNS.values():
        found = understood(text, known)

        for _, value in found.fields:
            yaml.compose(value)
        written = " ".join([*(value for _, value in found.fields), found.note])
        assert _digits(text) <= _digits(written.replace("/", " "))
