"""The demo journal through the whole line: complete, true to its facts, and nothing private in the output."""

from __future__ import annotations

import csv
import gzip
import io
import json
import re
import warnings
from contextlib import redirect_stdout
from datetime import date
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
import webvtt

from sitegen.app.main import status_of
from sitegen.core.facts.figure import figures
from sitegen.core.records.rows import Deed
from sitegen.ingest import read_experiment, read_journal
from sitegen.pipeline import validate
from sitegen.pipeline.checks.privacy import personal
from tests.conftest import DEMO, TODAY
from tests.pages import parse, words
from tests.test_walks import facts_and_wording, walk_figures

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # the library's own imports, not ours
    import frictionless


# Stands in every private text of the demo, in its draft, and in its pictures' metadata.
MARKER = b"QUILLMARK"


@pytest.fixture(scope="module")
def site(demo_site: Path) -> Path:
    """The demo site."""
    return demo_site


Nodes = dict[Path, list[tuple[dict[str, str], str]]]


@pytest.fixture(scope="module")
def nodes(site: Path) -> Nodes:
    """The attributes of every element of every page, and the words of each figure: parsing is slow, and done once."""
    return {
        page: [(node.attrib, words(node) if node.get("data-figure") else "") for node in parse(page).iter()]
        for page in site.rglob("*.html")
    }


@pytest.fixture(scope="module")
def facts() -> dict[str, dict[str, dict[str, str]]]:
    """What `facts --json` prints: experiment → figure → its data."""
    printed = io.StringIO()
    with redirect_stdout(printed):
        assert status_of(["facts", str(DEMO), "--json", "--today", str(TODAY)]) == 0
    return {one["experiment"]: one["figures"] for one in json.loads(printed.getvalue())["experiments"]}


def runs() -> list:
    """All experiments as read."""
    journal_files, _ = read_journal(DEMO)
    assert journal_files is not None
    found = (read_experiment(folder, journal_files)[0] for folder in journal_files.folders)
    return [run for run in found if run is not None]


def test_nothing_is_found_in_the_demo() -> None:
    """The demo is a sound journal of more than ten experiments."""
    checked = validate(DEMO, TODAY)

    assert checked.findings == ()
    assert checked.experiments > 10


def test_what_looks_personal_in_the_demo() -> None:
    """On request, the places that photos carry are told, and the one note of somebody who was away."""
    found = personal(DEMO, TODAY)

    assert {f.code for f in found.findings} == {"photo-location", "personal-hint"}
    assert [f.found for f in found.findings if f.code == "personal-hint"] == ["I was away"]
    assert found.texts > 2000


def test_a_page_for_every_published_experiment(site: Path) -> None:
    """Every experiment that is not held back has its page; a draft has none."""
    pages = {p.stem for p in (site / "experiments").glob("*.html")}
    shown = {run.id for run in runs() if not run.setup.draft and (run.setup.publish or TODAY) <= TODAY}
    redirects = {old for run in runs() for old in run.setup.was}

    assert pages == shown | redirects
    assert shown < {run.id for run in runs()}


def test_every_figure_on_a_page_is_the_one_of_facts(site: Path, facts: dict) -> None:
    """Each figure on any page has the words that `facts --json` prints, or those that a sentence has for it."""
    found, wording = facts_and_wording(DEMO)
    printed = {(run, name): figure["text"] for run, known in facts.items() for name, figure in known.items()}

    assert printed == {
        (each.id, figure.name): wording.say(figure) for each in found for figure in figures(each)
    }
    assert walk_figures(site, DEMO)["experiments"] > 300


def test_every_figure_shown_has_its_working(site: Path, nodes: Nodes) -> None:
    """Each figure on an experiment's page leads to an anchor that is there."""
    for page in (site / "experiments").glob("*.html"):
        ids = {attributes.get("id") for attributes, _ in nodes[page]}
        for attributes, _ in nodes[page]:
            link = attributes.get("href", "")
            if "data-figure" in attributes and link.startswith("#"):
                assert link[1:] in ids, (page.name, attributes["data-figure"])


def test_nothing_private_in_the_output(site: Path) -> None:
    """No file of the site holds a byte of private text, of a draft, or of a picture's metadata."""
    held = [p for p in site.rglob("*") if p.is_file() and MARKER in p.read_bytes()]

    assert held == []
    sources = b"".join(p.read_bytes() for p in DEMO.rglob("*.yaml"))
    assert sources.count(MARKER) >= 4  # the search would find it


