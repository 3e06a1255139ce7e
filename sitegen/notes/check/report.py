"""The verdicts on a narration as a report: a line for each number, and a line to put into the log for what was wrong.

In: verdicts. Out: text, data. What was said in a published episode cannot be unsaid: a correction is offered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import clock, plural
from sitegen.core.language.wording import Wording
from sitegen.notes.check.transcript import Sentence, read_transcript
from sitegen.notes.check.verdicts import Outcome, Verdict, verdicts_on

CHECK_FORMAT = 1
_OUTCOMES: tuple[Outcome, ...] = ("right", "right, say", "wrong", "not placed")


@dataclass(frozen=True, slots=True)
class Checked:
    """A narration that was held against the log of an experiment."""

    experiment: str
    verdicts: tuple[Verdict, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def wrong(self) -> tuple[Verdict, ...]:
        """What the log contradicts."""
        return tuple(each for each in self.verdicts if each.outcome == "wrong")

    def text(self) -> str:
        """A line for each number, in the order in which they were spoken, and a summary."""
        return "\n".join(self._lines()) + "\n"

    def _lines(self) -> Iterator[str]:
        for each in self.verdicts:
            yield f"{_time(each.sentence)}“{each.claim.text}”: {each.outcome}: {each.why}{_places(each)}"
            yield f"        {each.sentence.text}"
        counts = Counter(each.outcome for each in self.verdicts)
        said = ", ".join(f"{counts[outcome]} {outcome}" for outcome in _OUTCOMES if counts[outcome])
        yield f"{plural(len(self.verdicts), 'number')}: {said}" if said else "no number was spoken"
        if self.wrong:
            yield "\nIf it was published, say so in experiment.yaml; one line for each:"
            yield "corrections:"
            yield from (
                f"  - {{date: YYYY-MM-DD, text: {_quoted(_correction(each))}}}" for each in self.wrong
            )

    def data(self) -> dict[str, Any]:
        """The same as data."""
        return {
            "format": CHECK_FORMAT,
            "experiment": self.experiment,
            "claims": [
                {
                    "at": each.sentence.start,
                    "sentence": each.sentence.text,
                    "said": each.claim.text,
                    "verdict": each.outcome,
                    "why": each.why,
                    "lines": [str(source) for source in each.sources],
                }
                for each in self.verdicts
            ],
        }


def check_narration(path: Path, facts: Facts, wording: Wording, title: str = "") -> Checked:
    """A narration held against the facts of a run; `title` is that of the episode, checked with it."""
    sentences, findings = read_transcript(path)
    spoken = (*((Sentence(title),) if title else ()), *sentences)
    verdicts = () if findings else verdicts_on(spoken, facts, wording, wording.language)
    return Checked(facts.id, verdicts, findings)


def _time(sentence: Sentence) -> str:
    return "" if sentence.start is None else f"{clock(int(sentence.start)):>5}  "


def _places(verdict: Verdict) -> str:
    lines = list(dict.fromkeys(source.line for source in verdict.sources))[:4]
    return f" (line {', '.join(map(str, lines))})" if lines else ""


def _correction(verdict: Verdict) -> str:
    said = verdict.why.partition("; the number itself")[0]
    return f"The episode says “{verdict.claim.text}”; {said}."


def _quoted(text: str) -> str:
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'
