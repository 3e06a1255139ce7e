"""Which runs an edit renders again, and which pages it writes: no more than what shows it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

from PIL import Image

from tests.pipeline.bench import Site, leaf, visible

Edit = Callable[[Site], object]
ONE_LOG = "seasons/one/one/experiment.yaml"
RECAP, TWO_RECAP = "seasons/one/one/recap.md", "seasons/one/two/recap.md"


def start(folder: Path) -> Site:
    """Three runs of three crops in two seasons and two systems; one is published later. A text, a recap."""
    runs = {
        "one": leaf("First", start="2026-02-01"),
        "two": leaf("Second", "tomato", start="2026-03-01").replace("system: tray", "system: pot"),
    }
    more = {
        "about.md": "# About\n\nA bench.\n",
        "seasons/one/two/recap.md": "All went well.\n",
        "seasons/two/season.yaml": "title: Season two\n",
        "seasons/two/three/experiment.yaml": leaf("Third", "orange", more="publish: 2026-04-20\n"),
    }
    site = Site.of(folder, runs, **more)
    site.edit("gear.yaml", "lamps:", "  pot: {name: Flood pot, kind: flood and drain, spots: 4}\nlamps:")
    return site


def _touch(site: Site) -> None:
    for path in site.root.rglob("*.yaml"):
        path.touch()


def _put(place: str, text: str) -> Edit:
    def put(site: Site) -> None:
        (site.root / place).parent.mkdir(parents=True, exist_ok=True)
        (site.root / place).write_text(text, "utf-8")

    return put


def _edit(place: str, old: str, new: str) -> Edit:
    return lambda site: site.edit(place, old, new)


def _append(place: str, text: str) -> Edit:
    return lambda site: _put(place, (site.root / place).read_text("utf-8") + text)(site)


def _photo(site: Site) -> None:
    path = site.experiment("one") / "photos" / "day-3.jpg"
    path.parent.mkdir()
    Image.new("RGB", (20, 20)).save(path)


def _wait(day: date) -> Edit:
    return lambda site: setattr(site, "today", day)


LISTS = {"compare.html", "index.html"}
RECORDS = {f"experiments/{run}/record.html" for run in ("one", "two", "three")}
RUNS = {f"experiments/{run}.html" for run in ("one", "two", "three")} | RECORDS
GROUPS = {
    f"{each}.html" for each in ("crops/leaf", "crops/tomato", "crops/orange", "systems/tray", "systems/pot")
}
SEASONS = {"seasons/one.html", "seasons/two.html"}
TEXTS = {"about.html", "methods.html", "cautions.html"}
ALL = LISTS | RUNS | GROUPS | SEASONS | TEXTS  # with the navigation and the style sheet; 404.html has its own


def pages(*names: str) -> set[str]:
    """Pages by their names."""
    return {f"{name}.html" for name in names}


ONE = pages("experiments/one", "experiments/one/record")


def check(site: Site, edits: dict[str, tuple[Edit, int, set[str]]]) -> None:
    """Each edit renders so many runs, and writes these pages; at the end there are the pages of a fresh build."""
    site.write()
    assert site.progress == [(1, 3), (2, 3), (3, 3)]
    for name, (edit, count, wanted) in edits.items():
        edit(site)
        done = site.write()
        assert done.outcome is not None
        written = {address for address in done.outcome.written if address.endswith(".html")}
        assert (name, len(site.progress), written) == (name, count, wanted)
        assert (done.charts > 0) == (count > 0)
    assert visible(site.output) == {place: body for place, body in site.anew()[0].items() if place[0] != "."}


def test_an_edit_of_one_run(tmp_path: Path) -> None:
    """Its own page is rendered again, and others where they show what was edited: lists, and those sown next to it."""
    lists = LISTS | pages("seasons/one", "systems/tray", "experiments/three", "404")
    edits: dict[str, tuple[Edit, int, set[str]]] = {
        "nothing": (lambda _: None, 0, set()),
        "saved as it was": (_touch, 0, set()),
        "a note": (_edit(ONE_LOG, "as it was", "as it is"), 1, ONE),
        "a recap": (_put(RECAP, "It *grew*.\n"), 1, ONE),
        "another recap": (_put(RECAP, "It grew.\n"), 1, pages("experiments/one")),
        "a photo": (_photo, 1, pages("index", "seasons/one", "systems/tray", "experiments/one")),
        "a height": (_edit(ONE_LOG, "9 cm", "11 cm"), 1, ONE),
        "a title": (_edit(ONE_LOG, "First", "Renamed"), 2, lists | pages("crops/leaf") | ONE),
        "an id": (
            _edit(ONE_LOG, "log:", "was: [older]\nlog:"),
            1,
            pages("experiments/older", "experiments/older/record"),
        ),
        "a link": (_put(TWO_RECAP, "See [it](one).\n"), 1, pages("experiments/two")),
        "no link": (_put(TWO_RECAP, "All went well.\n"), 1, pages("experiments/two")),
        "a draft": (_edit(ONE_LOG, "log:", "draft: true\nlog:"), 1, lists),
    }
    check(start(tmp_path), edits)


def test_an_edit_of_the_journal(tmp_path: Path) -> None:
    """What any page may show renders all runs; a text does not, unless its title in the navigation is another."""
    prices = "prices: {currency: EUR, electricity: 0.3 per kWh}\n"
    season = pages("experiments/three", "index", "seasons/two")
    crop = LISTS | pages(
        "crops/tomato", "experiments/two", "experiments/two/record", "seasons/one", "systems/pot"
    )
    edits: dict[str, tuple[Edit, int, set[str]]] = {
        "a text": (_edit("about.md", "A bench.", "My bench."), 0, pages("about")),
        "a text's title": (_edit("about.md", "# About", "# About us"), 3, ALL | pages("404")),
        "a text more": (_put("more.md", "# More\n"), 3, ALL | pages("more", "404")),
        "a text less": (lambda site: (site.root / "more.md").unlink(), 3, ALL | pages("404")),
        "a season's title": (_edit("seasons/two/season.yaml", "Season two", "Winter"), 3, season),
        "the journal's title": (_edit("journal.yaml", "Test bench", "Bench"), 3, ALL | pages("404")),
        "a price": (_append("journal.yaml", prices), 3, RECORDS),
        "units": (_append("journal.yaml", "units: us\n"), 3, RUNS | pages("systems/tray")),
        "a crop's name": (_edit("crops.yaml", "Dwarf tomato", "Small tomato"), 3, crop),
        "an asset": (_put("look/assets/own.css", "p { order: 1 }"), 3, set()),
        "an asset that all pages name": (_put("look/assets/look.css", "p { order: 1 }"), 3, ALL),
        "a template": (_put("look/templates/missing.html", "{{ 1 }}"), 3, pages("404")),
    }
    check(start(tmp_path), edits)


def test_a_day_that_passes(tmp_path: Path) -> None:
    """It renders nothing by itself; one that publishes a run renders it, and those sown next to it."""
    lists = LISTS | pages("systems/tray", "experiments/one", "experiments/two", "404")
    edits: dict[str, tuple[Edit, int, set[str]]] = {
        "the next": (_wait(date(2026, 5, 2)), 0, set()),
        "before a publication": (_wait(date(2026, 4, 19)), 2, lists),
        "the day of it": (
            _wait(date(2026, 4, 20)),
            3,
            lists | pages("crops/orange", "seasons/two", "experiments/three", "experiments/three/record"),
        ),
        "the day after": (_wait(date(2026, 4, 21)), 0, set()),
    }
    check(start(tmp_path), edits)
