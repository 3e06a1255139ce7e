"""Nothing that is not meant for readers reaches any byte that is published, spoken or shown."""

from __future__ import annotations

import datetime as dt
import io
import json
import shutil
from collections.abc import Iterable, Iterator
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from urllib.parse import unquote

import pytest

from sitegen.app.main import status_of
from sitegen.ingest import read_journal
from sitegen.ingest.published_texts import published_texts
from sitegen.memo import Memo
from sitegen.pipeline.preview import Previewer
from tests.canaries.environment import disguise
from tests.canaries.journal import DRAFT, FUTURE, GROWING, OTHER, RUN, Secrets, make_secrets
from tests.canaries.marks import Canary
from tests.canaries.walk import pictures_inside, seen_in, sightings
from tests.pages import figures_on, parse, words

DAY = ("--today", "2026-11-28")
# What `write` prints names files and folders of the machine; none of that may be in the files themselves.
_OUTSIDE = ("path", "environment", "git", "time of change")


@pytest.fixture(scope="module")
def secrets(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Secrets]:
    """The journal, on a machine whose names are secrets, and its site."""
    with pytest.MonkeyPatch.context() as patch:
        made = make_secrets(tmp_path_factory.mktemp("canaries"))
        disguise(made, patch)
        written(made, made.output)
        yield made


def written(secrets: Secrets, output: Path, *options: str) -> None:
    """Write the site or a page of it, in this process."""
    with redirect_stderr(io.StringIO()):
        assert status_of(["write", str(secrets.root), "-o", str(output), "--jobs", "1", *DAY, *options]) == 0


def printed(*words: str) -> bytes:
    """What a command prints on stdout."""
    with redirect_stdout(text := io.StringIO()), redirect_stderr(io.StringIO()):
        status_of([*words, *DAY])
    return text.getvalue().encode()


def places(canaries: Iterable[Canary]) -> list[str]:
    """The places of canaries, in order."""
    return sorted({f"{each.kind}: {each.place}" for each in canaries})


def leaked(folder: Path, canaries: Iterable[Canary]) -> list[str]:
    """The places of the canaries that are found in the files of a folder."""
    return places(each.canary for each in sightings(folder, canaries))


def test_canaries_are_planted(secrets: Secrets) -> None:
    """All of them lie in the journal, where the same search finds them; no two are the same word."""
    planted = secrets.planted.canaries
    inside = [each for each in planted if each.kind not in _OUTSIDE]

    assert len({each.mark for each in planted}) == len(planted) >= 60
    assert leaked(secrets.root, inside) == places(inside)


def test_nothing_is_published(secrets: Secrets) -> None:
    """No canary is in any byte of the site; all that is meant for readers is."""
    assert leaked(secrets.output, secrets.planted.canaries) == []
    assert leaked(secrets.output, secrets.planted.controls) == places(secrets.planted.controls)


def test_the_log_of_a_run_that_is_held_back_is_not_counted(secrets: Secrets) -> None:
    """Sums of a shared tub are open, with the reason, on the page and in the data; neither has a value of the draft."""
    record = secrets.output / f"experiments/{RUN}/record.html"
    package = json.loads((secrets.output / f"data/{RUN}/datapackage.json").read_bytes())
    figures = figures_on(record)

    # By hand: the published log has a filling of 11 L and 20 ml, and nobody may know that the draft has 777 ml and 33 ml.
    # The filling of day 0 is a refill if the other run was there before.
    assert {name: said for name, said in figures.items() if name.startswith("solution.")} == {
        "solution.water": {"not recorded"},
        "solution.refills": {"not counted"},
        "solution.tubs.tub.changes": {"not counted"},
        "solution.tubs.tub.doses.mix.total": {"not recorded"},
        "solution.tubs.tub.doses.mix.times": {"at least 1"},
    }
    assert package["experiment"]["shares"] == [
        {"tub": "tub", "run": "another-run", "source": package["experiment"]["shares"][0]["source"]}
    ]
    said = words(parse(record))
    assert "Shared with another run." in said
    assert "The log of another run is not counted here: sums of water and feed are left open." in said


