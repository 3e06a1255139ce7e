"""Notes of random logs: none of them stops, no sentence has an empty value, no figure another value than its own."""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

from hypothesis import given, settings

from sitegen.notes.markdown import markdown
from tests.notes.materials import drafts_of, in_journal, misnamed, sentences_of
from tests.random_journals import JOURNALS, RandomJournal

# A value that is missing leaves two spaces, a space before a stop, or a word of Python behind.
_EMPTY = re.compile(r"  |\s[.,;?!]|\(\)|^[.,;]|\bNone\b|\bnan\b|\{|\}")


@settings(max_examples=settings().max_examples * 3 // 10)  # a journal takes a quarter of a second
@given(JOURNALS)
def test_no_log_stops_the_notes_or_leaves_a_value_empty(journal: RandomJournal) -> None:
    """Every kind of notes is drafted from any log, in both languages and systems of units."""
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder)
        journal.write(root)
        for run in journal.experiments:
            material = in_journal(root, run)
            drafts = drafts_of(material)
            assert len(drafts) >= 6
            for draft in drafts:
                assert markdown(draft, material.wording)
                assert not misnamed(draft, material)
                for sentence in sentences_of(draft, material):
                    assert not _EMPTY.search(sentence), (draft.kind, sentence)
