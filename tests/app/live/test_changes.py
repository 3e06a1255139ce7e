"""Files of a journal and their pages."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitegen.app.live.changes import name_of, page_edited

ROOT = Path("/bench")
LOG = "seasons/one/leaf/experiment.yaml"


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
    assert name_of(Path(path), ROOT, (Path("/theme"),)) == expected


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
