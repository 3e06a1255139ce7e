"""What a source leaves open: answered by the author, or decided for a reason that the draft says.

In: answers by key. Out: the answer or a default, with a line about it; the questions that are still open.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Question:
    """Something that the source leaves open: the key of its answer, what is asked, answers to choose from."""

    key: str
    asked: str
    options: tuple[str, ...]
    default: str


@dataclass(slots=True)
class Choices:
    """The answers given; what was assumed, a line each; the questions still open; the answers that were asked for."""

    given: Mapping[str, str] = field(default_factory=dict)
    assumed: list[str] = field(default_factory=list)
    open: list[Question] = field(default_factory=list)
    used: set[str] = field(default_factory=set)

    def take(self, question: Question, about: str, because: str, mend: str) -> str:
        """The answer to a question, else its default; both are said."""
        answer = self.given.get(question.key, "")
        if answer:
            self.used.add(question.key)
            self.say(f"{about}: {answer}, as you said")
            return answer
        if question.key not in {each.key for each in self.open}:
            self.open.append(question)
        self.say(f"{about}: {question.default}, {because}; if not, {mend}")
        return question.default

    def say(self, line: str) -> None:
        """Something that was assumed, once."""
        if line not in self.assumed:
            self.assumed.append(line)
