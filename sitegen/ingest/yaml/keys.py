"""The keys of the format by what their values may be, for whatever reads YAML.

In: the tables of the format. Out: sets of keys. What looks for mistakes (`line_checks`, `structure_checks`, `pitfalls`)
is imported where there is one: its patterns take longer to compile than most files take to be read.
"""

from __future__ import annotations

from sitegen.core.format import TABLES
from sitegen.core.format.entry import LOG_KEYS
from sitegen.core.format.fields import Form

# Keys whose value is a sentence: only there a cut-off remainder is distinguished from a comment.
_SENTENCES = (
    "why what title question before disclosure summary tagline text alt name grade source asked answer"
)
_IN_WORDS = (Form.TEXT, Form.CLIPS, Form.DEED, Form.SCORE, Form.END)
TEXT_KEYS = frozenset(_SENTENCES.split()) | {
    key for key, row in LOG_KEYS.items() if row.form in _IN_WORDS and row.dimension is None
}
FIELDS = tuple(field for table in TABLES.values() for field in table.fields)
# Those of them that never hold a list or a mapping.
ONLY_TEXT = TEXT_KEYS - {field.key for field in FIELDS if field.form is not Form.TEXT}
KNOWN_KEYS = frozenset(field.key for field in FIELDS)
# Keys of the log that hold one mapping, where they hold more than a text.
_F = Form
_WITHOUT_LISTS = (_F.DEED, _F.TREATMENT, _F.LOST, _F.MOVES, _F.LIGHT, _F.STAGES, _F.DOSES, _F.ROUTINE, _F.END)
ONE_MAPPING = frozenset(key for key, row in LOG_KEYS.items() if row.form in _WITHOUT_LISTS)


def lines_of(text: str) -> list[str]:
    """The lines of a text as YAML counts them."""
    for rare in "\x85\u2028\u2029":
        text = text.replace(rare, "\n")
    return text.split("\n")
