"""The page for a wrong address."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace

import html5lib

from sitegen.core.records.rows import Run
from sitegen.render import render
from tests.pages import words
from tests.render.builders import JOURNAL, full_run, planned_run, remembered_run, site, started_run

HOME = "https://example.org/attic/"


def missing(*runs: Run, address: str = HOME) -> str:
    """The markup of the page."""
    made, findings = render(site(*runs, journal=replace(JOURNAL, address=address)))
    assert findings == ()
    return next(page for page in made if page.address == "404.html").content.decode()


def links(markup: str) -> list[str]:
    """Every address on the page but that of its own text."""
    return re.findall(r' (?:href|src|data-from|data-find)="(?!#main")([^"]*)"', markup)


def test_it_has_the_header_of_the_site() -> None:
    """The name leads home, and the pages of the navigation are there."""
    page = missing()

    assert links(page)[:3] == [f"{HOME}find.js", HOME, HOME]
    assert [f"{HOME}{name}.html" in links(page) for name in ("compare", "methods", "cautions", "about")] == [
        True
    ] * 4


def test_every_link_is_a_full_address() -> None:
    """A host may show the page at any depth."""
    assert all(address.startswith(HOME) for address in links(missing()))


def test_its_text_can_be_skipped_to() -> None:
    """The first link leads past the header, at any depth."""
    page = missing()

    assert (
        page.index('<a class="skip" href="#main">') < page.index("<header") < page.index('<main id="main">')
    )


def test_it_offers_the_latest_three_runs() -> None:
    """Newest sowing first; none that is to come, none without a log."""
    run = full_run()
    dated = [
        replace(
            run,
            setup=replace(
                run.setup,
                id=f"run-{n}",
                title=f"Attempt {n}",
                was=(),
                start=replace(run.setup.start, date=run.setup.start.date.replace(year=2020 + n)),  # type: ignore[union-attr]
            ),
        )
        for n in range(4)
    ]
    page = missing(*dated, started_run(), planned_run(), remembered_run())
    offered = re.findall(r'<li><a href="([^"]*)">(Attempt \d)</a>', page)

    assert offered == [(f"{HOME}experiments/run-{n}.html", f"Attempt {n}") for n in (3, 2, 1)]
    assert "Next physalis" not in page


def test_without_an_address_it_says_what_to_do() -> None:
    """There is no link that could lead astray, and no script."""
    page = missing(address="")
    tree = html5lib.parse(page, namespaceHTMLElements=False)

    assert links(page) == []
    assert "<script" not in page
    assert words(tree).endswith("To find Attic Trough, cut the address down to the name of the site.")


def test_the_loader_is_the_one_script_that_may_stand_in_it() -> None:
    """The policy holds the digest of the script, as CSP has it: base64 of its SHA-256."""
    page = missing()
    (script,) = re.findall(r"<script[^>]*>(.*?)</script>", page)
    digest = base64.b64encode(hashlib.sha256(script.encode()).digest()).decode()

    assert f"script-src &#39;self&#39; &#39;sha256-{digest}&#39;;" in page
