"""What a preview shows beyond what is published."""

from __future__ import annotations

import io
import os
import re
import shutil
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from PIL import Image

from sitegen.memo import Memo
from sitegen.pipeline import preview as module
from sitegen.pipeline import publish
from sitegen.pipeline.engine import steps
from sitegen.pipeline.engine.files import Inventory
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.preview import Preview, Previewer
from tests.journal_maker import make_journal

TODAY = date(2026, 5, 1)
LEAF = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: 2026-03-01
plants: 2
{more}log:
  - day: 0
    sow: 2 a spot
  - day: 20
    height: 9 cm
"""


ONE, ONE_LOG = "experiments/one.html", "seasons/one/one/experiment.yaml"
RECORD = "experiments/one/record.html"
ADDRESSES = (
    *(
        ONE,
        "experiments/two.html",
        "experiments/new.html",
        "experiments/older.html",
        "index.html",
        "compare.html",
    ),
    *("seasons/one.html", "seasons/two.html", "crops/leaf.html", "crops/tomato.html", "systems/tray.html"),
    *("about.html", "methods.html", "404.html", "find.js", "data/one/plants.csv"),
)


def leaf(title: str, crop: str = "leaf", more: str = "") -> str:
    """An experiment that has no findings."""
    return LEAF.format(title=title, crop=crop, more=more)


@pytest.fixture
def memo() -> Iterator[Memo]:
    """A memo that is open for a test."""
    with Memo() as found:
        yield found


def whole(looks: Previewer, *files: str) -> Preview:
    """A look after some files were touched."""
    return looks.refresh(files)


def body(shown: Preview, address: str) -> str:
    """The text of a page; empty where there is none."""
    leaf = shown.find(address)
    page = leaf.page if leaf is not None else None
    return page.content.decode() if page is not None else ""


def bodies(shown: Preview) -> list[str]:
    """The texts of many pages."""
    return [body(shown, address) for address in ADDRESSES]


def test_what_is_held_back_is_shown_and_marked(tmp_path: Path, memo: Memo) -> None:
    """Drafts and what is published later have pages, and so have a crop and old addresses that only they have."""
    held = {
        "draft": leaf("Drafted", more="draft: true\nwas: [older]\n"),
        "later": leaf("Later", "tomato", "publish: 2026-06-01\n"),
        "open": leaf("Open"),
    }
    root = make_journal(tmp_path / "bench", held)
    shown = whole(Previewer(root, TODAY, memo))
    published = {page.relative_to(root / "output").as_posix() for page in _written(root)}
    held_back = {
        "experiments/draft.html",
        "experiments/draft/record.html",
        "experiments/older.html",
        "experiments/older/record.html",
        "experiments/later.html",
        "experiments/later/record.html",
        "crops/tomato.html",
    }

    assert {address for address in held_back | published if shown.unpublished(address)} == held_back
    assert not [address for address in held_back | published if not body(shown, address)]
    assert not held_back & published


def _written(root: Path) -> list[Path]:
    assert publish(root, TODAY).outcome is not None
    return sorted((root / "output").rglob("*.html"))


def test_what_is_written_holds_nothing_of_the_preview(tmp_path: Path) -> None:
    """No byte of the ribbon, of the live script or of a draft is in the site's files."""
    root = make_journal(
        tmp_path / "bench", {"draft": leaf("Drafted", more="draft: true\n"), "open": leaf("Open")}
    )
    _written(root)
    files = [path.read_bytes() for path in (root / "output").rglob("*") if path.is_file()]

    assert len(files) > 5
    assert not [
        words
        for words in (b"not published", b"/-/", b"sitegen-live", b"Drafted")
        for f in files
        if words in f
    ]


