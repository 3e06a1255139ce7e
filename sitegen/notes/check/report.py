"""The report on a narration: a line a claim, with its time, its words and the verdict; the same as data.

In: a transcript, facts. Out: `Checked`. What is wrong cannot be unsaid: the report offers a line for `corrections`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from sitegen.core.facts.tree import Facts
from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import clock, plural
from sitegen.core.language.wording import Wording
from sitegen.notes.check.claims import Claim
from sitegen.notes.check.known_of import Log, everything_known
from sitegen.notes.check.saying import named
from sitegen.notes.check.sentences.spoken import Spoken, claims_in
from sitegen.notes.check.sentences.transcript import read_transcript
from sitegen.notes.check.unsaid import Unsaid
from sitegen.notes.check.verdicts import Judge, Outcome, Verdict

CHECK_FORMAT = 1
TITLE = "title"


@dataclass(frozen=True, slots=True)
class Checked:
    """The verdicts on a narration, those on its title first; `findings` say what could not be read."""

    claims: tuple[Verdict, ...] = ()
    findings: tuple[Finding, ...] = ()
    titled: int = 0
    wording: Wording = field(default_factory=Wording)
    experiment: str = ""

    @property
    def wrong(self) -> tuple[Verdict, ...]:
        """What the log contradicts."""
        return tuple(each for each in self.claims if each.outcome is Outcome.WRONG)

    def text(self) -> str:
        """The report."""
        lines = [_line(verdict, titled=n < self.titled) for n, verdict in enumerate(self.claims)]
        corrections = list(self._corrections())
        if corrections:
            lines += [
                "",
                "What was said cannot be unsaid. Once the episode is out, under `corrections` of experiment.yaml:",
            ]
            lines += corrections
        return "\n".join([*lines, *([""] if lines else []), self._summary()]) + "\n"

    def _summary(self) -> str:
        if not self.claims:
            return "No number was found in it."
        counts = Counter(verdict.outcome for verdict in self.claims)
        parts = [
            f"{counts[Outcome.RIGHT] + counts[Outcome.SAY]} right",
            *([f"of these {counts[Outcome.SAY]} with something to say"] if counts[Outcome.SAY] else []),
            f"{counts[Outcome.WRONG]} wrong",
            f"{counts[Outcome.NOT_PLACED]} not placed",
        ]
        return f"{plural(len(self.claims), 'number')}: {', '.join(parts)}."

    def _corrections(self) -> Iterator[str]:
        for verdict in self.claims:
            if (
                verdict.outcome is Outcome.WRONG
                and verdict.known is not None
                and "correction" not in verdict.text
            ):
                said = " ".join(verdict.claim.words.split()).replace('"', "”")
                true = named(verdict.known, self.wording).replace('"', "”")
                yield f'  - {{date: DATE, text: "{true}; not {said}, as said in the episode."}}'

    def data(self) -> dict[str, Any]:
        """The same as data."""
        return {
            "format": CHECK_FORMAT,
            "experiment": self.experiment,
            "claims": [_data(verdict, titled=n < self.titled) for n, verdict in enumerate(self.claims)],
            "findings": [
                {"code": each.code, "place": str(each.source), "message": each.message, "mend": each.mend}
                for each in self.findings
            ],
        }


def _line(verdict: Verdict, *, titled: bool) -> str:
    claim = verdict.claim
    when = TITLE if titled else clock(int(claim.at)) if claim.at is not None else f"line {claim.line}"
    return f"{when:>7}  {' '.join(claim.words.split())}: {verdict.text}"


def _data(verdict: Verdict, *, titled: bool) -> dict[str, Any]:
    claim = verdict.claim
    return {
        "where": TITLE if titled else "narration",
        "seconds": claim.at,
        "line": claim.line,
        "words": claim.words,
        "sentence": claim.sentence,
        "kind": str(claim.kind),
        "verdict": str(verdict.outcome),
        "text": verdict.text,
        "lines": [str(source) for source in verdict.sources],
    }


def check_narration(path: Path, facts: Facts, wording: Wording, language: str, title: str = "") -> Checked:
    """Hold what was spoken, and a title, against the facts of a run."""
    transcript = read_transcript(path)
    judge = Judge(everything_known(facts, wording.language), Unsaid(Log.of(facts), wording))
    run = facts.run
    in_title = claims_in(title, run, language) if title else ()
    spoken = Spoken(run, language).claims(transcript.sentences)
    of_title = held(judge, in_title)
    return Checked((*of_title, *held(judge, spoken)), transcript.findings, len(of_title), wording, run.id)


def held(judge: Judge, claims: Iterable[Claim]) -> tuple[Verdict, ...]:
    """The verdicts on claims, without the days that a verdict on another number of their sentence tells."""
    verdicts = [judge.verdict(claim) for claim in claims]
    told = {
        _said_of(each.claim)
        for each in verdicts
        if not each.claim.told
        and each.known is not None
        and each.known.day is not None
        and not each.known.constant
    }
    return tuple(each for each in verdicts if not each.claim.told or _said_of(each.claim) not in told)


def _said_of(claim: Claim) -> tuple[str, int, int] | None:
    """The sentence of a claim and the day that it is of."""
    day = claim.subject.day
    return (claim.sentence, day.first, day.last) if day else None
