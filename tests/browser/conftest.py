"""One browser for all tests of a module, and the demo written with each theme."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock
from playwright.sync_api import Browser, Page, sync_playwright

from sitegen.app.main import status_of
from sitegen.render.templates.themes import theme_names

ROOT = Path(__file__).parent.parent.parent
# Without these Chromium asks for what it could download, and finds no display and no user namespaces in a container.
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-background-networking",
    "--disable-sync",
]
TODAY = "2026-11-25"
# Of the demo: one that has ended after two flushes, one that has few pictures, one that had not ended.
KEPT = {"cinder-button-flood", "oak-in-jars", "cinder-beside-pebble"}
SHOWS = (("file: day-56.jpg, alt", "file: day-56.jpg, shows: not ready, alt"),)


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """Debian's own Chromium."""
    with sync_playwright() as playwright:
        found = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=ARGUMENTS)
        yield found
        found.close()


@pytest.fixture(autouse=True)
def _laid_out(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page is looked at when all of it is laid out: what a phone puts off for some frames has no words and no size."""
    if request.path.name == "test_first_screen.py":
        return
    goto = Page.goto

    def whole(page: Page, *address: Any, **more: Any) -> Any:
        found = goto(page, *address, **more)
        page.wait_for_selector(".below", state="detached")
        return found

    monkeypatch.setattr(Page, "goto", whole)


def journal_with(root: Path, theme: str) -> Path:
    """A few experiments of the demo, to be written with a theme."""
    ignored = shutil.ignore_patterns("*.py", "drawing", "__pycache__")
    shutil.copytree(ROOT / "content_demo", root, ignore=ignored)
    for path in root.glob("seasons/*/*/"):
        if path.is_dir() and path.name not in KEPT:
            shutil.rmtree(path)
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8").replace("theme: ledger", f"theme: {theme}"), "utf-8")
    flood = next(root.glob("seasons/*/cinder-button-flood/experiment.yaml"))
    text = flood.read_text("utf-8")
    for old, new in SHOWS:
        assert old in text
        text = text.replace(old, new)
    flood.write_text(text, "utf-8")
    return root


@pytest.fixture(scope="session", params=theme_names())
def site(request: pytest.FixtureRequest, shared: Path) -> Path:
    """A few experiments of the demo, written with a theme by one process for all: a folder, opened as one."""
    home = shared / request.param
    with FileLock(shared / f"{request.param}.lock"):
        if not (home / "site").exists():
            journal = journal_with(home / "journal", request.param)
            assert status_of(["write", str(journal), "-o", str(home / "site"), "--today", TODAY]) == 0
    return home / "site"
