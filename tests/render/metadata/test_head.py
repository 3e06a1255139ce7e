"""What stands in the head of a page for machines: icon, feeds, tags, linked data."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html import unescape
from typing import Any

import pytest

from sitegen.core.records.setup import Journal
from sitegen.render import render
from tests.render.builders import JOURNAL, full_run, site
from tests.render.metadata.builders import BARE, built, text_of

ROOT = "https://example.org/attic/"
EXPERIMENT = "experiments/first-physalis.html"
FULL = ["index.html", "compare.html", "crops/physalis.html", "seasons/s.html", "about.html", EXPERIMENT]


def tags_of(address: str, journal: Journal = JOURNAL) -> dict[str, str]:
    """The tags of a page by name."""
    found = re.findall(r'<meta property="([^"]+)" content="([^"]*)">', text_of(address, journal))
    return {name: unescape(text) for name, text in found}


def linked_in(text: str) -> Any:
    """The linked data of a page; it has one block of it."""
    (block,) = re.findall(r'<script type="application/ld\+json">(.*?)</script>', text, re.DOTALL)
    return json.loads(block)


def dataset_of(address: str, journal: Journal = JOURNAL) -> Any:
    """The data set that an experiment's page describes."""
    graph = linked_in(text_of(address, journal))["@graph"]
    return next(node for node in graph if node["@type"] == "Dataset")


@pytest.mark.parametrize("address", FULL)
def test_tags(address: str) -> None:
    """Each page has the four tags that the protocol asks for, and a picture that is there."""
    tags = tags_of(address)
    picture = tags["og:image"].removeprefix(ROOT)

    assert {"og:title", "og:type", "og:url", "og:image"} <= set(tags)
    assert f'<link rel="canonical" href="{tags["og:url"]}">' in text_of(address)
    assert tags["og:type"] == ("article" if address == EXPERIMENT else "website")
    assert built()[picture].media == "image/png"


def test_the_picture_of_an_experiment_is_its_own() -> None:
    """An experiment's page names its own picture, others the site's."""
    assert tags_of(EXPERIMENT)["og:image"] == f"{ROOT}previews/experiments/first-physalis.png"
    assert tags_of("index.html")["og:image"] == f"{ROOT}previews/site.png"


def test_without_an_address_no_tags() -> None:
    """A tag with half an address would lead nowhere."""
    assert tags_of(EXPERIMENT, BARE) == {}


@pytest.mark.parametrize("journal", [JOURNAL, BARE], ids=["with address", "without"])
def test_the_icon_is_linked_relatively(journal: Journal) -> None:
    """The icon is a file of the site, whatever its address."""
    (href,) = re.findall(
        r'<link rel="icon" type="image/svg\+xml" href="([^"]+)">', text_of(EXPERIMENT, journal)
    )

    assert href.startswith("../assets/icon-")
    assert href.removeprefix("../") in built(journal)


def test_feeds_are_announced() -> None:
    """Each page leads to both feeds by a relative link."""
    found = re.findall(
        r'<link rel="alternate" type="([^"]+)" title="[^"]+" href="([^"]+)">', text_of(EXPERIMENT)
    )

    assert found == [("application/atom+xml", "../feed.xml"), ("application/feed+json", "../feed.json")]


def test_the_home_page_is_a_site() -> None:
    """Linked data of the home page names the site and its author."""
    found = linked_in(text_of("index.html"))

    assert (found["@context"], found["@type"], found["url"]) == ("https://schema.org", "WebSite", ROOT)
    assert found["author"] == {"@type": "Person", "name": "The attic", "url": "https://example.org"}


def test_other_pages_belong_to_the_site() -> None:
    """A page says which site it is part of."""
    found = linked_in(text_of("crops/physalis.html"))

    assert (found["@type"], found["isPartOf"]["name"]) == ("WebPage", "Attic Trough")


def test_an_experiment_is_an_article_and_a_data_set() -> None:
    """The article has its dates and its picture."""
    article, dataset = linked_in(text_of(EXPERIMENT))["@graph"]

    assert (article["@type"], dataset["@type"]) == ("Article", "Dataset")
    assert (article["datePublished"], article["dateModified"]) == ("2025-06-01", "2025-06-02")
    assert article["image"] == f"{ROOT}previews/experiments/first-physalis.png"


def test_a_data_set_says_what_readers_want() -> None:
    """Name, description within its limits, creator, licence, span of time, variables, files."""
    found = dataset_of(EXPERIMENT)
    start, end = (full_run().setup.start.date_of(day) for day in (0, 64))

    assert 50 <= len(found["description"]) <= 5000
    assert found["creator"]["name"] == "The attic"
    assert found["license"] == "https://creativecommons.org/licenses/by/4.0/"
    assert found["temporalCoverage"] == f"{start}/{end}"
    assert {(v["name"], v.get("unitText")) for v in found["variableMeasured"]} == {
        ("harvest", "g"),
        ("height", "cm"),
        ("ph", None),
    }
    files = [each["contentUrl"].removeprefix(ROOT) for each in found["distribution"]]
    assert files[0] == "data/first-physalis/datapackage.json"
    assert set(files) <= set(built())


def test_a_data_set_without_dates_or_address() -> None:
    """What is not known is left out, and the description is long enough all the same."""
    found = dataset_of("experiments/young-physalis.html", BARE)

    assert {"url", "license", "temporalCoverage", "distribution"} & set(found) == set()
    assert len(found["description"]) >= 50


def test_linked_data_cannot_end_its_element() -> None:
    """A text that looks like the end of a script stays data."""
    run = full_run()
    title = "Run </script><script>alert(1)</script>"
    bad = replace(run, setup=replace(run.setup, title=title, was=()))
    pages, _ = render(site(bad))
    text = next(page for page in pages if page.address == EXPERIMENT).content.decode()

    assert linked_in(text)["@graph"][0]["headline"] == title
    assert "<script>alert" not in text