def test_a_preview_changes_nothing_that_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """All pages looked at, drafts too, with the store that `write` takes next: journal and output stay as they were.

    The site is, to the byte, one that is written with an empty store; no file of it names a draft.
    """
    photo = io.BytesIO()
    Image.effect_noise((640, 480), 40).convert("RGB").save(photo, "JPEG")
    root = make_journal(
        tmp_path / "bench",
        {
            "draft": leaf("Drafted", more="draft: true\n"),
            "later": leaf("Postponed", "tomato", "publish: 2026-06-01\n"),
            "open": leaf("Open"),
            "fifth": leaf("Fifth"),
        },
    )
    for run in ("draft", "open"):
        path = root / f"seasons/one/{run}/photos/day-3.jpg"
        path.parent.mkdir()
        path.write_bytes(photo.getvalue())
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "fresh"))
    assert publish(root, TODAY).outcome is not None
    wanted = _tree(root / "output")
    before = _tree(root)
    monkeypatch.setenv("SITEGEN_CACHE", str(tmp_path / "shared"))
    with Memo() as shared:
        shown = whole(Previewer(root, TODAY, shared))
        seen = [body(shown, address) for address in _addresses(shown)]
    kept = _tree(root)
    shutil.rmtree(root / "output")
    assert publish(root, TODAY).outcome is not None

    assert sum("Drafted" in text for text in seen) > 3
    assert kept == before
    assert _tree(root / "output") == wanted
    assert not [file for file, content in wanted.items() if b"Drafted" in content or b"Postponed" in content]


def _addresses(shown: Preview) -> set[str]:
    """Every page that links lead to from the home page; photos and data are asked for on the way."""
    found, waiting = {"index.html"}, ["index.html"]
    while waiting:
        address = waiting.pop()
        for link in re.findall(r'(?:href|src)="([^"#?:]+)', body(shown, address)):
            target = os.path.normpath(os.path.join(os.path.dirname(address), link))  # noqa: PTH118, PTH120 - of a site
            file = shown.find(target)
            if target in found or file is None or file.page is None:
                continue
            found.add(target)
            if target.endswith(".html"):
                waiting.append(target)
            else:
                assert file.page.content
    return {address for address in found if address.endswith(".html")}


def _tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def test_what_is_kept_is_bounded(tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages by their bytes, files of themes by number; what has gone is made again when it is asked for."""
    monkeypatch.setattr("sitegen.pipeline.preview.BYTES", 60_000)
    monkeypatch.setattr("sitegen.pipeline.preview.ASSETS", 6)
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    style = root / "look/assets/look.css"
    style.parent.mkdir(parents=True)
    looks = Previewer(root, TODAY, memo)
    kept, texts = [], list[str]()
    for turn in range(4):
        style.write_text(f"p {{ order: {turn} }}\n", "utf-8")
        shown = whole(looks, "look/assets/look.css")
        texts = [body(shown, address) for address in (ONE, "experiments/two.html", "methods.html")]
        memory = looks._memory
        size = sum(each.size for each in memory.results.values())
        kept.append((size <= 60_000 or len(memory.results) == 1, len(memory.assets) <= 6))

    assert kept == [(True, True)] * 4
    assert sum(map(len, texts)) > 60_000
    assert ["First" in texts[0], "Second" in texts[1]] == [True, True]


def test_an_experiment_with_errors_is_shown_as_it_last_was(tmp_path: Path, memo: Memo) -> None:
    """The others are new, the broken one stays on its page and in the lists; its error is told, and goes."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First title"), "two": leaf("Second title")})
    looks = Previewer(root, TODAY, memo)
    assert "First title" in body(whole(looks), ONE)
    (root / ONE_LOG).write_text(leaf("Broken title", more="plnats: 2\n"), "utf-8")
    (root / "seasons/one/two/experiment.yaml").write_text(leaf("Mended title"), "utf-8")
    broken = whole(looks, ONE_LOG, "seasons/one/two/experiment.yaml")
    home = body(broken, "index.html")

    assert [finding.source.file for finding in broken.errors()] == [ONE_LOG]
    assert ("First title" in home, "Mended title" in home) == (True, True)
    assert "Broken title" not in home + body(broken, ONE)
    assert "First title" in body(broken, ONE)
    (root / ONE_LOG).write_text(leaf("Mended too"), "utf-8")
    mended = whole(looks, ONE_LOG)
    assert (mended.errors(), "Mended too" in body(mended, ONE)) == ((), True)


def test_an_experiment_that_never_was_sound_is_left_out(tmp_path: Path, memo: Memo) -> None:
    """The sound ones are shown even so."""
    root = make_journal(tmp_path / "bench", {"one": "format: 1\n", "two": leaf("Second")})
    shown = whole(Previewer(root, TODAY, memo))

    assert (shown.find(ONE), bool(body(shown, "experiments/two.html"))) == (None, True)


