"""What events on the disk mean for a journal."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest

from sitegen.app.live.changes import How, complete, joined, page_edited, touched, within

ROOT = Path("/bench")
LOG = "seasons/one/leaf/experiment.yaml"


@dataclass(frozen=True)
class Seen:
    """An event as the watching library gives it."""

    event_type: str
    src_path: bytes | str = "/bench/a"
    dest_path: bytes | str = ""
    is_directory: bool = False


@pytest.mark.parametrize(
    ("event", "expected"),
    [
        (Seen("closed"), ((Path("/bench/a"), How.CHANGED),)),
        (Seen("created"), ((Path("/bench/a"), How.CAME),)),
        (Seen("deleted", is_directory=True), ((Path("/bench/a"), How.WENT),)),
        (
            Seen("moved", dest_path=b"/bench/b"),
            ((Path("/bench/a"), How.WENT), (Path("/bench/b"), How.PLACED)),
        ),
        (Seen("modified"), ()),
        (Seen("opened"), ()),
        (Seen("closed_no_write"), ()),
    ],
    ids=lambda value: value.event_type if isinstance(value, Seen) else "",
)
def test_a_file_counts_once_it_is_closed(event: Seen, expected: tuple[tuple[Path, How], ...]) -> None:
    """Where closing is reported, a file that is being written says nothing yet."""
    assert touched(event, closes=True) == expected


def test_without_closing_no_order_is_believed() -> None:
    """A comparison of two looks tells of a file written anew before it tells that the old one was moved aside."""
    moved = touched(Seen("moved", dest_path="/bench/a~"), closes=False)

    assert moved == ((Path("/bench/a"), How.CHANGED), (Path("/bench/a~"), How.CHANGED))


def test_modified_counts_where_nothing_is_closed() -> None:
    """Systems that do not report closing report modifying; that of a folder only repeats its files'."""
    assert touched(Seen("modified"), closes=False) == ((Path("/bench/a"), How.CHANGED),)
    assert touched(Seen("modified", is_directory=True), closes=False) == ()


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        (f"/bench/{LOG}", LOG),
        ("/bench/seasons/one/leaf", "seasons/one/leaf"),
        ("/bench/about.md", "about.md"),
        ("/bench/look/assets/style.css", "look/assets/style.css"),
        ("/theme/assets/style.css", "theme/assets/style.css"),
        ("/bench/output/index.html", None),
        ("/bench/public/about.md", None),
        ("/bench/.git/index", None),
        ("/bench/seasons/.old/experiment.yaml", None),
        ("/bench", None),
        ("/elsewhere/about.md", None),
        (f"/bench/{LOG}~", None),
        ("/bench/seasons/one/leaf/.experiment.yaml.swp", None),
        ("/bench/seasons/one/leaf/#experiment.yaml#", None),
        ("/bench/seasons/one/leaf/.~lock.heights.xlsx#", None),
        ("/bench/seasons/one/leaf/~$heights.xlsx", None),
    ],
)
def test_only_what_pages_are_made_from_counts(path: str, expected: str | None) -> None:
    """Neither what was written, nor what editors leave beside a file, nor anything elsewhere is a change."""
    assert within(Path(path), ROOT, (Path("/theme"),)) == expected


@pytest.mark.parametrize(
    ("burst", "expected"),
    [
        ([("a", How.CHANGED), ("a", How.CHANGED)], {"a"}),
        ([("new", How.CAME), ("new", How.WENT), ("a", How.CAME)], {"a"}),
        ([("a", How.WENT), ("a", How.CAME), ("a", How.CHANGED)], {"a"}),
        ([("a", How.WENT)], {"a"}),
        ([("new", How.CAME), ("new", How.WENT)], set()),
    ],
    ids=["twice", "written beside and renamed", "moved aside and written", "deleted", "came to nothing"],
)
def test_a_burst_is_what_it_came_to(burst: list[tuple[str, How]], expected: set[str]) -> None:
    """Ways of saving a file come to one change of that file."""
    assert joined(burst) == expected


@pytest.mark.parametrize(
    ("burst", "expected"),
    [
        ([("a", How.CHANGED)], True),
        ([("a", How.CAME), ("a", How.CHANGED)], True),
        ([("new", How.CAME), ("new", How.WENT), ("a", How.PLACED)], True),
        ([("a", How.CAME)], False),
        ([("a", How.WENT), ("a~", How.PLACED)], False),
        ([("a", How.WENT), ("a", How.CAME), ("a", How.CHANGED)], True),
        ([("a", How.CHANGED), ("b", How.CAME)], False),
    ],
)
def test_a_burst_is_whole_once_every_file_is(burst: list[tuple[str, How]], *, expected: bool) -> None:
    """What was only begun, or moved away, is waited for; what was closed or moved into place is not."""
    assert complete(burst) is expected


PAGE_OF = {
    "seasons/one": "seasons/one.html",
    "seasons/one/leaf": "experiments/leaf.html",
    "seasons/one/root": "experiments/root.html",
    "about.md": "about.html",
}


@pytest.mark.parametrize(
    ("files", "expected"),
    [
        ({LOG}, "experiments/leaf.html"),
        ({"seasons/one/leaf/recap.md", "seasons/one/leaf/photos/a.jpg"}, "experiments/leaf.html"),
        ({"seasons/one/season.yaml"}, "seasons/one.html"),
        ({"about.md"}, "about.html"),
        ({"look/assets/style.css"}, ""),
        ({"about.md", "look/assets/style.css"}, "about.html"),
        ({"gear.yaml"}, ""),
        ({LOG, "seasons/one/root/experiment.yaml"}, ""),
        (set(), ""),
    ],
)
def test_a_file_leads_to_its_page(files: set[str], expected: str) -> None:
    """A file of an experiment, a season or a text has a page; the look has none, several pages at once are none."""
    assert page_edited(files, PAGE_OF) == expected
