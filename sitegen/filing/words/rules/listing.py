"""All rules: the words, and the key that each gives.

In: the rules of every subject. Out: `RULES`, and the table that is printed.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.filing.words.atoms import Rule
from sitegen.filing.words.rules import deeds, growth, picks, readings, solution

RULES: tuple[Rule, ...] = (*growth.RULES, *solution.RULES, *readings.RULES, *deeds.RULES, *picks.RULES)


def rule_lines() -> Iterator[tuple[str, str]]:
    """Each key, with its value where the words give one, and the words: for printing."""
    for rule in RULES:
        named = f"{rule.key}: {rule.value}" if rule.value else rule.key
        yield named, ", ".join((*rule.english, *rule.german))
