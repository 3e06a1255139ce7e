"""Notes drafted from a small journal: kinds, forms, templates of the journal's own, and what keeps them back."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from sitegen.core.facts.across import RunArms
from sitegen.core.language.wording import Wording
from sitegen.measure import ACROSS
from sitegen.notes.data import draft_data
from sitegen.notes.drafts import Wanted, draft_of
from sitegen.notes.markdown import markdown
from sitegen.pipeline.engine.inputs import Inputs
from sitegen.pipeline.notes import cards
from sitegen.pipeline.notes import material as module
from sitegen.pipeline.notes.material import Drafted, drafted, material_of
from sitegen.render import Theme
from tests.journal_maker import make_journal

TODAY = date(2026, 5, 1)
GROWN = """\
format: 1
title: {title}
crop: {crop}
system: tray
start: {start}
plants: 2
{more}log:
  - day: 0
    sow: 2 a spot
  - day: 9
    sprouted: 2 of 4
  - day: 20
    height: 9 cm
  - day: 30
    harvest: {weight}
"""
CLIPS = """\
episodes:
  - title: Begun
    link: https://episodes.example/one
    published: 2026-04-12
    length: "3:00"
    chapters:
      - {at: "0:00", title: Sowing}
      - {at: "0:40", title: Up}
      - {at: "1:30", title: Tall}
"""
BROKEN = {"look/notes/description.md": "{{ nothing_like_it }}\n"}


def grown(
    title: str, crop: str = "leaf", start: str = "2026-03-01", more: str = "", weight: str = "9 g"
) -> str:
    """An experiment without findings."""
    return GROWN.format(title=title, crop=crop, start=start, more=more, weight=weight)


def bench(folder: Path, **more: str) -> Path:
    """Runs of two crops, sown one after the other; one is planned, one a draft, one has an error."""
    planned = grown("Planned", start="2026-02-20")
    runs = {
        "b-first": grown("First", start="2026-01-01", weight="8 g"),
        "a-second": grown("Second", start="2026-02-01", more="draft: true\n", weight="7 g"),
        "c-same-day": grown("Third", start="2026-02-01", weight="6 g"),
        "broken": grown("Broken", start="2026-01-05", weight="6 parsecs"),
        "later": grown("Later", start="2026-03-05", weight="5 g"),
        "other": grown("Other", "tomato", "2026-01-01", weight="4 g"),
        "planned": planned[: planned.index("log:")] + "log: []\n",
        "run": grown("The run", more=CLIPS),
    }
    return make_journal(folder / "bench", runs, journal="address: https://example.org/\n", more=more)


def test_what_a_draft_is_made_from(tmp_path: Path) -> None:
    """The facts, words and address of the run, what is to come, its chapters, and the runs of its crop before it."""
    root = bench(tmp_path)
    found = material_of(root, "run", TODAY)
    material = found.material
    assert material is not None
    assert material.run is not None

    assert (found.errors, found.journal_files is not None) == ((), True)
    assert [each.run for each in material.earlier] == ["b-first", "a-second", "c-same-day"]
    assert material.wording == Wording("metric", "en")
    assert material.run.run == material.facts.id == "run"
    assert material.address == "https://example.org/experiments/run.html"
    assert material.outlook == ACROSS.outlook(material.run, material.earlier)
    assert material.chapters == ("0:00 Sowing", "0:40 Up", "1:30 Tall")
    assert material_of(root, "b-first", TODAY).material is not None


def test_a_run_that_ended_has_no_outlook(tmp_path: Path) -> None:
    """Nor has a planned one, which has nothing that could be compared."""
    root = bench(tmp_path)
    path = root / "seasons/one/run/experiment.yaml"
    path.write_text(path.read_text("utf-8") + "  - day: 31\n    end: {why: slow, plants: cleared}\n", "utf-8")
    ended, planned = (material_of(root, run, TODAY).material for run in ("run", "planned"))
    assert ended is not None
    assert planned is not None

    assert (ended.outlook, isinstance(ended.run, RunArms)) == (None, True)
    assert (planned.outlook, planned.run) == (None, None)


def test_cautions_stand_behind_a_draft(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each with whom it defers to."""

    class Caution:
        text, defers = "Not for eating.", "Ask someone who knows."

    monkeypatch.setattr(module, "fitting_cautions", lambda _: (Caution,))
    material = material_of(bench(tmp_path), "run", TODAY).material
    assert material is not None

    assert material.cautions == ("Not for eating. Ask someone who knows.",)


