"""`sitegen notes`: kinds, length, files that keep their edits, what was spoken, and what is asked wrongly."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest

from sitegen.app.console.status import Status
from sitegen.app.main import status_of
from sitegen.app.notes import KINDS, command
from sitegen.core.language.catalogue import using_catalogue
from sitegen.ingest import read_journal
from sitegen.notes import drafts
from sitegen.notes.draft import AuthorWords, Passage, Section
from sitegen.notes.kinds.script import words_of
from sitegen.notes.speech.speech import Speech
from tests.conftest import DEMO, TODAY
from tests.journal_maker import make_journal
from tests.notes.golden import UNWEIGHED
from tests.notes.materials import drafts_of, in_journal, passages_of

RUN = "pebble-two-lamps"


def _notes(*more: str, journal: Path = DEMO, run: str = RUN) -> int:
    return status_of(["notes", run, "--journal", str(journal), "--today", str(TODAY), *more])


def test_the_script_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    """Without options: the script as Markdown, each sentence with its lines in a comment."""
    assert _notes() == Status.DONE
    printed = capsys.readouterr().out
    assert printed.startswith("# Pebble Lantern under two lamps\n")
    sentences = [line for line in printed.splitlines() if line.endswith("  ") and not line.startswith("*")]
    assert len(sentences) > 40
    assert sum("<!-- experiment.yaml:" in line for line in sentences) > 40


@pytest.mark.parametrize("minutes", [1, 2, 4])
def test_minutes_leave_out_whole_parts(minutes: int, capsys: pytest.CaptureFixture[str]) -> None:
    """The script has no more words than there is time for, unless what is never left out has; the rest is listed."""
    assert _notes("--json") == Status.DONE
    whole = {each["title"]: each for each in json.loads(capsys.readouterr().out)["sections"]}
    assert _notes("--json", "--minutes", str(minutes), "--rate", "150") == Status.DONE
    data = json.loads(capsys.readouterr().out)
    said = " ".join(each["text"] for section in data["sections"] for each in section["sentences"])
    kept_anyway = all((section["score"] or 0) >= 1000 for section in data["sections"])
    assert len(said.replace("-", " ").split()) <= 150 * minutes or kept_anyway
    assert data["left_out"]
    assert [each["score"] for each in data["left_out"]] == sorted(each["score"] for each in data["left_out"])
    assert {each["title"] for each in data["left_out"]} == whole.keys() - {
        s["title"] for s in data["sections"]
    }
    assert all(section["sentences"] == whole[section["title"]]["sentences"] for section in data["sections"])


@pytest.mark.parametrize("length", [120, 200, 280])
def test_a_post_keeps_to_its_length(length: int, capsys: pytest.CaptureFixture[str]) -> None:
    """A post is cut by whole sentences."""
    assert _notes("--kind", "post", "--plain", "--length", str(length)) == Status.DONE
    assert 40 < len(capsys.readouterr().out.strip()) <= length


def test_plain_text_has_no_marks(capsys: pytest.CaptureFixture[str]) -> None:
    """What is pasted under an episode has no comments and no headings' marks."""
    assert _notes("--kind", "description", "--plain") == Status.DONE
    printed = capsys.readouterr().out
    assert "<!--" not in printed
    assert not re.search(r"^#|\*\*", printed, re.MULTILINE)
    assert "- Harvest: at least 1.33\u00a0kg (2\u00a0lb 15\u00a0oz); one pick was not weighed\n" in printed
    assert "https://example.org/ropewalk/bench/experiments/pebble-two-lamps.html" in printed