def test_every_link_leads_somewhere(nodes: Nodes) -> None:
    """Every relative link and every fragment of every page leads to a file and an anchor of the site."""
    anchors = {page: {attributes.get("id") for attributes, _ in found} for page, found in nodes.items()}
    links = {
        (page, attributes[key])
        for page, found in nodes.items()
        for attributes, _ in found
        for key in ("href", "src")
        if attributes.get(key) and page.name != "404.html"
    }
    for page, address in links:
        link = urlsplit(address)
        if link.scheme or link.netloc:
            continue
        target = (page.parent / unquote(link.path)).resolve() if link.path else page
        assert target.is_file(), (page.name, address)
        if link.fragment and target in anchors:
            assert unquote(link.fragment) in anchors[target], (page.name, address)


@pytest.mark.filterwarnings("ignore")
@pytest.mark.parametrize("each", [4, pytest.param(1, marks=pytest.mark.full)])
def test_every_package_is_valid(each: int, site: Path) -> None:
    """An independent reader finds nothing wrong in the data of any experiment: types, keys, digests, sizes."""
    packages = sorted(site.glob("data/*/datapackage.json"))
    assert {path.parent.name for path in packages} == {
        page.stem for page in site.glob("experiments/*.html") if (site / "data" / page.stem).is_dir()
    }
    found = {
        path.parent.name: frictionless.validate(str(path)).flatten(["title", "note"])
        for path in packages[::each]
    }

    assert {name: wrong for name, wrong in found.items() if wrong} == {}
    assert len(found) > 12 / each


def test_chapters_are_valid(site: Path) -> None:
    """An independent reader takes every file of chapters; the demo has some."""
    found = [webvtt.read(str(path)) for path in site.glob("chapters/*.vtt")]

    assert sorted(len(chapters) for chapters in found) == [4, 5]


def test_no_request_to_any_other_host(site: Path) -> None:
    """Nothing that a page loads comes from elsewhere."""
    loading = re.compile(rb"""(?:\ssrc=["']|url\(["']?|@import\s+["'])(?:https?:)?//""")
    loaded = [
        p.name
        for p in site.rglob("*")
        if p.suffix in (".html", ".css", ".js", ".svg") and loading.search(p.read_bytes())
    ]

    assert loaded == []


def test_the_demo_says_that_it_is_invented(site: Path) -> None:
    """Every page says it, but those that only lead elsewhere: 404 and the old addresses."""
    for page in site.rglob("*.html"):
        text = page.read_text("utf-8").lower()
        assert "invented" in text or 'http-equiv="refresh"' in text or page.name == "404.html", page.name


def test_the_demo_holds_what_real_records_hold() -> None:
    """Each thing that a real log contains stands somewhere in the demo."""
    all_runs = runs()
    events = [e for run in all_runs for e in run.rows.events]
    picks = [p for run in all_runs for p in run.rows.picks]
    weights = [p.weight for p in picks]
    readings = [r for run in all_runs for r in run.rows.readings]
    routines = [r for run in all_runs for r in run.rows.routines]
    steps = [r.value.step for r in readings] + [w.step for w in weights]
    holds = {
        "seasons": len({run.setup.season for run in all_runs}) >= 3,
        "kinds of crops": len({run.setup.crop.kind for run in all_runs}) >= 5,
        "about": any(r.value.about for r in readings),
        "by eye": any(r.value.by_eye for r in readings),
        "US units": {2.54, 28.349523125} <= {round(s, 9) for s in steps},
        "not weighed": any(w.unweighed for w in weights),
        "two plants together": any(len(p.which.ids) == 2 for p in picks),
        "a tally": any(run.rows.tallies for run in all_runs),
        "2 of 6": any(m.which.of for run in all_runs for m in run.rows.milestones),
        "a loss": any(e.deed is Deed.LOST for e in events),
        "a resown spot": any(e.deed is Deed.SOW and e.day.first > 0 for e in events),
        "a move": any(e.deed is Deed.MOVE for e in events),
        "two tubs, two lamps": any(
            len({light.tub for light in r.rows.lights}) > 1
            and len({light.use.lamp for light in r.rows.lights if light.use.lamp}) > 1
            for r in all_runs
        ),
        "two varieties": any(len(run.setup.variety_ids) > 1 for run in all_runs),
        "not yet": any(not m.reached for run in all_runs for m in run.rows.milestones),
        "groups": any(run.setup.groups for run in all_runs),
        "spoilt": any(p.spoilt for p in picks),
        "a flush": any(p.flush for p in picks),
        "a routine that changed": any(r.until for r in routines),
        "trouble": any(e.deed is Deed.TROUBLE for e in events),
        "an export": any(len(x.times) > 60 * 24 * 12 for run in all_runs for x in run.rows.exports),
        "a spreadsheet": any(r.source.file.endswith(".xlsx") for r in readings),
        "no dates": any(run.setup.start.precision == "unknown" for run in all_runs),
        "values in a recap": any("{{" in run.recap for run in all_runs),
        "running": any(run.ended is None for run in all_runs),
        "a draft": any(run.setup.draft for run in all_runs),
        "private": any(e.private for run in all_runs for e in run.rows.entries),
        "a correction": any(run.setup.corrections for run in all_runs),
    }
    assert [name for name, there in holds.items() if not there] == []