@pytest.mark.parametrize(
    ("run", "edit", "codes"),
    [
        ("broken", "", ["unknown-unit"]),
        ("none", "", []),
        ("run", "title: [", ["yaml-twist"]),
    ],
    ids=["an error", "no such run", "no journal"],
)
def test_what_keeps_notes_back(tmp_path: Path, run: str, edit: str, codes: list[str]) -> None:
    """Errors of the run or of the journal; where there is no such run, the journal is read all the same."""
    root = bench(tmp_path)
    if edit:
        (root / "journal.yaml").write_text(edit, "utf-8")
    found = material_of(root, run, TODAY)

    assert (found.material, [each.code for each in found.errors]) == (None, codes)
    assert (found.journal_files is None) is bool(edit)
    assert found.errors == tuple(each for each in found.findings if each.is_error)


def test_warnings_are_told_beside_a_draft(tmp_path: Path) -> None:
    """Those of the journal and of the run, in the order of files; those of other runs are not."""
    root = bench(tmp_path)
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "tagline: ''\n", "utf-8")
    (root / "stray.csv").write_text("a", "utf-8")
    found = material_of(root, "run", date(2026, 12, 1))

    assert found.material is not None
    assert found.errors == ()
    files = [each.source.file for each in found.findings]
    assert files == sorted(files)
    assert {"stray.csv", "seasons/one/run/experiment.yaml"} <= set(files)
    assert not [file for file in files if "later" in file]


def test_a_draft_as_text_and_as_data(tmp_path: Path) -> None:
    """What is behind it is given where it is asked for."""
    found = material_of(bench(tmp_path), "run", TODAY)
    assert found.material is not None
    draft = draft_of(found.material, Wanted("description"))
    assert draft is not None
    plain, marked = (markdown(draft, found.material.wording, plain=each) for each in (True, False))

    assert drafted(found, Wanted("description")) == Drafted(marked, {})
    assert drafted(found, Wanted("description"), plain=True) == Drafted(plain, {})
    assert drafted(found, Wanted("description"), as_data=True) == Drafted(
        marked, draft_data(draft, found.material.wording)
    )
    assert plain != marked


def test_nothing_to_follow_up(tmp_path: Path) -> None:
    """Then there is neither a text nor a fault."""
    root = bench(tmp_path)
    path = root / "seasons/one/run/experiment.yaml"
    path.write_text(path.read_text("utf-8").replace(CLIPS, ""), "utf-8")

    assert drafted(material_of(root, "run", TODAY), Wanted("follow-up")) == Drafted(None, {})


def test_a_template_of_the_journal_lays_a_draft_out(tmp_path: Path) -> None:
    """Its kind alone; one that cannot be filled is a finding, and there is no text."""
    root = bench(tmp_path, **{"look/notes/description.md": "Own: {{ title }}\n", "look/notes/post.txt": "x"})
    found = material_of(root, "run", TODAY)
    own, other = drafted(found, Wanted("description")), drafted(found, Wanted("script"))
    (root / "look/notes/description.md").write_text(BROKEN["look/notes/description.md"], "utf-8")
    broken = drafted(found, Wanted("description"))

    assert own == Drafted("Own: The run\n", {})
    assert (other.text or "").startswith("#")
    assert (broken.text, [each.code for each in broken.findings]) == (None, ["bad-template"])