def test_what_is_held_back_changes_no_byte(secrets: Secrets, tmp_path: Path) -> None:
    """The site is the same, byte for byte, whatever the files of runs that are held back say."""
    other = tmp_path / "journal"
    shutil.copytree(secrets.root, other)
    for run, (why, shared, start) in {
        DRAFT: ("draft: true", RUN, "2026-03-03"),
        FUTURE: ("publish: 2088-02-02", OTHER, "2026-05-10"),
    }.items():
        home = other / "seasons/open" / secrets.ids[run]
        shutil.rmtree(home)
        home.mkdir()
        home.joinpath("experiment.yaml").write_text(
            f"format: 1\ntitle: A trial\ncrop: leaf\nvariety: first\nsystem: tub-2\nstart: {start}\nplants: 1\n"
            f"shares: {{with: {shared}}}\n{why}\nlog:\n  - {{day: 0, sow: 1 a spot, water: 5 L}}\n",
            "utf-8",
        )
    with redirect_stderr(io.StringIO()):
        words_ = ["write", str(other), "-o", str(tmp_path / "site"), "--jobs", "1", *DAY]
        assert status_of(words_) == 0

    assert _published(tmp_path / "site") == _published(secrets.output)


def _published(folder: Path) -> dict[str, bytes]:
    """The files of a site, without what a command notes for itself."""
    places_ = {path: path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()}
    return {place: path.read_bytes() for path, place in places_.items() if not place.startswith(".")}


def test_links_lead_to_pages_that_exist(secrets: Secrets) -> None:
    """No link of the site, and no row that a figure names, leads to a page of a run that is held back."""
    pages = sorted(secrets.output.rglob("*.html"))
    leads = {(page, link) for page in pages for node in parse(page).iter() if (link := node.get("href", ""))}
    inside = [(page, unquote(link.partition("#")[0])) for page, link in leads if "://" not in link]

    assert len(inside) > 50
    assert [
        link
        for page, link in inside
        if link and not link.startswith(("mailto:", "data:")) and not (page.parent / link).resolve().exists()
    ] == []


def test_pictures_hold_no_pictures(secrets: Secrets) -> None:
    """No published JPEG has a preview or a second picture in it."""
    jpegs = list(secrets.output.rglob("*.jpg"))

    assert len(jpegs) >= 4
    assert [path.name for path in jpegs if pictures_inside(path.read_bytes())] == []


