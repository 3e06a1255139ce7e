"""Every regular expression of the package, and the time that each takes for the longest text that it is given."""

from __future__ import annotations

import re
from collections import Counter

import pytest

from tests.bounds.growth import growth, slowest_short
from tests.bounds.patterns import every_pattern, methods_of, unseen

# How long the texts of a folder can be: lines and sentences, then what is bounded further where it comes in.
# The first that fits holds; see MAX_LINE, MAX_TEXT, MAX_VALUE and MAX_EXAMINED of `ingest`.
LENGTHS = (
    ("ingest/yaml/line_checks", 2_000),
    ("ingest/yaml/structure_checks", 2_000),
    ("ingest/yaml/brackets", 2_000),
    ("ingest/yaml/key_mends", 1_000),
    ("ingest/yaml", 20_000),
    ("ingest", 1_000),
    ("render/story/days/entry_sentences", 1_000),  # ids of plants
    ("render", 20_000),
    ("judge", 20_000),
    ("core/site", 20_000),
    ("filing/drafting/sheets/cells", 500),
    ("", 2_000),
)
# Patterns that a running function makes, each of words of its own or of escaped ones.
UNSEEN = {
    "app/begin/adding.py": 2,
    "app/begin/from_source.py": 1,
    "app/begin/trials/earlier.py": 1,
    "core/findings/causes.py": 1,
    "core/language/number_words/forms.py": 1,
    "core/reference/cautions.py": 2,
    "filing/drafting/sheets/headings.py": 1,
    "filing/safe_file.py": 1,
    "ingest/listing.py": 1,
    "ingest/values/normalize.py": 1,
    "ingest/values/quantities.py": 1,
    "judge/personal/people.py": 1,
    "judge/personal/places.py": 1,
    "measure/run/tastes.py": 2,
    "notes/check/sentences/measures.py": 1,
    "notes/check/sentences/names.py": 1,
    "notes/check/sentences/sentence_words.py": 1,
    "notes/check/sentences/spoken.py": 1,
    "notes/check/sentences/topics.py": 3,
    "notes/check/unsaid.py": 1,
}


def _longest(places: list[str]) -> int:
    return max(next(length for folder, length in LENGTHS if place.startswith(folder)) for place in places)


def test_no_pattern_is_made_unseen() -> None:
    """A pattern that only a running function knows is named here, where a reader has judged it."""
    assert Counter(place.partition(":")[0] for place in unseen()) == UNSEEN


@pytest.mark.full
def test_growth_finds_what_is_slow() -> None:
    """The measure finds the classical slow patterns, and takes none of their mended forms for one."""
    both = frozenset({"search", "fullmatch"})
    slow = (r"(a+)+b", r"(a|a)*b", r"\s*x?\s*y?\s*z", r"(.*)(.*)(.*)=")
    quick = (r"a++b", r"(?:a|b)*+c", r"(?<!\s)\s*+x", r"[^=]*+=")

    assert [
        (found := growth(re.compile(each), both, 2_000)) is not None and found.is_too_slow for each in slow
    ] == [True] * 4
    assert [
        (found := growth(re.compile(each), both, 2_000)) is not None and found.is_too_slow for each in quick
    ] == [False] * 4


@pytest.mark.full
def test_every_pattern_is_quick() -> None:
    """No pattern takes more than a quarter of a second of processor time for a text that keeps it trying."""
    used, both = methods_of(), frozenset({"search", "fullmatch"})
    slow = []
    for pattern, places in every_pattern().items():
        found = growth(pattern, used.get(pattern, both), _longest(places))
        if found is not None and found.is_too_slow:
            slow.append((places[-1], pattern.pattern, found))

    assert slow == []


@pytest.mark.full
def test_no_pattern_takes_the_cube() -> None:
    """No pattern takes long for a text of 300 characters, as the cube of it or worse would."""
    used, both = methods_of(), frozenset({"search", "fullmatch"})
    slow = []
    for pattern, places in every_pattern().items():
        taken = slowest_short(pattern, used.get(pattern, both))
        if taken > CUBE:
            slow.append((places[-1], pattern.pattern, taken))

    assert slow == []


CUBE = 0.1  # seconds of processor time: the square of 300 takes 0.01 on a machine that others use