def test_the_demo_is_small() -> None:
    """The demo journal stays under 8 MB."""
    assert sum(p.stat().st_size for p in DEMO.rglob("*") if p.is_file()) < 8_000_000


def test_the_charts_of_a_page_are_light(site: Path) -> None:
    """All charts of the richest run, as they stand in its page, are at most 30 KB on their way."""
    sizes = {page.stem: _weight_of_charts(page) for page in (site / "experiments").glob("*.html")}
    richest = max(sizes, key=lambda name: sizes[name])

    assert 0 < sizes[richest] <= 30_000, richest


def _weight_of_charts(page: Path) -> int:
    """Bytes of a page's charts, with their words and tables, packed as a host would pack them."""
    found = re.findall(r'<figure class="chart".*?</figure>', page.read_text("utf-8"), re.DOTALL)
    return len(gzip.compress("".join(found).encode())) if found else 0


def test_the_record_of_the_richest_run_is_light(site: Path) -> None:
    """No record is larger than 150,000 bytes; 7,000 of them are for longer words and the theme with more marks."""
    sizes = {page.parent.name: page.stat().st_size for page in site.rglob("record.html")}
    assert {name: size for name, size in sizes.items() if size > 150_000 - 7_000} == {}


def test_every_chart_can_be_taken_along(site: Path) -> None:
    """Each chart has its numbers as a file, and its drawing where it has one; what is opened alone needs no page."""
    for page in (site / "experiments").glob("*.html"):
        html = page.read_text("utf-8")
        drawn = set(re.findall(r'<figure class="chart" id="(chart-\w+)"', html))
        sentences = re.findall(r'<p class="told" id="(chart-\w+)">(.*?)</p>', html, re.DOTALL)
        drawn |= {name for name, words in sentences if ".svg" in words}  # where the page has a better drawing
        told = {name for name, _ in sentences}
        files = site / "data" / page.stem
        assert {file.stem for file in files.glob("chart-*.svg")} == drawn
        assert {file.stem for file in files.glob("chart-*.csv")} == drawn | told
    assert not [p.name for p in site.rglob("chart-*.svg") if "var(" in p.read_text("utf-8")]


def test_the_numbers_behind_a_chart_are_numbers(site: Path) -> None:
    """Every cell of a column with a unit is a number or empty, and every row has its days; flags are words."""
    seen = set()
    for path in site.glob("data/*/chart-*.csv"):
        for row in csv.DictReader(io.StringIO(path.read_text("utf-8"))):
            for head, cell in row.items():
                if head.endswith(("_low", "_mean", "_high", "samples", "plants_count", "plants_of")):
                    seen.add(head)
                    assert not cell or float(cell) == float(cell), (path.name, head, cell)
                elif head.endswith("_flag"):
                    assert not re.search(r"\d", cell), (path.name, head, cell)
            assert int(row["day_first"]) <= int(row["day_last"])
            assert not row["date"] or date.fromisoformat(row["date"])
    assert {"harvest_g_low", "height_cm_high", "temperature_degC_mean", "so_far_ml_high", "plants_of"} < seen


def test_a_recap_of_the_demo_places_all_kinds(site: Path) -> None:
    """A chart, a photo and a strip stand in the text, and ripe pods beside those that came too late."""
    html = (site / "experiments" / "bean-signal-box.html").read_text("utf-8")
    text = html[: html.index('id="charts"')]

    for anchor in ("chart-harvest", "photo-[0-9a-f]{8}", "strip-p3"):
        assert re.search(f'id="{anchor}"', text)
        assert len(re.findall(f'id="{anchor}"', html)) == 1
    assert '<ol class="strip ripeness of-2">' in html


def test_the_record_has_the_stages_that_a_page_only_draws(site: Path) -> None:
    """Beside a drawing of the stages the table of a run's page has no row for them; that of the record has them all."""

    def labels(page: str) -> list[str]:
        return re.findall(r'<tr><th scope="row">(.*?)</th>', (site / page).read_text(encoding="utf-8"))

    story, record = (labels(f"experiments/pebble-two-lamps{end}") for end in (".html", "/record.html"))
    assert "Harvest" in story
    assert "First flower" not in story
    assert set(story) < set(record)
    assert "First flower" in record


def test_a_remark_of_many_rows_is_said_once(site: Path) -> None:
    """What limits space, water and electricity alike stands below the table of a run's page, with their names."""
    page = (site / "experiments/pebble-two-lamps.html").read_text(encoding="utf-8")
    assert page.count("the whole tub, with P3 while it was there") == 1
    labels = "“Harvest for the floor space used”, “Harvest for the water used” and “Harvest for the electricity used”"
    assert f"{labels}: the whole tub" in page