def test_a_journal_that_cannot_be_read_stays_as_it_was(tmp_path: Path, memo: Memo) -> None:
    """From the beginning there are findings only; later, the pages are those of the last look."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    settings = (root / "journal.yaml").read_text("utf-8")
    (root / "journal.yaml").write_text("title: [", "utf-8")
    looks = Previewer(root, TODAY, memo)
    unread = whole(looks)
    (root / "journal.yaml").write_text(settings, "utf-8")
    read = whole(looks, "journal.yaml")
    (root / "journal.yaml").write_text("title: [", "utf-8")
    again = whole(looks, "journal.yaml")

    assert [bool(each.errors()) for each in (unread, read, again)] == [True, False, True]
    assert [bool(body(each, ONE)) for each in (unread, read, again)] == [False, True, True]


def test_files_lead_to_their_pages(tmp_path: Path, memo: Memo) -> None:
    """Folders of experiments and seasons, and texts."""
    root = make_journal(
        tmp_path / "bench", {"one": leaf("First")}, more={"about.md": "# About\n\nA bench.\n"}
    )

    assert whole(Previewer(root, TODAY, memo)).page_of == {
        "seasons/one/one": "experiments/one.html",
        "seasons/one": "seasons/one.html",
        "about.md": "about.html",
    }


def test_a_page_is_made_when_it_is_asked_for(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A look at an empty store makes no page; asking for one makes that one, and once."""
    root = make_journal(tmp_path / "bench", {f"n{n}": leaf(f"Number {n}") for n in range(5)})
    made: list[str] = []
    original = steps.run_pages

    def noted(inputs):  # type: ignore[no-untyped-def]
        made.append(inputs.folder.id)
        return original(inputs)

    monkeypatch.setattr(steps, "run_pages", noted)
    shown = Previewer(root, TODAY, memo).refresh()
    before = list(made)
    pages = [body(shown, "experiments/n3.html") for _ in range(2)]

    assert (before, made) == ([], ["n3"])
    assert ["Number 3" in page for page in pages] == [True, True]


def test_what_did_not_change_has_the_same_state(tmp_path: Path, memo: Memo) -> None:
    """After an edit of one log, a window on an experiment before it has nothing to swap; one on a list has."""
    earlier = leaf("Second").replace("start: 2026", "start: 2025")
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": earlier})
    looks = Previewer(root, TODAY, memo)
    before = whole(looks)
    page, *_ = [
        body(before, address) for address in (ONE, "experiments/two.html", "index.html", "methods.html")
    ]
    states = {a: state(before, a) for a in (ONE, "experiments/two.html", "index.html", "methods.html")}
    (root / ONE_LOG).write_text(leaf("First").replace("height: 9 cm", "harvest: 12 g"), "utf-8")
    after = whole(looks, ONE_LOG)
    same = {address for address, known in states.items() if known == state(after, address)}

    assert same == {"experiments/two.html", "methods.html"}
    assert page != body(after, ONE)


def state(shown: Preview, address: str) -> str:
    """What stands for a page."""
    found = shown.find(address)
    assert found is not None
    return found.state


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("look/assets/style.css", "p { color: teal }"),
        ("look/assets/look.css", "p { color: teal }"),
        ("look/assets/marks.svg", "<svg></svg>"),
        ("look/templates/home.html", "{% extends 'base.html' %}{% block main %}Own{% endblock %}"),
        ("about.md", "# About\n\nA bench.\n"),
        ("journal.yaml", "format: 1\ntitle: Another\nunits: us\n"),
        ("seasons/one/season.yaml", "title: Renamed\n"),
        ("seasons/one/one/recap.md", "All went *well*.\n"),
        (ONE_LOG, leaf("Retitled", more="was: [older]\n")),
        ("seasons/one/new/experiment.yaml", leaf("Newly begun", "tomato")),
    ],
)
def test_after_an_edit_pages_are_as_if_all_were_made_anew(
    file: str, text: str, tmp_path: Path, memo: Memo
) -> None:
    """Whatever was edited, each page has the same bytes as in a preview that starts now."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    looks = Previewer(root, TODAY, memo)
    before = bodies(whole(looks))
    (root / file).parent.mkdir(parents=True, exist_ok=True)
    (root / file).write_text(text, "utf-8")
    after, anew = whole(looks, file), whole(Previewer(root, TODAY, memo))

    assert not after.errors()
    assert bodies(after) == bodies(anew)
    assert bodies(after) != before


def test_a_deleted_experiment_is_gone(tmp_path: Path, memo: Memo) -> None:
    """Its page goes with its folder, and it stands in no list."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    looks = Previewer(root, TODAY, memo)
    whole(looks)
    shutil.rmtree(root / "seasons/one/one")
    after = whole(looks, "seasons/one/one")

    assert (after.find(ONE), "First" in body(after, "index.html"), after.errors()) == (None, False, ())


