"""What is typed or spoken: an inbox, lines of `sitegen log`, entries that they become, transcripts."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.language.hidden_characters import without_hidden
from sitegen.core.language.wording import Wording
from sitegen.filing.entries.append import CannotAppendError, appending, with_entry
from sitegen.filing.entries.entry_text import text_value
from sitegen.filing.inbox.lines import first_loose, read_inbox, texts_of
from sitegen.filing.inbox.placing import Unplaced, placed
from sitegen.filing.words.understanding import understood
from sitegen.ingest.yaml.nodes import Items, Mapping, Scalar
from sitegen.ingest.yaml.parser import parse
from sitegen.notes.check.known_of import Log, everything_known
from sitegen.notes.check.report import Checked, held
from sitegen.notes.check.sentences.spoken import Spoken
from sitegen.notes.check.sentences.transcript import read_transcript
from sitegen.notes.check.unsaid import Unsaid
from sitegen.notes.check.verdicts import Judge
from sitegen.pipeline.filing.meaning import as_written, meant
from tests.filing.inbox.test_lines import RUNS, TODAY
from tests.filing.words.runs import RUNS as KNOWN
from tests.filing.words.runs import spoken_lines
from tests.fuzz.target import Run, Target, hold
from tests.fuzz.targets.journals import KEYS, TESTS, WORDS, texts
from tests.render.builders import facts, full_run

_DAYS = (b"day 3: ", b"day 4, ", b"3 March: ", b"2026-03-04 ", b"12.3. ", b"today: ", b"heute ", b"basil", b"basil-sill: ", b"lettuce", b"# basil\n", b"- ", b"  ", b"\n\n", b"yesterday", b"3/4 ")  # fmt: skip
_SAID = (b"P1", b"plants 1-3", b"all", b"9 cm", b"nine inches", b"84 g", b"two", b"half a", b"litres", b"ph 7.1 then 5.9", b"watered", b"fed", b"picked", b"sowed", b"died", b"first flower", b"height:", b"note: ", b"leaf mix", b"ml per L", b"gegossen", b"geerntet", b"Gramm", b"lamp off", b"and", b", ", b"; ", b". ", b"not", b"about", b"at least")  # fmt: skip


def _inbox(_folder: Path) -> Run:
    def run(data: bytes) -> object:
        inbox = read_inbox(data, RUNS, TODAY)
        hold(b"".join(piece.text for piece in inbox.pieces({})) == data, "the pieces are not the inbox")
        places = dict.fromkeys(range(0, len(inbox.visits), 2), "a.yaml")
        pieces = inbox.pieces(places)
        hold(
            b"".join(piece.text for piece in pieces) == data,
            "the pieces are not the inbox where some go to a file",
        )
        lines = sorted(number for visit in inbox.visits for number in visit.lines)
        hold(len(lines) == len(set(lines)), "a line is of two visits")
        hold(not set(lines) & set(inbox.loose), "a line is of a visit and of none")
        told = [(texts_of(visit.text), placed(visit, RUNS, TODAY)) for visit in inbox.visits]
        return (
            inbox,
            [(said, where if isinstance(where, Unplaced) else where.id) for said, where in told],
            list(first_loose(inbox)),
        )

    return run


def _inbox_seeds() -> Iterator[bytes]:
    yield b"basil day 3: watered\n  2 L\nand fed\n\n  much later\n\nbuy twine\nand cups\n\nday 4: x\n"
    yield b"# basil\nday 31\nP1 9 cm\nlettuce: 3 leaves\n\n3 March basil: picked 9 g\r\ntoday: a\n"
    yield b"\xef\xbb\xbf- lettuce, 2026-03-04, height:\n  P1: 9 cm\n  P2: 8 cm\n12.3. basil: note: |\n  long\n  text\n"
    yield from (
        b"basil day %d: %s\n" % (n, line.text.encode())
        for n, line in enumerate(spoken_lines())
        if n % 12 == 0
    )


def _words(_folder: Path) -> Run:
    """The run that a line is about is chosen by its first character."""
    known = tuple(KNOWN.values())

    def run(data: bytes) -> object:
        which = known[(data[0] if data else 0) % len(known)]
        text = data[1:].decode("utf-8", "replace")
        told = [understood(text, which), meant([text], which), meant([text], which, as_words=True)]
        # What begins with a key goes into the file as it is, and is read there before anything is written.
        for each in told[:1] if as_written(text) else told:
            fields = [*each.fields, *([("note", text_value(each.note))] if each.note else [])]
            _is_entry(with_entry(b"log:\n", "day: 3", fields), [key for key, _ in fields], each.note)
        return told

    return run


def _is_entry(content: bytes, keys: list[str], note: str) -> None:
    """A log with one entry of these keys; its note is the same as was said."""
    findings = Findings()
    tree = parse(content.decode(), "f.yaml", findings)
    if any(finding.code == "nested-too-deep" for finding in findings):  # also by brackets in words
        return
    hold(isinstance(tree, Mapping), f"no mapping: {content!r}")
    assert isinstance(tree, Mapping)
    log = tree.pairs[0].value
    hold(
        len(tree.pairs) == 1 and isinstance(log, Items) and len(log.items) == 1, f"not one entry: {content!r}"
    )
    assert isinstance(log, Items)
    entry = log.items[0]
    assert isinstance(entry, Mapping)
    hold([pair.key.text for pair in entry] == ["day", *keys], f"other keys than {keys}: {content!r}")
    said = next((pair.value for pair in entry if pair.key.text == "note" and keys.count("note") == 1), None)
    if note and isinstance(said, Scalar):
        hold(said.text.split() == without_hidden(note).split(), f"another note: {said.text!r}, not {note!r}")


def _word_seeds() -> Iterator[bytes]:
    runs = list(KNOWN)
    # The first character gives the number of the run again.
    yield from (
        bytes([ord("0") + (runs.index(line.run) - ord("0")) % len(runs)]) + line.text.encode()
        for line in spoken_lines()
    )


def _append(_folder: Path) -> Run:
    """An entry put into any file; the first line of the input is its note."""

    def run(data: bytes) -> object:
        note, _, content = data.partition(b"\n")
        text = note.decode("utf-8", "replace")
        try:
            change = appending(content, "day: 3", [("note", text_value(text))])
        except CannotAppendError as error:
            return str(error)
        after = change.made(content)
        hold(content[: change.offset] == after[: change.offset], "what stands before it has changed")
        rest = content[change.offset + len(change.removed) :]
        hold(after.endswith(rest), "what stands behind it has changed")
        before_findings, after_findings = Findings(), Findings()
        before = parse(content.removeprefix(b"\xef\xbb\xbf").decode(), "f.yaml", before_findings)
        if not len(before_findings) and isinstance(before, Mapping):
            made = parse(after.removeprefix(b"\xef\xbb\xbf").decode(), "f.yaml", after_findings)
            too_deep = any(finding.code == "nested-too-deep" for finding in after_findings)
            hold(
                too_deep or (made is not None and not len(after_findings)),
                f"it is no YAML any more: {[f.message for f in after_findings]}",
            )
        return after

    return run


def _append_seeds() -> Iterator[bytes]:
    yield from (b"watered 2 L\n" + text for text in texts("/experiment.yaml")[:60])
    yield from (
        b"a: b # c\n" + log
        for log in (
            b"log: []\n",
            b"log:\n- day: 1\n",
            b"log:\r\n  - {day: 1}\r\n",
            b"log: # x\n\nother: 1\n",
            b"log:\n  - day: 1\n    note: |\n      a\n\n",
            b"log: ~",
        )
    )


def _transcript(folder: Path) -> Run:
    """The first character is the ending and the language."""
    measured = facts(full_run())
    endings, languages = (
        (".vtt", ".srt", ".txt"),
        (("en", Wording()), ("de", Wording("metric", "de")), ("en-US", Wording("us"))),
    )

    # What is known of the run is put together once: it takes as long as fifty transcripts.
    judges = {
        language: Judge(everything_known(measured, wording.language), Unsaid(Log.of(measured), wording))
        for language, wording in languages
    }

    def run(data: bytes) -> object:
        first = data[0] - ord("0") if data else 0
        path = folder / f"said{endings[first % 3]}"
        path.write_bytes(data[1:])
        language, wording = languages[first // 3 % 3]
        transcript, judge = read_transcript(path), judges[language]
        found = held(judge, Spoken(measured.run, language).claims(transcript.sentences))
        checked = Checked(found, transcript.findings, 0, wording, measured.run.id)
        return checked.text(), checked.data()

    return run


def _transcripts() -> Iterator[bytes]:
    yield b"0WEBVTT\n\nNOTE x\n\n00:00:01.000 --> 00:00:03.000\n<v Ann>We picked 1.33 kg on the 12. of\n\n00:01:02.500 --> 00:01:05.000 align:left\nJuly &amp; more. It gave 196 grams!\n"
    yield b"11\n00:00:01,000 --> 00:00:03,000\nOn day\n\n2\n00:00:04,000 --> 00:00:05,000\nninety-eight. Four plants, two of them.\n"
    yield b"2The first flower on day forty-one. We filled eight litres, 2 1/2 ml of syrup; a third of it. Nine inches tall on day 30.\n"
    yield b"5Am 12. Juli waren es drei Pflanzen. Zweihundertvierzehn Gramm, anderthalb Liter, halb so viel.\n\nCa. vier am 3. Tag.\n"
    yield b"8pH 7.1, then 5.9; twenty-five percent of 4 plants. Twice as much. $3.50. 1,330 g. half past two\n"
    yield from (b"2" + path.read_bytes()[:2000] for path in sorted((TESTS / "notes").rglob("*.txt"))[:6])
    yield from (b"2" + text[:1500] for text in texts("recap.md")[-4:])


_SPEECH = (
    b"00:00:01.000 --> 00:00:02.000\n", b"-->", b"WEBVTT\n", b"NOTE ", b"STYLE\n", b"REGION\n", b"<v A>", b"</v>", b"<c.x>", b"&nbsp;", b"1\n", b"99:99:99,999", b"two hundred and fourteen", b"a third", b"half a",
    b"grams", b"on day", b"the first of June", b"twenty-", b"million", b"point five", b"per cent", b"zwei", b"und", b"hundert", b"einhalb", b"Gramm", b"times", b"twice", b"dozen", b"to", b"minus", b"plants", b". ", b"? ",
)  # fmt: skip

TARGETS = (
    Target("inbox", _inbox, _inbox_seeds, ("filing/inbox/lines.py", "filing/inbox/run_names.py", "filing/inbox/placing.py", "filing/written_days.py", "filing/dates.py"),
           "sitegen.filing.inbox.lines:_begun", tokens=(*_DAYS, *_SAID), longest=1500),
    Target("words", _words, _word_seeds, ("filing/words", "filing/entries/entry_text.py"), "sitegen.filing.words.line:Line.__new__",
           tokens=(*_SAID, *WORDS, *KEYS), longest=400),
    Target("entry", _append, _append_seeds, ("filing/entries/append.py", "filing/entries/entry_text.py"), "sitegen.filing.entries.append:_place",
           tokens=(*KEYS, *WORDS), longest=2500),
    Target("transcript", _transcript, _transcripts, ("notes/check", "core/language/number_words"), "sitegen.notes.check.sentences.transcript:_text",
           tokens=_SPEECH, longest=1500),
)  # fmt: skip