@pytest.mark.full
@pytest.mark.parametrize(("theme", "raw"), [("ledger", True), ("propagator", False), ("propagator", True)])
def test_other_themes(theme: str, raw: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Neither is it in another theme, or where a journal takes HTML."""
    made = make_secrets(tmp_path, theme=theme, raw_html=raw)
    disguise(made, monkeypatch)
    written(made, made.output)

    assert leaked(made.output, made.planted.canaries) == []


def test_copy_of_a_run_that_is_held_back(secrets: Secrets, tmp_path: Path) -> None:
    """A copy for a reviewer has the run that it is of, and nothing else that is not published."""
    written(secrets, tmp_path / "copy", "--only", secrets.ids[DRAFT])
    own = [each for each in secrets.planted.canaries if each.place.startswith(f"{DRAFT}: ")]
    mark = f"held back: id of the {DRAFT}"
    found = leaked(tmp_path / "copy", secrets.planted.canaries)

    assert set(found) - {mark, *places(own)} == set()
    assert {f"held back: {DRAFT}: title", f"held back: {DRAFT}: recap"} <= set(found)


def test_copy_of_a_published_run(secrets: Secrets, tmp_path: Path) -> None:
    """A copy of a page of the site has nothing of the runs that are held back."""
    written(secrets, tmp_path / "copy", "--only", RUN)

    assert leaked(tmp_path / "copy", secrets.planted.canaries) == []


KINDS = ("script", "description", "chapters", "post", "follow-up", "answers", "gaps", "shots")
# For the author's own eyes: what to film and to cut, and what to answer; and what the author's own template says.
_PHOTOS = (
    "photo, jpg",
    "photo, png",
    "photo, webp",
    "photo, heic",
    "photo that the log does not name",
)
_SHOWN = {
    "script": {
        *(f"file name: {place}" for place in (*_PHOTOS, "clip", "workbook")),
        "notes: template of notes",
    },
    "shots": {"file name: clip"},
    "answers": {
        "viewer question: asked and not answered",
        "viewer question: asked and answered in comments",
        "viewer question: answer for the comments",
    },
    "gaps": {"viewer question: asked and not answered"},
}


@pytest.mark.parametrize("run", [OTHER, GROWING])
@pytest.mark.parametrize("kind", KINDS)
def test_notes_of_other_runs(kind: str, run: str, secrets: Secrets) -> None:
    """Notes of a run beside one that is held back, or after it, have nothing of it."""
    text = printed("notes", run, "--journal", str(secrets.root), "--kind", kind, "--plain")
    found = {each.canary for each in seen_in(text, secrets.planted.canaries)}

    assert places(each for each in found if each.kind == "held back") == []


@pytest.mark.parametrize("kind", KINDS)
def test_notes(kind: str, secrets: Secrets) -> None:
    """What is said in an episode or stands under it has nothing private and nothing of a run that is held back."""
    text = printed("notes", RUN, "--journal", str(secrets.root), "--kind", kind, "--plain")

    assert {*places(each.canary for each in seen_in(text, secrets.planted.canaries))} <= _SHOWN.get(
        kind, set()
    )


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_not_to_be_told(kind: str, secrets: Secrets) -> None:
    """An entry with `tell: never` is in no notes."""
    (never,) = (each for each in secrets.planted.controls if each.place == "note that episodes leave out")
    text = printed("notes", RUN, "--journal", str(secrets.root), "--kind", kind)

    assert seen_in(text, [never]) == []


@pytest.mark.full
def test_cards(secrets: Secrets, tmp_path: Path) -> None:
    """Cards for an episode have nothing of it either."""
    with redirect_stderr(io.StringIO()):
        words = [
            "notes",
            RUN,
            "--journal",
            str(secrets.root),
            "--kind",
            "cards",
            "-o",
            str(tmp_path / "cards"),
        ]
        assert status_of([*words, *DAY]) == 0

    assert len([*(tmp_path / "cards").iterdir()]) >= 2
    assert leaked(tmp_path, secrets.planted.canaries) == []


def test_facts(secrets: Secrets) -> None:
    """Facts of a run name the author's own files, which they rest on, and nothing else of what is not published."""
    text = printed("facts", RUN, "--journal", str(secrets.root), "--json")

    assert len(text) > 1000
    assert places(each.canary for each in seen_in(text, secrets.planted.canaries)) == [
        "file name: CSV file",
        "file name: workbook",
    ]


@pytest.mark.full
def test_live(secrets: Secrets) -> None:
    """A preview shows drafts, and nothing else that would not be published."""
    held_back = {"held back"}
    found: set[Canary] = set()
    with Memo() as memo:
        shown = Previewer(secrets.root, dt.date(2026, 11, 28), memo).refresh()
        for path in sorted(secrets.output.rglob("*")):
            each = shown.find(path.relative_to(secrets.output).as_posix()) if path.is_file() else None
            if each is not None and each.page is not None:
                found |= {one.canary for one in seen_in(each.page.content, secrets.planted.canaries)}

    assert {each.kind for each in found} == held_back


def test_texts_that_are_listed(secrets: Secrets) -> None:
    """`validate --privacy` looks through all that is published, and names files that have it; through nothing private."""
    files, _ = read_journal(secrets.root)
    assert files is not None
    texts = [*published_texts(files, dt.date(2026, 11, 28))]
    public = "\n".join(text.text for text in texts if not text.held_back).encode()
    controls = secrets.planted.controls

    assert places(each.canary for each in seen_in(public, controls)) == places(controls)
    # Comments, and the file of a photo that a block places, are passed over when the text is searched.
    private = {each.canary for each in seen_in(public, secrets.planted.canaries)}
    assert places(each for each in private if each.kind != "comment") == ["file name: photo, jpg"]
    for text in texts:
        for sighting in seen_in(text.text.encode(), controls):
            for name in text.files:
                if "." in name and not text.code:
                    body = (secrets.output / name).read_bytes()
                    assert seen_in(body, [sighting.canary]), (sighting.canary.place, name)