def test_chapters_in_both_forms(tmp_path: Path) -> None:
    """As lines for a description, and as a file of marks; with the same data behind them."""
    found = material_of(bench(tmp_path), "run", TODAY)
    lines, marks = (drafted(found, Wanted("chapters"), vtt=each) for each in (False, True))

    assert lines.text == "0:00 Sowing\n0:40 Up\n1:30 Tall\n"
    assert (marks.text or "").startswith("WEBVTT\n")
    assert "00:01:30.000 --> 00:03:00.000" in (marks.text or "")
    assert lines.data == marks.data
    assert json.loads(json.dumps(lines.data)) == {
        "kind": "chapters",
        "chapters": [{"at": 0, "title": "Sowing"}, {"at": 40, "title": "Up"}, {"at": 90, "title": "Tall"}],
    }


def test_chapters_that_a_host_refuses(tmp_path: Path) -> None:
    """It is said why, and nothing is written."""
    found = material_of(bench(tmp_path), "later", TODAY)
    refused = drafted(found, Wanted("chapters"))

    assert (refused.text, refused.data) == (None, {})
    assert [each.code for each in refused.findings] == ["chapters-refused"]


def test_lengths_of_files_are_asked_for(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """For chapters in either form, for the data behind them, and for the material."""
    asked: list[str] = []
    monkeypatch.setattr(module, "lengths_of_clips", lambda _, run: asked.append(run.setup.id) or {"a.mp4": 7})
    given: list[object] = []
    for name in ("chapters_text", "chapters_vtt", "chapters_of"):
        original = getattr(module, name)

        def noted(*arguments: object, lengths: object, _own: object = original) -> object:
            given.append(lengths)
            return _own(*arguments, lengths=lengths)  # type: ignore[operator]

        monkeypatch.setattr(module, name, noted)
    found = material_of(bench(tmp_path), "run", TODAY)
    for vtt in (False, True):
        drafted(found, Wanted("chapters"), vtt=vtt)

    assert asked == ["run"] * 3
    assert given == [{"a.mp4": 7}] * 5


def test_words_are_in_the_language_of_the_journal(tmp_path: Path) -> None:
    """Whatever language the command speaks."""
    root = bench(tmp_path)
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "language: de\nunits: us\n", "utf-8")
    found = material_of(root, "run", TODAY)
    assert found.material is not None

    assert (found.material.wording.units, found.material.wording.language) == ("us", "de")
    assert "Tag 20" in (drafted(found, Wanted("description")).text or "")


def test_a_narration_is_held_against_the_log(tmp_path: Path) -> None:
    """In the words of the journal."""
    found = material_of(bench(tmp_path), "run", TODAY)
    (tmp_path / "said.txt").write_text(
        "We picked nine grams on day 30. It was ninety centimetres tall.\n", "utf-8"
    )
    done = module.checked(found, tmp_path / "said.txt", "said")

    assert done


def test_a_theme_nobody_has_makes_no_cards(tmp_path: Path) -> None:
    """It is a finding beside those of the journal."""
    root = bench(tmp_path)
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text("utf-8") + "theme: none\ntilte: x\n", "utf-8")
    made, findings = module.cards_of_experiment(root, "run", TODAY)

    assert (made, [each.code for each in findings]) == ((), ["unknown-key", "unknown-theme"])


def test_cards_are_of_the_run_that_is_named(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On the day that is given, in the theme of the journal."""
    given: list[tuple[Inputs, Theme]] = []
    monkeypatch.setattr(
        cards, "cards_of_run", lambda inputs, theme: given.append((inputs, theme)) or ("made", ())
    )

    assert module.cards_of_experiment(bench(tmp_path), "run", TODAY) == ("made", ())
    ((inputs, theme),) = given
    assert (inputs.name, inputs.today, theme.folders[-1].name) == ("run", TODAY, "ledger")
