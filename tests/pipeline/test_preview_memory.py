"""What a preview keeps between builds, and to which run an address belongs."""

from __future__ import annotations

import threading

import pytest

from sitegen.core.findings.finding import Finding
from sitegen.core.findings.source import Source
from sitegen.core.site.page import Page
from sitegen.pipeline import preview as module
from sitegen.pipeline.preview import (
    ASSETS,
    BYTES,
    RESULTS,
    RUNS,
    Preview,
    _encoded,
    _Memory,
    _Result,
    _run_at,
)


def result(size: int, name: str = "a") -> _Result:
    """Pages of so many bytes; what is no text in memory has none."""
    pages = {
        name: Page(name, "text/html", b"x" * size),
        "later": Page("later", "image/webp", lambda: b"x" * 99),
    }
    return _Result(pages, {})


def test_the_size_of_a_result() -> None:
    """The bytes of its pages that are in memory."""
    assert result(7).size == 7
    assert _Result({}, {}).size == 0


def test_results_not_made_for_longest_are_dropped() -> None:
    """By their number; one that is made again counts as new."""
    memory = _Memory()
    for number in range(RESULTS):
        memory.keep(str(number), result(1))
    kept = memory.keep("0", again := result(2))
    memory.keep("more", result(1))

    assert kept is again
    assert list(memory.results) == [*map(str, range(2, RESULTS)), "0", "more"]
    assert memory.results["0"] is again


@pytest.mark.parametrize(
    ("sizes", "left"),
    [
        ((BYTES - 1, 1), "ab"),
        ((BYTES, 1), "b"),
        ((1, BYTES), "b"),
        ((1, BYTES - 2, 1), "abc"),
        ((BYTES // 2, BYTES // 2, BYTES // 2), "bc"),
        ((BYTES + 1,), "a"),
        ((1, BYTES + 1), "b"),
    ],
)
def test_results_are_dropped_by_their_bytes(sizes: tuple[int, ...], left: str) -> None:
    """Until the others fit; the latest stays, however large."""
    memory = _Memory()
    for name, size in zip("abc", sizes, strict=False):
        memory.keep(name, result(size))

    assert "".join(memory.results) == left


def test_runs_not_asked_for_longest_are_dropped() -> None:
    """Each has one memory while it is kept."""
    memory = _Memory()
    first = [memory.run(str(number)) for number in range(RUNS)]
    again = memory.run("0")
    memory.run("more")

    assert again is first[0]
    assert list(memory.runs) == [*map(str, range(2, RUNS)), "0", "more"]
    assert memory.run("1") is not first[1]


@pytest.mark.parametrize("count", [3, 5])
def test_files_of_the_theme_are_kept_for_a_while(monkeypatch: pytest.MonkeyPatch, count: int) -> None:
    """Those of the theme as it is are all there; of earlier ones those added last, up to a number."""
    monkeypatch.setattr(module, "ASSETS", 4)
    memory = _Memory()
    memory.keep_assets([Page(f"old-{n}", "text/css", "") for n in range(3)])
    memory.keep_assets(new := [Page(f"new-{n}", "text/css", "") for n in range(count)])

    assert list(memory.assets) == [*(["old-2"] if count == 3 else []), *(page.address for page in new)]
    memory.keep_assets([Page("old-2", "text/css", "again")])
    assert list(memory.assets)[-1] == "old-2"
    assert memory.assets["old-2"].body == "again"


@pytest.mark.parametrize(
    ("address", "run"),
    [
        ("experiments/one.html", "one"),
        ("experiments/one/record.html", "one"),
        ("data/one/plants.csv", "one"),
        ("photos/one/day-3.webp", "one"),
        ("previews/experiments/one.png", "one"),
        ("experiments/one.txt", ""),
        ("experiments/one/other.html", ""),
        ("data/plants.csv", ""),
        ("data/one/more/plants.csv", ""),
        ("previews/seasons/one.png", ""),
        ("index.html", ""),
        ("", ""),
    ],
)
def test_the_run_of_an_address(address: str, run: str) -> None:
    """By its form alone."""
    assert _run_at(address) == run


def test_texts_are_kept_as_bytes() -> None:
    """Anything else stays as it is."""
    text, other = Page("a", "text/html", "caf\xe9"), Page("b", "image/png", b"\0")

    assert (_encoded(text).body, _encoded(other)) == ("caf\xe9".encode(), other)


def test_a_preview_without_a_build() -> None:
    """It shows nothing, tells the findings that it was given, and holds nothing back."""
    finding = Finding("no-unit", Source("a.yaml"), "`9` has no unit")
    warning = Finding("long-gap", Source("a.yaml"), "a long gap")
    shown = Preview(findings=(finding, warning))

    assert (shown.find("index.html"), shown.fault(), shown.theme_folders, dict(shown.page_of)) == (
        None,
        "",
        (),
        {},
    )
    assert (shown.findings(), shown.errors()) == ((warning, finding), (finding,))
    assert (shown.holds_back(), shown.unpublished("index.html")) == (False, False)
    assert Preview(page_of={"about.md": "about.html"}).page_of == {"about.md": "about.html"}


def test_a_run_is_made_by_one_thread_at_a_time() -> None:
    """The same thread may ask again, another waits."""
    memory = _Memory()
    taken: list[bool] = []
    with memory.run("one").lock, memory.run("one").lock:
        other = threading.Thread(target=lambda: taken.append(memory.run("one").lock.acquire(blocking=False)))
        other.start()
        other.join()

    assert taken == [False]


def test_bounds_of_what_is_kept() -> None:
    """Steps, bytes, files of themes, runs: what an author looks at in an hour; common practice, no source."""
    assert (RESULTS, BYTES, ASSETS, RUNS) == (60, 24_000_000, 100, 8)