def test_a_template_that_cannot_be_filled_leaves_the_page_as_it_was(tmp_path: Path, memo: Memo) -> None:
    """The error is known once a page was asked for, and goes with the template's mending, asked for or not."""
    own = "look/templates/experiment.html"
    root = make_journal(tmp_path / "bench", {"one": leaf("First")}, more={own: "Sound {{ setup.title }}"})
    looks = Previewer(root, TODAY, memo)
    bodies = [body(whole(looks), ONE)]
    (root / own).write_text("Broken {{ nothing.there }}", "utf-8")
    broken = whole(looks, own)
    bodies.append(body(broken, ONE))
    (root / own).write_text("Mended {{ setup.title }}", "utf-8")
    mended = whole(looks, own)

    assert bodies == ["Sound First", "Sound First"]
    assert [(f.code, f.source.file) for f in broken.errors()] == [("bad-template", own)]
    assert (mended.errors(), body(mended, ONE)) == ((), "Mended First")


def test_a_fault_in_making_a_page_is_told(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An exception is a fault of ours: it says where, and ends nothing."""

    def fail(*_: object) -> None:
        raise RuntimeError("odd")

    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    shown = whole(Previewer(root, TODAY, memo))
    monkeypatch.setattr(steps, "run_pages", fail)

    assert (body(shown, ONE), shown.fault().splitlines()[-1]) == ("", "RuntimeError: odd")
    assert "First" in body(shown, "index.html")


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("electricity: 0.30 per kWh", "electricity: 0.60 per kWh"),
        ("title: Test bench", "units: us\ntitle: Test bench"),
    ],
    ids=["a price", "units"],
)
def test_a_setting_that_figures_are_made_with_is_seen(tmp_path: Path, memo: Memo, old: str, new: str) -> None:
    """The page of a run that was measured before is that of a preview which knows nothing from before."""
    prices = "prices: {currency: EUR, electricity: 0.30 per kWh}\n"
    lit = leaf("First", more="light: {lamp: bar, hours: 14 h}\n")
    lit += "  - day: 30\n    end: {why: full tub, plants: cleared}\n"
    root = make_journal(tmp_path / "bench", {"one": lit}, journal=prices)
    session = Previewer(root, TODAY, memo)
    before = body(session.refresh(), RECORD)
    path = root / "journal.yaml"
    assert old in path.read_text("utf-8")
    path.write_text(path.read_text("utf-8").replace(old, new), "utf-8")
    after = body(session.refresh(["journal.yaml"]), RECORD)

    assert "EUR" in before
    assert before != after == body(Previewer(root, TODAY, memo).refresh(), RECORD)


def test_a_fault_is_told_beside_an_error(tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page whose template cannot be filled is no reason to keep quiet about a fault in another."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    (root / "look" / "templates").mkdir(parents=True)
    (root / "look" / "templates" / "home.html").write_text("{{ unheard_of }}", "utf-8")
    shown = Previewer(root, TODAY, memo).refresh()
    body(shown, "index.html")

    def fail(*_: object) -> None:
        raise RuntimeError("odd")

    monkeypatch.setattr(steps, "run_pages", fail)
    body(shown, ONE)

    assert [finding.code for finding in shown.errors()] == ["bad-template"]
    assert shown.fault().endswith("RuntimeError: odd\n")


def test_a_change_that_was_not_reported_is_found(tmp_path: Path, memo: Memo) -> None:
    """A file that changed, came or went since the last build is named; after the next build there is none."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    looks = Previewer(root, TODAY, memo)
    whole(looks)
    (root / ONE_LOG).write_text(leaf("Retitled"), "utf-8")
    (root / "about.md").write_text("# About\n", "utf-8")
    (root / "seasons/one/two/experiment.yaml").unlink()
    files = {ONE_LOG, "about.md", "seasons/one/two/experiment.yaml"}
    unreported = looks.unreported_changes()
    whole(looks, *files)

    assert unreported == {root / file for file in files}
    assert looks.unreported_changes() == frozenset()


def test_a_journal_that_cannot_be_read_has_no_unreported_changes(tmp_path: Path, memo: Memo) -> None:
    """What was looked at in vain is not looked at again before it changes."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    looks = Previewer(root, TODAY, memo)
    whole(looks)
    (root / "journal.yaml").write_text("title: [", "utf-8")
    whole(looks, "journal.yaml")

    assert looks.unreported_changes() == frozenset()


def test_a_photo_is_shown_before_its_sizes_are_made(tmp_path: Path, memo: Memo) -> None:
    """The page says how large they will be; asked for, they are, and later they stay where they were."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    looks = Previewer(root, TODAY, memo)
    whole(looks)
    photo = root / "seasons/one/one/photos/day-3.jpg"
    photo.parent.mkdir()
    Image.effect_noise((1200, 900), 40).convert("RGB").save(photo)
    shown = whole(looks, "seasons/one/one/photos/day-3.jpg")
    address = re.findall(r"photos/one/day-3-480-\w+\.webp", body(shown, ONE))[0]
    found = shown.find(address)
    assert found is not None
    assert found.page is not None
    size = Image.open(io.BytesIO(found.page.content)).size

    assert size == (480, 360)
    assert body(whole(Previewer(root, TODAY, memo)), ONE)


def test_after_an_edit_of_the_recap_nothing_is_read_or_measured_again(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The text is on the page at once; records, facts and charts are those in memory."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    looks = Previewer(root, TODAY, memo)
    body(whole(looks), ONE)
    monkeypatch.setattr("sitegen.pipeline.engine.inputs.read_records", lambda *_: pytest.fail("read again"))
    (root / "seasons/one/one/recap.md").write_text("All went *well*.\n", "utf-8")
    page = body(whole(looks, "seasons/one/one/recap.md"), ONE)

    assert "All went <em>well</em>." in page


def test_a_page_of_a_run_that_broke_before_it_was_asked_for(tmp_path: Path, memo: Memo) -> None:
    """There is a place for it, since it was sound, and nothing to show yet."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    looks = Previewer(root, TODAY, memo)
    body(whole(looks), "index.html")
    (root / ONE_LOG).write_text(leaf("Broken", more="plnats: 2\n"), "utf-8")
    broken = whole(looks, ONE_LOG)
    found = broken.find(ONE)
    assert found is not None

    assert (found.page, found.state, broken.fault()) == (None, found.state, "")
    assert "First" in body(broken, "index.html")
    (root / ONE_LOG).write_text(leaf("Mended"), "utf-8")
    assert "Mended" in body(whole(looks, ONE_LOG), ONE)


def test_a_page_stays_where_making_it_anew_fails(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is shown as it last was beside the fault, and made as soon as it can be."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    looks = Previewer(root, TODAY, memo)
    before = body(whole(looks), ONE)
    (root / ONE_LOG).write_text(leaf("Renamed"), "utf-8")
    shown = whole(looks, ONE_LOG)
    with monkeypatch.context() as patch:
        patch.setattr(steps, "run_pages", lambda _: 1 // 0)
        failed = body(shown, ONE)
        fault = shown.fault()

    assert (failed, fault.splitlines()[0]) == (before, "Traceback (most recent call last):")
    assert fault.splitlines()[-1].startswith("ZeroDivisionError: ")
    assert "Renamed" in body(shown, ONE)
    assert shown.fault() == ""


def test_a_fault_is_told_while_its_inputs_are_the_same(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After an edit of what the page had read by then, a window has something to ask for, and the fault is no more."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")})
    looks = Previewer(root, TODAY, memo)

    def fail(inputs: Inputs) -> None:
        inputs.records()
        raise RuntimeError("odd")

    with monkeypatch.context() as patch:
        patch.setattr(steps, "run_pages", fail)
        body(whole(looks), ONE)
    before = state(whole(looks), ONE)
    (root / "seasons/one/two/experiment.yaml").write_text(leaf("Renamed"), "utf-8")
    told = whole(looks, "seasons/one/two/experiment.yaml")
    assert (told.fault().splitlines()[-1], state(told, ONE)) == ("RuntimeError: odd", before)
    (root / ONE_LOG).write_text(leaf("Renamed too"), "utf-8")
    untold = whole(looks, ONE_LOG)

    assert untold.fault() == ""
    assert state(untold, ONE) != before


def test_a_list_stays_where_its_template_fails(tmp_path: Path, memo: Memo) -> None:
    """It is shown as it last was; one that was never made is shown as far as it was filled."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First")})
    looks = Previewer(root, TODAY, memo)
    before = body(whole(looks), "index.html")
    own = root / "look/templates/home.html"
    own.parent.mkdir(parents=True)
    own.write_text("{{ unheard_of }}", "utf-8")
    broken = whole(looks, "look/templates/home.html")
    shown = body(broken, "index.html")

    assert (shown, [each.code for each in broken.errors()]) == (before, ["bad-template"])
    assert "First" in before
    assert "First" not in body(Previewer(root, TODAY, memo).refresh(), "index.html")


