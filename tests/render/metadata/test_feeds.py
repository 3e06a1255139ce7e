"""Both feeds, as independent readers see them."""

from __future__ import annotations

import datetime as dt
import json
import re
import warnings
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import pytest

from sitegen.core.language.wording import Wording
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import Correction, Journal
from sitegen.core.values.day import Start
from sitegen.render.metadata.feeds import Feed, PublicationDates, atom, feed_of, json_feed, publication_dates
from tests.render.builders import JOURNAL, full_run, started_run
from tests.render.metadata.builders import BARE, built, summary, text_of

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the library's own imports, not ours
    import feedparser

ATOM = "{http://www.w3.org/2005/Atom}"
ROOT = "https://example.org/attic/"
PAGE = f"{ROOT}experiments/first-physalis.html"
FIRST = f"{ROOT}experiments/old-physalis.html"  # its earlier name stays its id
RFC_3339 = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ")


def feed_with(*runs: Run, journal: Journal = JOURNAL) -> Feed:
    """A feed of runs."""
    found = feed_of(journal, Wording(), [summary(run) for run in runs])
    assert found is not None
    return found


def changed(**head: Any) -> Run:
    """The run with another head."""
    run = full_run()
    return replace(run, setup=replace(run.setup, **head))


@pytest.mark.filterwarnings("ignore")
def test_atom_as_a_reader_sees_it() -> None:
    """A feed reader finds one entry with its dates, its page and its text."""
    found = feedparser.parse(text_of("feed.xml"))

    assert not found.bozo
    assert (found.version, found.feed.title, found.feed.author) == ("atom10", "Attic Trough", "The attic")
    assert [(e.id, e.title, e.published, e.updated, e.link) for e in found.entries] == [
        (FIRST, full_run().setup.title, "2025-06-01T00:00:00Z", "2025-06-02T00:00:00Z", PAGE)
    ]
    assert "<p>Does it fruit in an attic?</p>" in found.entries[0].content[0].value


def test_atom_has_what_its_standard_asks_for() -> None:
    """One id, title and date everywhere; an author; links to itself and to the pages; dates in RFC 3339."""
    root = ElementTree.fromstring(text_of("feed.xml"))  # noqa: S314 - our own

    for node in (root, *root.findall(f"{ATOM}entry")):
        for name in ("id", "title", "updated"):
            assert len(node.findall(f"{ATOM}{name}")) == 1
        assert RFC_3339.fullmatch(node.findtext(f"{ATOM}updated") or "")
    links = {link.get("rel"): link.get("href") for link in root.findall(f"{ATOM}link")}
    assert links == {"self": f"{ROOT}feed.xml", "alternate": ROOT}
    assert root.findtext(f"{ATOM}author/{ATOM}name") == "The attic"


def test_json_feed_has_what_its_standard_asks_for() -> None:
    """Version, title, items with an id and a content; authors as a list; dates in RFC 3339."""
    found = json.loads(text_of("feed.json"))
    item = found["items"][0]

    assert found["version"] == "https://jsonfeed.org/version/1.1"
    assert (found["title"], found["feed_url"], found["home_page_url"]) == (
        *("Attic Trough", f"{ROOT}feed.json"),
        ROOT,
    )
    assert found["authors"] == [{"name": "The attic", "url": "https://example.org"}]
    assert isinstance(item["id"], str)
    assert item["content_html"].startswith("<p>")
    assert RFC_3339.fullmatch(item["date_modified"])
    assert built()["feed.json"].media == "application/feed+json"


def test_both_feeds_say_the_same() -> None:
    """Ids, titles and texts are those of the other feed."""
    root = ElementTree.fromstring(text_of("feed.xml"))  # noqa: S314 - our own
    entries = [
        tuple(entry.findtext(f"{ATOM}{name}") for name in ("id", "title", "content"))
        for entry in root.findall(f"{ATOM}entry")
    ]

    items = json.loads(text_of("feed.json"))["items"]
    assert entries == [(item["id"], item["title"], item["content_html"]) for item in items]