def test_a_file_keeps_its_edits(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Written, written again, edited: then it is left as it is and the difference is printed."""
    file = tmp_path / "script.md"
    assert _notes("-o", str(file)) == Status.DONE
    assert _notes("-o", str(file)) == Status.DONE
    assert capsys.readouterr().err == f"{file}: written\n{file}: unchanged\n"
    file.write_text(file.read_text().replace("Day zero", "The first day"))
    assert _notes("-o", str(file)) == Status.ERRORS
    printed = capsys.readouterr()
    assert "-The first day was the fifth of April." in printed.out
    assert "+Day zero was the fifth of April." in printed.out
    assert "was left as it is" in printed.err
    assert "The first day" in file.read_text()


def test_a_draft_that_would_be_a_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Without its comments a draft beside journal.yaml would be taken for a page: there it is refused."""
    root = make_journal(tmp_path / "journal", {RUN: UNWEIGHED})
    plain = ("--kind", "description", "--plain", "-o")

    assert _notes(*plain, str(root / "text.md"), journal=root) == Status.USAGE
    assert "would be a page of the site" in capsys.readouterr().err
    assert not (root / "text.md").exists()
    assert _notes(*plain, str(tmp_path / "text.md"), journal=root) == Status.DONE
    assert _notes("-o", str(root / "script.md"), journal=root) == Status.DONE
    found, _ = read_journal(root)
    assert found is not None
    assert found.pages == ()


def test_chapters_as_text_and_as_captions(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Chapters are printed as lines, and written to a `.vtt` file as WebVTT."""
    assert _notes("--kind", "chapters", run="bean-signal-box") == Status.DONE
    assert capsys.readouterr().out.startswith("0:00 Sowing\n")
    file = tmp_path / "chapters.vtt"
    assert _notes("--kind", "chapters", "-o", str(file), run="bean-signal-box") == Status.DONE
    assert file.read_text().startswith("WEBVTT\n")


def test_chapters_that_a_host_would_refuse(capsys: pytest.CaptureFixture[str]) -> None:
    """A run without clips has no chapters, and a finding says what to write."""
    assert _notes("--kind", "chapters", run="emberfrill-hot-loft") == Status.ERRORS
    assert "error[chapters-refused]" in capsys.readouterr().err


def test_cards_are_pictures_in_a_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Each card is there as SVG and as PNG in both formats; one that was changed is kept."""
    make_journal(tmp_path / "journal", {"amber": UNWEIGHED})
    folder = tmp_path / "cards"
    assert _notes("--kind", "cards", run="amber", journal=tmp_path / "journal") == Status.USAGE
    assert (
        _notes("--kind", "cards", "-o", str(folder), run="amber", journal=tmp_path / "journal") == Status.DONE
    )
    names = {path.name for path in folder.iterdir()}
    assert {"day-000-16x9.png", "day-000-16x9.svg", "day-000-9x16.png", "day-000-9x16.svg"} <= names
    (folder / "day-000-16x9.svg").write_text("mine")
    capsys.readouterr()
    assert (
        _notes("--kind", "cards", "-o", str(folder), run="amber", journal=tmp_path / "journal")
        == Status.ERRORS
    )
    assert "day-000-16x9.svg` was changed" in capsys.readouterr().err


def test_what_was_spoken(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """1 where the log contradicts a narration, 0 where it does not."""
    file = tmp_path / "narration.txt"
    file.write_text("Eleven of the twelve seeds came up.", "utf-8")
    assert _notes("--check", str(file)) == Status.DONE
    file.write_text("I moved plant three on day sixty-three.", "utf-8")
    assert _notes("--check", str(file), "--json") == Status.ERRORS
    printed = capsys.readouterr().out
    assert json.loads(printed[printed.index("{") :])["claims"][0]["verdict"] == "wrong"


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["pebble-two-lamp"], "there is no experiment `pebble-two-lamp`: write `pebble-two-lamps`"),
        (["basil-on-a-wick", "--kind", "follow-up"], "no episode of `basil-on-a-wick` says how far it told"),
        ([str(DEMO)], "is a journal: name one of its experiments"),
    ],
)
def test_what_is_asked_wrongly(
    arguments: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A mistake on the command line is named with what to write instead."""
    assert status_of(["notes", *arguments, "--journal", str(DEMO)]) == Status.USAGE
    assert message in capsys.readouterr().err


def test_a_run_with_errors_has_no_notes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is wrong in the log is reported instead."""
    make_journal(tmp_path, {"amber": UNWEIGHED.replace("plants: 3\n", "plants: many\n")})
    assert _notes(run="amber", journal=tmp_path) == Status.ERRORS
    assert "error[" in capsys.readouterr().err


def test_a_template_of_the_journal(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """`look/notes/KIND.md` lays a kind of notes out, and an error in it is a finding."""
    more = {"look/notes/post.md": "{{ title }}, {{ facts.last_entry }}\n"}
    make_journal(tmp_path, {"amber": UNWEIGHED}, more=more)
    assert _notes("--kind", "post", run="amber", journal=tmp_path) == Status.DONE
    assert capsys.readouterr().out == "Amber without a scale, day\u00a095\n"
    (tmp_path / "look/notes/post.md").write_text("{{ titel }}")
    assert _notes("--kind", "post", run="amber", journal=tmp_path) == Status.ERRORS
    assert "look/notes/post.md:1" in capsys.readouterr().err


def test_every_kind_of_every_run(capsys: pytest.CaptureFixture[str]) -> None:
    """Planned runs and those from memory have notes too; none of them is empty."""
    for run in ("carrot-flood-pots", "lettuce-on-the-sill"):
        for kind in [each for each in KINDS if each not in ("chapters", "cards", "follow-up")]:
            assert _notes("--kind", kind, run=run) == Status.DONE
            assert len(capsys.readouterr().out) > 20


# German: words of ours that are no German ones. "in", "links", "Format" and the like are words of both.
_ENGLISH = re.compile(
    r"\b(?:the|and|of|were|with|from|days|plant|plants|picked|pick|weighed|came|first|last|that|this|there|had|"
    r"nothing|ounces?|grams?|litres?|about|nearly|between|by|on|to|it|is|not|tub|lamp)\b"
)


def test_german_drafts_have_no_english_word(tmp_path: Path) -> None:
    """Our own words of every kind of notes are German in a German journal; those of the author stay as they are."""
    journal = tmp_path / "journal"
    shutil.copytree(DEMO, journal, ignore=shutil.ignore_patterns("drawing"))
    settings = journal / "journal.yaml"
    settings.write_text(settings.read_text("utf-8").replace("language: en", "language: de"), "utf-8")
    files, _ = read_journal(journal)
    assert files is not None
    looked = 0
    for run in (RUN, "emberfrill-hot-loft", "cinder-beside-pebble", "bean-signal-box"):
        with using_catalogue(files.catalogue):
            material = in_journal(journal, run)
            for draft in drafts_of(material):
                speech = Speech(material.wording, spoken=draft.spoken)
                for passage in passages_of(draft):
                    own = [part for part in passage.parts if not isinstance(part, AuthorWords)]
                    said = "".join(speech.part(part) for part in own)
                    looked += 1
                    assert not _ENGLISH.search(said), (draft.kind, said)
    assert looked > 300


def test_the_command_offers_what_there_is() -> None:
    """Every kind that can be drafted is offered, and the defaults are those of the drafts."""
    assert set(KINDS) == {*drafts.KINDS, "chapters", "cards"}
    defaults = {each.name: each.default for each in command.params}
    wanted = drafts.Wanted()
    assert (defaults["kind"], defaults["rate"], defaults["length"]) == (
        wanted.kind,
        wanted.rate,
        wanted.length,
    )


def test_words_are_counted_as_they_are_spoken() -> None:
    """Words joined by a hyphen are two."""
    material = in_journal(DEMO, RUN)
    section = Section(Passage(()), (Passage(("Day ninety-eight, at last.",)),))
    assert words_of(section, Speech(material.wording, spoken=True)) == 5
