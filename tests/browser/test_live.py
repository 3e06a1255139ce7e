"""The preview in a browser: what changed is swapped in place, and nothing else moves."""

from __future__ import annotations

import contextlib
import re
import shutil
import subprocess
import threading
from collections.abc import Iterator
from datetime import date
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect, sync_playwright

from tests.app.live.running import line_with, running

CHROMIUM = shutil.which("chromium")
pytestmark = [pytest.mark.browser, pytest.mark.skipif(CHROMIUM is None, reason="needs Chromium")]

ROOT = Path(__file__).parent.parent.parent
TODAY = date(2026, 11, 25)
KEPT = {"oak-in-jars", "chard-lamplight"}  # of the demo's experiments: two are made faster than all
OAK = "seasons/2025-autumn/oak-in-jars/experiment.yaml"
OAK_PAGE = "experiments/oak-in-jars.html"
MOST = 60_000  # milliseconds after which what must appear is taken not to
# Without these Chromium asks for what it could download, and finds no display and no user namespaces in a container.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-sync",
]


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's own Chromium."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield found
        found.close()


@pytest.fixture
def journal(tmp_path: Path) -> Path:
    """A copy of the demo journal with two of its experiments, one of them a draft."""
    root = tmp_path / "bench"
    shutil.copytree(
        ROOT / "content_demo", root, ignore=shutil.ignore_patterns("*.py", "drawing", "__pycache__")
    )
    for path in root.glob("seasons/*/*/"):
        if path.is_dir() and path.name not in KEPT:
            shutil.rmtree(path)
    return root


@pytest.fixture
def live(journal: Path, request: pytest.FixtureRequest) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The preview of that journal and its address; a test may give options."""
    with running(journal, TODAY, "--port", "0", *getattr(request, "param", ())) as process:
        yield process, line_with(process, "http://").split()[0]


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A window of usual size."""
    found = browser.new_page(viewport={"width": 1100, "height": 800})
    found.set_default_timeout(MOST)
    expect.set_options(timeout=MOST)
    yield found
    found.close()


def replace(path: Path, old: str, new: str) -> None:
    """Edit a file as many editors save: written beside, then renamed."""
    text = path.read_text("utf-8")
    assert old in text
    fresh = path.with_name("saving")
    fresh.write_text(text.replace(old, new, 1), "utf-8")
    fresh.replace(path)


def opened(page: Page, address: str) -> None:
    """Open a page, wait until it is made, and mark the window: a reload would lose the mark."""
    page.goto(address)
    expect(page.locator("header.masthead")).to_be_visible()
    page.evaluate("window.marked = true")


def marked(page: Page) -> bool:
    """Whether the window is still the one that was marked."""
    return bool(page.evaluate("window.marked === true"))


def test_an_edit_of_the_log_appears_where_the_reader_is(
    page: Page, live: tuple[subprocess.Popen[str], str], journal: Path
) -> None:
    """The entry changes; scroll position, opened details and what a script added elsewhere stay."""
    opened(page, live[1] + OAK_PAGE.replace(".html", "/record.html"))
    entry = page.get_by_text("NOTE-MARK").first
    page.evaluate("document.querySelectorAll('details').forEach((each) => (each.open = true))")
    page.evaluate("document.querySelector('header').append(Object.assign(new Image(), {id: 'added'}))")
    page.evaluate("window.scrollTo(0, document.body.scrollHeight / 2)")
    before = page.evaluate("[scrollY, document.querySelectorAll('details[open]').length]")
    replace(journal / OAK, "    note: ", "    note: NOTE-MARK ")
    expect(entry).to_be_attached()
    after = page.evaluate("[scrollY, document.querySelectorAll('details[open]').length]")

    assert before[0] > 0
    assert before[1] > 0
    assert after == before
    assert page.locator("#added").count() == 1
    assert marked(page)


def test_a_style_edit_does_not_reload(
    page: Page, live: tuple[subprocess.Popen[str], str], journal: Path
) -> None:
    """The style sheet is swapped: one is there, the new one, and the window is the same."""
    opened(page, live[1] + OAK_PAGE)
    page.evaluate("window.scrollTo(0, 500)")
    own = journal / "look/assets/style.css"
    own.parent.mkdir(parents=True)
    shutil.copy(ROOT / "themes/ledger/assets/style.css", own)
    with own.open("a") as file:
        file.write("\nbody { outline: 3px solid rgb(1, 2, 3) }\n")
    expect(page.locator("body")).to_have_css("outline-color", "rgb(1, 2, 3)")
    expect(page.locator('link[rel="stylesheet"]')).to_have_count(1)

    assert (marked(page), page.evaluate("scrollY")) == (True, 500)


def test_an_error_lies_over_the_last_good_page_and_goes(
    page: Page, live: tuple[subprocess.Popen[str], str], journal: Path
) -> None:
    """The overlay says where and how to mend it, can be hidden, and is gone once it is mended."""
    opened(page, live[1] + OAK_PAGE)
    overlay = page.get_by_role("alert")
    title = page.locator("h1").inner_text()
    replace(journal / OAK, "plants: ", "plnats: ")
    expect(overlay).to_contain_text(f"--> {OAK}:")
    expect(overlay).to_contain_text("help: ")
    assert page.locator("h1").inner_text() == title
    overlay.get_by_role("button", name="Hide").click()
    expect(overlay).to_be_hidden()
    replace(journal / "seasons/2025-autumn/season.yaml", "title: ", "tilte: ")
    expect(overlay).to_contain_text("season.yaml")
    replace(journal / "seasons/2025-autumn/season.yaml", "tilte: ", "title: ")
    replace(journal / OAK, "plnats: ", "plants: ")
    expect(overlay).to_be_hidden()

    assert page.locator("h1").inner_text() == title


