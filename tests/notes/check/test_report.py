"""The report on a narration, as text and as data."""

from __future__ import annotations

from tests.notes.check.checking import checked

VTT = """\
WEBVTT

00:00:42.000 --> 00:00:45.000
The first pick was on July

00:00:45.000 --> 00:00:48.000
twelfth. We picked 1.33 kilos.

00:01:05.500 --> 00:01:08.000
The left tub drank thirty-five litres of water.

00:01:10.000 --> 00:01:12.000
I moved plant three on day sixty-three.

00:01:12.000 --> 00:01:14.000
Forty-one, they said.
"""


def test_a_report() -> None:
    """A line a number with its time, its words and the verdict; a line to correct what is wrong; a summary."""
    assert checked("pebble-two-lamps", VTT, ending=".vtt", title="A 60 W bar").text() == (
        "  title  60 W: right: 60 W, 60 W bar of left tub\n"
        "   0:42  July twelfth: right: first pick on day 98\n"
        "   0:45  1.33 kilos: right, say “at least” (one pick was not weighed, day 126): "
        "at least 1.33 kg (2 lb 15 oz), harvest in all\n"
        "   1:05  thirty-five litres: wrong by 2 L (0.53 gal): 33 L (8.7 gal), water in all of left tub\n"
        "   1:10  day sixty-three: wrong by 3 days: P3 moved on day 66; a correction of the page says so already\n"
        "   1:12  Forty-one: not placed: nothing says what it is of\n"
        "\n"
        "What was said cannot be unsaid. Once the episode is out, under `corrections` of experiment.yaml:\n"
        '  - {date: DATE, text: "33 L (8.7 gal), water in all of left tub; not thirty-five litres, '
        'as said in the episode."}\n'
        "\n"
        "6 numbers: 3 right, of these 1 with something to say, 2 wrong, 1 not placed.\n"
    )


def test_no_number() -> None:
    """A narration without a number."""
    found = checked("pebble-two-lamps", "Nothing to count here.")
    assert (found.text(), found.findings) == ("No number was found in it.\n", ())


def test_data() -> None:
    """The same as data: where, the words, the verdict, and the lines that it rests on."""
    data = checked("pebble-two-lamps", VTT, ending=".vtt").data()
    assert (data["format"], data["experiment"]) == (1, "pebble-two-lamps")
    assert data["findings"] == []
    assert data["claims"][0] == {
        "where": "narration",
        "seconds": 42,
        "line": 3,
        "words": "July twelfth",
        "sentence": "The first pick was on July twelfth.",
        "kind": "date",
        "verdict": "right",
        "text": "right: first pick on day 98",
        "lines": ["seasons/2025-spring/pebble-two-lamps/experiment.yaml:103"],
    }


def test_a_file_that_cannot_be_read() -> None:
    """A title is held against the log although the narration cannot be read."""
    found = checked("pebble-two-lamps", "1\n", ending=".vtt", title="134 days")
    assert [each.code for each in found.findings] == ["bad-transcript"]
    assert found.text().startswith("  title  134 days: right: 134 days, from sowing to last pick\n")
