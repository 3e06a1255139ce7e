"""The author's verdict as a sentence.

In: the answer of a set-up. Out: text. The reason is the author's own word and is not reworded.
"""

from __future__ import annotations

from sitegen.core.setup import Answer
from sitegen.core.tongue import noted, tr

__all__ = ["verdict_words"]

VERDICTS = {"again": noted("Again"), "not again": noted("Not again"), "undecided": noted("Undecided")}
# A reason that begins with one of these goes on from the verdict instead of explaining it.
JOINING = [
    "but",
    "because",
    "since",
    "as",
    "if",
    "though",
    "although",
    "unless",
    "only",
    "when",
    "with",
    "in",
    "and",
    "for",
]


def verdict_words(answer: Answer | None) -> str:
    """`Again: it fruited.`, `Again, but in a bigger bucket.`; nothing without an answer."""
    if answer is None:
        return ""
    word = VERDICTS[answer.verdict]
    verdict, why = tr(word), answer.why.strip().rstrip(".")
    if not why:
        return f"{verdict}."
    joins = why.split()[0].rstrip(",").lower() in JOINING
    return f"{verdict}, {why[:1].lower()}{why[1:]}." if joins else f"{verdict}: {why}."