@pytest.mark.parametrize("live", [["--follow"]], indirect=True)
def test_the_browser_follows_what_is_edited(
    page: Page, live: tuple[subprocess.Popen[str], str], journal: Path
) -> None:
    """From home to the experiment, to a text, and with the look nowhere; who goes elsewhere is left there."""
    opened(page, live[1])
    replace(journal / OAK, "title: ", "title: Edited ")
    page.wait_for_url(re.compile(f"/{OAK_PAGE}$"))
    expect(page.locator("h1")).to_contain_text("Edited")
    about = journal / "about.md"
    about.write_text(about.read_text("utf-8") + "\nABOUT-MARK\n", "utf-8")
    page.wait_for_url(re.compile("/about.html$"))
    expect(page.get_by_text("ABOUT-MARK")).to_be_visible()
    opened(page, live[1] + "methods.html")
    style = journal / "look/assets/style.css"
    style.parent.mkdir(parents=True)
    style.write_text("body { outline: 3px solid rgb(1, 2, 3) }", "utf-8")
    expect(page.locator("body")).to_have_css("outline-color", "rgb(1, 2, 3)")

    assert page.url == live[1] + "methods.html"
    assert marked(page)


def test_a_draft_carries_a_ribbon(page: Page, live: tuple[subprocess.Popen[str], str]) -> None:
    """What is not published says so on its page; what is published says nothing."""
    ribbon = page.locator("sitegen-live").get_by_role("status")
    opened(page, live[1] + "experiments/chard-lamplight.html")
    expect(ribbon).to_have_text("not published")
    opened(page, live[1] + OAK_PAGE)
    expect(page.locator("sitegen-live")).to_be_attached()

    assert ribbon.count() == 0


def test_a_window_says_when_the_preview_has_stopped(
    page: Page, live: tuple[subprocess.Popen[str], str]
) -> None:
    """The page stays, and is known to be old."""
    opened(page, live[1] + OAK_PAGE)
    live[0].kill()
    expect(page.locator("sitegen-live").get_by_role("status")).to_have_text("the preview has stopped")

    assert marked(page)


def test_a_window_says_so_when_the_preview_stopped_while_it_opened(
    page: Page, live: tuple[subprocess.Popen[str], str]
) -> None:
    """The preview ends after the page has come, and before its script has compared it with what is served."""
    page.route(
        "**/*",
        lambda route: route.abort() if route.request.resource_type == "fetch" else route.continue_(),
    )
    opened(page, live[1] + OAK_PAGE)
    live[0].kill()
    expect(page.locator("sitegen-live").get_by_role("status")).to_have_text("the preview has stopped")


@pytest.mark.parametrize("live", [("--host", "127.0.0.1")], indirect=True)
def test_a_phone_that_has_the_key_sees_pages_and_edits(
    browser: Browser, live: tuple[subprocess.Popen[str], str], journal: Path
) -> None:
    """The address loses its key, styles and pictures come, an edit is swapped in; another browser sees nothing.

    Another site's page (here: `localhost`) may link to it.
    """
    address, _, query = live[1].partition("?")
    phone = browser.new_context(viewport={"width": 360, "height": 740}, is_mobile=True, has_touch=True)
    stranger = browser.new_context()
    page = phone.new_page()
    page.set_default_timeout(MOST)
    failed: list[str] = []
    page.on("response", lambda found: failed.append(found.url) if found.status >= 400 else None)
    with _linking(f"{address}{OAK_PAGE}?{query}") as elsewhere:
        page.goto(elsewhere)
        page.get_by_role("link").click()
        expect(page.locator("header.masthead")).to_be_visible()
    page.wait_for_url(address + OAK_PAGE)
    page.evaluate("window.marked = true")
    replace(journal / OAK, "title: ", "title: SEEN-ON-PHONE ")
    expect(page.get_by_role("heading", name="SEEN-ON-PHONE").first).to_be_visible()
    width = page.evaluate("document.documentElement.scrollWidth")
    kept = marked(page)
    page.reload()
    expect(page.get_by_role("heading", name="SEEN-ON-PHONE").first).to_be_visible()
    refused = [
        stranger.request.get(address + path).status for path in ("", OAK_PAGE, "-/events", "-/live.js")
    ]
    phone.close()
    stranger.close()

    assert (failed, width, kept, refused) == ([], 360, True, [403] * 4)


@contextlib.contextmanager
def _linking(address: str) -> Iterator[str]:
    """A page of another site with one link."""

    class Linking(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            self.send_response(200)
            self.send_header("Content-Type", "text/html")
            self.end_headers()
            self.wfile.write(f"<link rel=icon href=data:,><a href='{address}'>there</a>".encode())

        def log_message(self, *_: object) -> None: ...

    with ThreadingHTTPServer(("127.0.0.1", 0), Linking) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://localhost:{server.server_port}/"
        server.shutdown()