def test_findings_of_the_journal_and_of_pages_are_told_together(tmp_path: Path, memo: Memo) -> None:
    """Those of settings, of logs and of templates, in the order of files; errors apart from warnings."""
    more = {"look/templates/missing.html": "{{ unheard_of }}"}
    runs = {"one": leaf("First").replace("day: 20", "day: 40")}
    root = make_journal(tmp_path / "bench", runs, journal="tilte: x\n", more=more)
    shown = whole(Previewer(root, TODAY, memo))
    body(shown, "404.html")

    assert [each.code for each in shown.findings()] == ["unknown-key", "bad-template", "long-gap"]
    assert [each.code for each in shown.errors()] == [each.code for each in shown.findings() if each.is_error]


def test_a_warning_is_told_once_a_change(tmp_path: Path, memo: Memo) -> None:
    """As in writing: what was told of a file as it is, is known."""
    root = make_journal(tmp_path / "bench", {"one": leaf("First").replace("day: 20", "day: 40")})
    looks = Previewer(root, TODAY, memo)
    found = whole(looks).findings()
    told = [looks.told_before(found), looks.told_before(found)]
    (root / ONE_LOG).write_text(leaf("First").replace("day: 20", "day: 42"), "utf-8")
    found_anew = whole(looks, ONE_LOG).findings()

    assert told == [(), found]
    assert (len(found_anew), looks.told_before(found_anew)) == (1, ())


