"""What pages may load, and that they keep to it."""

from __future__ import annotations

import re

import pytest

from sitegen.render import render
from sitegen.render.templates.context import POLICY
from tests.render.builders import site

META = '<meta http-equiv="Content-Security-Policy" content="'
STYLED = re.compile(r"<[a-z][^>]*\sstyle=")
HANDLED = re.compile(r"<[a-z][^>]*\son[a-z]+=")
SCRIPT = re.compile(r"<script(?![^>]*\ssrc=)(?! type=\"application/(?:ld\+)?json\")")
PAGES = [page for page in render(site())[0] if page.address.endswith(".html")]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.address)
def test_every_page_says_what_it_may_load(page) -> None:
    """The policy stands before anything that could load; nothing in the page would be refused by it."""
    text = page.content.decode()

    assert text.index(META) < min(text.find(mark) % len(text) for mark in ("<link", "<script", "<style"))
    assert not STYLED.search(text)
    assert not HANDLED.search(text)
    assert bool(SCRIPT.search(text)) == ("<style" in text) == (page.address == "404.html")


def test_the_policy_lets_in_no_other_host() -> None:
    """Each directive names the site itself, or nothing."""
    sources = {word for part in POLICY.split("; ") for word in part.split()[1:]}

    assert sources == {"'none'", "'self'", "file:"}


def test_controls_are_there_before_the_first_paint() -> None:
    """A page's scripts run before it is painted: what they add moves nothing."""
    scripts = [
        tag for page in PAGES for tag in re.findall(r"<script[^>]*\ssrc=[^>]*>", page.content.decode())
    ]

    assert len(scripts) > 5
    assert [tag for tag in scripts if " defer blocking=" not in tag] == []
