"""What stands at a path of the preview."""

from __future__ import annotations

import json
import re
from http import HTTPStatus
from pathlib import Path

import pytest

from sitegen.app.live.answer import Answer, answer, event_data
from sitegen.app.live.rebuild import FAULT, Version
from sitegen.core.site.page import HTML, Page
from tests.app.live.fixed import FixedSite

PAGE = "<html><head><title>{}</title></head><body></body></html>"


def shown(*pages: Page, **more: object) -> Version:
    """What is shown after the third look."""
    edited, trouble = str(more.pop("edited", "")), str(more.pop("trouble", ""))
    return Version(3, FixedSite(pages, **more), edited=edited, failure=trouble)  # type: ignore[arg-type]


HOME = Page("index.html", HTML, PAGE.format("home"))
LEAF = Page("experiments/leaf.html", HTML, PAGE.format("leaf"))
MISSING = Page("404.html", HTML, PAGE.format("missing"))
STYLE = Page("assets/style-1.css", "text/css", "p {}")
SITE = shown(
    HOME,
    LEAF,
    MISSING,
    STYLE,
    unpublished_pages=frozenset({LEAF.address}),
    edited=LEAF.address,
    trouble="odd",
)


@pytest.mark.parametrize(
    ("path", "status", "title"),
    [
        ("/", HTTPStatus.OK, "home"),
        ("/index.html", HTTPStatus.OK, "home"),
        ("/experiments/leaf.html", HTTPStatus.OK, "leaf"),
        ("/experiments/", HTTPStatus.NOT_FOUND, "missing"),
        ("/experiments/../index.html", HTTPStatus.NOT_FOUND, "missing"),
        ("//index.html", HTTPStatus.NOT_FOUND, "missing"),
        ("/../../../etc/passwd", HTTPStatus.NOT_FOUND, "missing"),
        ("/journal.yaml", HTTPStatus.NOT_FOUND, "missing"),
    ],
)
def test_a_page_stands_at_its_exact_address(path: str, status: HTTPStatus, title: str) -> None:
    """Nothing but an address of the site leads to a page of it."""
    found = answer(SITE, path)

    assert (found.status, found.media) == (status, HTML)
    assert f"<title>{title}</title>".encode() in found.body


def test_a_page_is_as_published_but_for_the_script() -> None:
    """The one tag before the end of the head is all that is added."""
    body = answer(SITE, "/").body.decode()
    tag = r'<script defer src="/-/live\.js" data-shown="\w+" data-serial="3"></script>(?=</head>)'

    assert re.sub(tag, "", body) == HOME.body
    assert len(re.findall(tag, body)) == 1


def test_a_page_without_a_head_has_the_script_too() -> None:
    """A template of the author's own may leave out what HTML lets one leave out."""
    assert answer(shown(Page("index.html", HTML, "<p>bare")), "/").body.endswith(b"</script><p>bare")


def test_a_file_is_as_it_is(tmp_path: Path) -> None:
    """Styles and pictures have nothing added, also where they lie on the disk."""
    photo = tmp_path / "photo"
    photo.write_bytes(b"\xff\xd8</head>")
    site = shown(STYLE, Page("photos/a.jpg", "image/jpeg", photo))

    assert answer(site, "/assets/style-1.css") == Answer(HTTPStatus.OK, "text/css", b"p {}")
    assert answer(site, "/photos/a.jpg") == Answer(HTTPStatus.OK, "image/jpeg", b"\xff\xd8</head>")


def test_a_file_that_was_tidied_away_is_missing(tmp_path: Path) -> None:
    """A large file may go from the disk before it is asked for."""
    site = shown(Page("photos/a.jpg", "image/jpeg", tmp_path / "gone"))

    assert answer(site, "/photos/a.jpg").status == HTTPStatus.NOT_FOUND


@pytest.mark.parametrize(
    ("site", "title"), [(Version(), "The pages are being made"), (Version(1), "There is no page yet")]
)
def test_before_there_are_pages_something_waits_for_them(site: Version, title: str) -> None:
    """A window that is opened early holds the script, which brings the page when it is there."""
    found = answer(site, "/experiments/leaf.html")

    assert found.status == HTTPStatus.SERVICE_UNAVAILABLE
    assert f"<h1>{title}</h1>".encode() in found.body
    assert b"/-/live.js" in found.body


def told(path: str, seen: int = 2, *, follow: bool = False) -> dict[str, object]:
    """What a browser at a path is told."""
    data = json.loads(event_data(SITE, path, seen, follow=follow))
    assert isinstance(data, dict)
    return data


def test_a_browser_is_told_of_its_own_page() -> None:
    """What is held back says so; the state is that which the page carries; trouble is told everywhere."""
    states = [re.findall(rb'data-shown="(\w+)"', answer(SITE, path).body)[0].decode() for path in ("/", "/x")]
    common = {"trouble": f"{FAULT}odd", "unpublished": False, "go": ""}

    assert told("/") == {"shown": states[0], **common}
    assert told("/x") == {"shown": states[1], **common}
    assert told("/experiments/leaf.html")["unpublished"] is True


def test_a_page_that_loads_nothing_loads_the_script() -> None:
    """The policy of the page for missing addresses is widened for the preview, and here only."""
    policy = '<head><meta http-equiv="Content-Security-Policy" content="default-src \'none\'"></head>'
    body = answer(shown(Page("404.html", HTML, policy)), "/x").body.decode()

    assert "content=\"default-src 'none'; script-src 'self'; connect-src 'self'\"" in body


def test_a_browser_that_follows_is_led_once() -> None:
    """To the page that was edited since; whoever has seen that and went elsewhere is left there."""
    assert told("/", seen=2, follow=True)["go"] == "/experiments/leaf.html"
    assert told("/", seen=3, follow=True)["go"] == ""
    assert told("/", seen=2, follow=False)["go"] == ""