def test_which_part_of_a_journal_is_looked_at_again(
    tmp_path: Path, memo: Memo, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After an edit of a known run its folder, after one of the look that too; anything else is looked at whole."""
    more = {"about.md": "# About\n", "look/assets/look.css": "p { order: 1 }\n"}
    root = make_journal(tmp_path / "bench", {"one": leaf("First"), "two": leaf("Second")}, more=more)
    looks = Previewer(root, TODAY, memo)
    whole(looks)
    looked: list[str] = []
    read: list[str] = []
    with_folder, all_of, journal = Inventory.with_folder, module.inventory, module.read_journal
    monkeypatch.setattr(
        Inventory, "with_folder", lambda own, at, place: looked.append(place) or with_folder(own, at, place)
    )
    monkeypatch.setattr(
        module,
        "inventory",
        lambda at, *more: (looked.append("all") if at == root else 0) or all_of(at, *more),
    )
    monkeypatch.setattr(module, "read_journal", lambda at: read.append("read") or journal(at))
    seen = {}
    for name, files in {
        "a log": (ONE_LOG,),
        "two runs": (ONE_LOG, "seasons/one/two/recap.md"),
        "the look": ("look/assets/look.css",),
        "both": (ONE_LOG, "look/assets/look.css"),
        "a text": ("about.md",),
        "a season": (ONE_LOG, "seasons/one/season.yaml"),
        "an unknown run": ("seasons/one/none/experiment.yaml",),
        "nothing": (),
    }.items():
        looked.clear()
        read.clear()
        whole(looks, *files)
        seen[name] = (sorted(looked), read == ["read"])

    one, two = "seasons/one/one", "seasons/one/two"
    assert seen == {
        "a log": ([one], False),
        "two runs": ([one, two], False),
        "the look": (["look"], True),
        "both": (["look", one], True),
        **dict.fromkeys(("a text", "a season", "an unknown run", "nothing"), (["all"], True)),
    }