def test_signs_are_kept_apart_from_markup() -> None:
    """What an author wrote is text in both feeds, and what XML cannot hold is dropped."""
    feed = feed_with(changed(question="Is 3 < 5 & <b>bold</b>\x0b?"))

    assert (
        "Is 3 &lt; 5 &amp; &lt;b&gt;bold&lt;/b&gt;"
        in json.loads(json_feed(feed).content)["items"][0]["content_html"]
    )
    entry = ElementTree.fromstring(atom(feed).content).find(f"{ATOM}entry/{ATOM}content")  # noqa: S314 - our own
    assert entry is not None
    assert "<p>Is 3 &lt; 5 &amp; &lt;b&gt;bold&lt;/b&gt;?</p>" in (entry.text or "")


D = dt.date
DATES = [
    ({"episodes": (), "corrections": ()}, PublicationDates(None, full_run().setup.start.date_of(64))),
    ({"publish": D(2025, 5, 30)}, PublicationDates(D(2025, 5, 30), D(2025, 6, 2))),
    ({}, PublicationDates(D(2025, 6, 1), D(2025, 6, 2))),
    ({"revised": D(2025, 7, 1)}, PublicationDates(D(2025, 6, 1), D(2025, 7, 1))),
    ({"corrections": (Correction(D(2025, 8, 1), "x"),)}, PublicationDates(D(2025, 6, 1), D(2025, 8, 1))),
    ({"start": Start(), "corrections": ()}, PublicationDates(D(2025, 6, 1), D(2025, 6, 1))),
    (
        {"start": Start(D(2025, 1, 1), "month"), "episodes": (), "corrections": ()},
        PublicationDates(None, None),
    ),
]


@pytest.mark.parametrize(("head", "wanted"), DATES, ids=[" ".join(head) or "as it is" for head, _ in DATES])
def test_dates_are_those_of_the_records(head: dict[str, Any], wanted: PublicationDates) -> None:
    """Published when it was, changed at the last entry, correction or rewriting; never by a clock."""
    assert publication_dates(summary(changed(**head))) == wanted


def test_a_run_without_any_date_is_left_out_and_said() -> None:
    """A feed needs dates; it says how many runs it cannot list."""
    feed = feed_with(full_run(), started_run())

    assert [entry.title for entry in feed.entries] == [full_run().setup.title]
    assert feed.about == "Invented trials. One run without any date is not shown here."


def test_no_dated_run_no_feed() -> None:
    """A feed without an entry is not written."""
    assert feed_of(JOURNAL, Wording(), [summary(started_run())]) is None


def test_the_id_outlives_a_new_name() -> None:
    """A renamed experiment keeps the id that readers know, unless another experiment now has that name."""
    plain, renamed = changed(was=()), changed(id="second-name", was=("first-physalis",))

    assert feed_with(renamed).entries[0].id == feed_with(plain).entries[0].id == PAGE
    assert {entry.id for entry in feed_with(plain, renamed).entries} == {
        PAGE,
        f"{ROOT}experiments/second-name.html",
    }


def test_latest_change_first() -> None:
    """The feed's own date is that of its first entry."""
    later = changed(id="later", was=(), revised=D(2026, 1, 1))
    feed = feed_with(full_run(), later)

    assert [entry.updated for entry in feed.entries] == [D(2026, 1, 1), D(2025, 6, 2)]
    assert feed.updated == D(2026, 1, 1)


def test_a_long_feed_is_cut() -> None:
    """However many runs there are, readers get a file of a size that they take."""
    runs = [changed(id=f"run-{n}", was=()) for n in range(70)]
    body = json_feed(feed_with(*runs)).content

    assert len(json.loads(body)["items"]) == 60
    assert len(body) < 250_000


def test_without_an_address_there_is_none() -> None:
    """Feeds, sitemap and pictures need the site's address; no page then names them."""
    assert [a for a in built(BARE) if a.startswith(("feed", "sitemap", "previews"))] == []
    assert [
        a
        for a, page in built(BARE).items()
        if page.media == "text/html" and 'rel="alternate"' in page.content.decode()
    ] == []
