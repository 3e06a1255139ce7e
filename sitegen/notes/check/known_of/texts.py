"""The numbers in the author's own words of the log: notes, tastings, troubles.

In: a log and its language. Out: `Known`s that say what the words say.
"""

from __future__ import annotations

from collections.abc import Iterator

from sitegen.core.records.rows import Event
from sitegen.notes.check.claims import Kind
from sitegen.notes.check.known import Known
from sitegen.notes.check.known_of.log import Log, stems, topics
from sitegen.notes.check.sentences.spoken import claims_in

_TOPIC_OF = {"taste": "taste", "trouble": "trouble", "lost": "lost"}
_KINDS = frozenset({Kind.AMOUNT, Kind.COUNT, Kind.PART, Kind.DAYS, Kind.NUMBER})


def known_texts(log: Log, language: str) -> tuple[Known, ...]:
    """All of it."""
    return tuple(known for event in log.rows.events if event.what for known in _of(log, event, language))


def _of(log: Log, event: Event, language: str) -> Iterator[Known]:
    for claim in claims_in(event.what, log.facts.run, language):
        reading = claim.readings[0]
        if reading.kind not in _KINDS:
            continue
        about = claim.subject.topics | topics(*filter(None, (_TOPIC_OF.get(event.deed, ""),)))
        yield Known(
            reading.kind,
            reading.low,
            reading.high,
            f"in the words of the log (“{event.what}”)",
            about,
            reading.dimension if reading.kind is not Kind.COUNT else None,
            f"{claim.words}",
            event.day,
            noun=claim.subject.noun,
            wholes=(reading.of,) if reading.of else (),
            words=stems(event.what),
            quote=True,
            sources=(event.source,),
        )
