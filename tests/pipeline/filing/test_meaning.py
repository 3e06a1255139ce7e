"""What the texts of a command mean: keys of an entry, or words."""

from __future__ import annotations

import pytest

from sitegen.filing.entries.append import CannotAppendError
from sitegen.filing.words.known import Known, Understood
from sitegen.pipeline.filing.meaning import as_written, meant

KNOWN = Known(plants=("P1", "P2"), crop_kind="fruiting", crop="tomato")


@pytest.mark.parametrize(
    ("text", "pair"),
    [
        ("height: about 9 in", ("height", "about 9 in")),
        ("  height :  9 cm  ", ("height", "9 cm")),
        ("note: all well", ("note", "all well")),
        ("note: roots: white", ("note", "'roots: white'")),
        ("note: 'roots: white'", ("note", "'roots: white'")),
        ('note: "roots: white"', ("note", '"roots: white"')),
        ("note: |\n  roots: white", ("note", "|\n  roots: white")),
        ("note: >\n  roots: white", ("note", ">\n  roots: white")),
        ("height:9 cm", None),
        ("height:", None),
        ("weather: fair", None),
        ("the height: 9 cm", None),
        ("day: 3", None),
        ("date: 2026-03-01", None),
    ],
)
def test_a_text_that_begins_with_a_key(text: str, pair: tuple[str, str] | None) -> None:
    """Key and value as a file has them, a text in quotes where it needs them; a day is no key of what is said."""
    assert as_written(text) == pair


def test_keys_stand_before_words() -> None:
    """In the order in which they were given; what was said in words is read as one."""
    texts = ["P1 is 9 cm tall", "ph: 5.8", "P2 11 cm, looks well", "ec: 1.2 mS/cm"]

    assert meant(texts, KNOWN) == Understood(
        (("ph", "5.8"), ("ec", "1.2 mS/cm"), ("height", "{P1: 9 cm, P2: 11 cm}")),
        "looks well",
        ("ph: 5.8", "ec: 1.2 mS/cm", *meant(["P1 is 9 cm tall", "P2 11 cm"], KNOWN).said),
    )


def test_keys_alone() -> None:
    """Without words there is no note, and what is shown is what was written."""
    assert meant(["ph: 5.8", "note: all well"], KNOWN) == Understood(
        (("ph", "5.8"), ("note", "all well")), "", ("ph: 5.8", "note: all well")
    )
    assert meant([], KNOWN) == Understood(())


@pytest.mark.parametrize("quote", ["", "'", '"'])
def test_a_note_goes_before_what_no_rule_took(quote: str) -> None:
    """Both are one note, without the quotes of the first; other keys stay."""
    found = meant([f"note: {quote}all well{quote}", "ph: 5.8", "P2 looks sad"], KNOWN)

    assert (found.fields, found.note) == ((("ph", "5.8"),), "all well; P2 looks sad")


def test_a_note_keeps_a_quote_of_its_own() -> None:
    """Only quotes at both ends are those of the file."""
    found = meant(["note: 9' tall", "P2 looks sad"], KNOWN)

    assert found.note == "9' tall; P2 looks sad"


@pytest.mark.parametrize(
    ("texts", "key"),
    [
        (["water: 1 L", "water: 2 L"], "water"),
        (["height: 9 cm", "P1 is 9 cm tall"], "height"),
        (["note: one", "note: two"], "note"),
    ],
)
def test_a_key_twice_is_refused(texts: list[str], key: str) -> None:
    """It is said which one, and what to do."""
    with pytest.raises(CannotAppendError) as caught:
        meant(texts, KNOWN)

    assert (caught.value.message, caught.value.mend) == (
        f"`{key}` is said twice",
        "say it once, or write two entries: a day may have several",
    )


def test_a_value_in_words_is_read_where_the_rules_take_all_of_it() -> None:
    """`as_words` reads the value of a key as it is said; what they do not take whole stays as it was written."""
    texts = ["height: nine inches", "note: all well", "water: a cup or so, I think"]

    assert dict(meant(texts, KNOWN).fields)["height"] == "nine inches"
    found = dict(meant(texts, KNOWN, as_words=True).fields)
    assert (found["height"], found["note"], found["water"]) == (
        "9 in",
        "all well",
        "a cup or so, I think",
    )
