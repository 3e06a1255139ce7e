"""The list of pages for search engines."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

from sitegen.render.metadata.feeds import sitemaps
from tests.render.builders import JOURNAL, full_run, started_run
from tests.render.metadata.builders import built, summary, text_of

ROOT = "https://example.org/attic/"
SPACE = "{http://www.sitemaps.org/schemas/sitemap/0.9}"


def listed(text: str) -> dict[str, str | None]:
    """Each address with its date."""
    urls = ElementTree.fromstring(text).findall(f"{SPACE}url")  # noqa: S314 - our own
    return {url.findtext(f"{SPACE}loc") or "": url.findtext(f"{SPACE}lastmod") for url in urls}


def test_every_page_is_listed_once() -> None:
    """All pages by their full address, but those that lead elsewhere and the one for a wrong address."""
    html = {address for address, page in built().items() if page.media == "text/html"}
    hidden = {"404.html", "experiments/old-physalis.html", "experiments/old-physalis/record.html"}

    assert set(listed(text_of("sitemap.xml"))) == {
        ROOT + ("" if address == "index.html" else address) for address in html - hidden
    }


def test_dates_where_they_are_known() -> None:
    """A page changed when what it shows did; a run without dates says nothing."""
    found = listed(text_of("sitemap.xml"))

    assert found[f"{ROOT}experiments/first-physalis.html"] == "2025-06-02"
    assert found[f"{ROOT}crops/physalis.html"] == "2025-06-02"
    assert found[f"{ROOT}experiments/young-physalis.html"] is None
    assert found[f"{ROOT}methods.html"] is None


def test_beyond_the_limit_there_is_an_index() -> None:
    """Each part keeps to the limit, and the index names every part."""
    summaries = [summary(full_run()), summary(started_run())]
    index, *_ = reversed(
        pages := list(sitemaps(JOURNAL, summaries, [f"p{n}.html" for n in range(5)], most=2))
    )
    root = ElementTree.fromstring(index.content)  # noqa: S314 - our own

    assert root.tag == f"{SPACE}sitemapindex"
    assert [loc.text for loc in root.iter(f"{SPACE}loc")] == [f"{ROOT}sitemap-{n}.xml" for n in (1, 2, 3)]
    assert [len(listed(page.content.decode())) for page in pages[:-1]] == [2, 2, 1]


def test_an_address_too_long_is_left_out() -> None:
    """Addresses of 2,048 signs and more are not taken by any reader."""
    pages = list(sitemaps(JOURNAL, [], [f"{'x' * 2100}.html", "a&b.html"]))

    assert list(listed(pages[0].content.decode())) == [f"{ROOT}a&b.html"]


def test_a_host_alone_is_an_address() -> None:
    """An address without a slash at its end gets one."""
    pages = list(sitemaps(replace(JOURNAL, address="https://example.org"), [], ["index.html", "a.html"]))

    assert list(listed(pages[0].content.decode())) == ["https://example.org/a.html", "https://example.org/"]
