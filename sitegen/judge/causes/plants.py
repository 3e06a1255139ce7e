"""Plants and seeds that several records contradict: too few plants, a sowing too late, a loss too early.

In: the context of a run, its findings. Out: one finding at the number of plants, at the sowing or at the loss.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence

from sitegen.core.findings.finding import Finding
from sitegen.core.language.text import listed, plural
from sitegen.core.records.rows import Deed, Sowing
from sitegen.core.values.day import Day
from sitegen.judge.causes.start import of_code
from sitegen.judge.context import Context, on_day, quoted, the_day

_NUMBERED = re.compile(r"P(\d+)(?:\s*-\s*P(\d+))?")
_PLANT = re.compile(r"`([^`]+)`")


def plants_too_few(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A number of plants beyond which the log names some."""
    ids = context.run.setup.plant_ids
    if ids != tuple(f"P{number}" for number in range(1, len(ids) + 1)) or not ids:
        return
    unknown = [
        (each.found, last)
        for each in of_code(findings, "unknown-plant")
        if (name := _NUMBERED.fullmatch(each.found)) and (last := int(name[2] or name[1])) > len(ids)
    ]
    beyond = sorted({last for _, last in unknown})
    # `P7` and `P8` of six plants, and not `P12`, which is a slip of `P2`.
    if len(unknown) < 2 or beyond != list(range(len(ids) + 1, len(ids) + len(beyond) + 1)):
        return
    named = list(dict.fromkeys(name for name, _ in unknown))
    message = (
        f"`plants` makes {len(ids)}, but {quoted(named)} {'is' if len(named) == 1 else 'are'} named "
        f"in {len(unknown)} places"
    )
    mend = f"write `plants: {beyond[-1]}`, or check those places"
    source, expected = context.run.setup.at("plants"), f"plants: {beyond[-1]}"
    yield Finding("plants-too-few", source, message, mend, ", ".join(named), expected)


def name_unlike_log(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A group or tub that the log never names, and names nearly so in several places."""
    setup, used = context.run.setup, _names_used(context)
    unknown = of_code(findings, "unknown-plant")
    number, mends = Counter(each.found for each in unknown), {each.found: each.mend for each in unknown}
    tubs = tuple(tub.id for tub in setup.tubs)
    for key, names in (("groups", tuple(name for name, _ in setup.groups)), ("tubs", tubs)):
        for name in names:
            words = [word for word, mend in mends.items() if mend == f"write `{name}`" and number[word] > 1]
            if name in used or len(words) != 1:
                continue
            word = words[0]
            message = f"the log never names `{name}`, but `{word}` in {number[word]} places"
            mend = f"write `{word}` for `{name}` under `{key}`"
            yield Finding("name-unlike-log", setup.at(key), message, mend, word, word)


def _names_used(context: Context) -> set[str]:
    rows = context.run.rows
    records = (*rows.events, *rows.readings, *rows.picks, *rows.tallies, *rows.milestones)
    words = {each.which.word for each in records if each.which is not None}
    return words | {each.tub for each in (*rows.events, *rows.readings)}


def sown_after_records(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A sowing that several records of its plants come before."""
    early: dict[Sowing, list[Finding]] = defaultdict(list)
    for each in of_code(findings, "never-sown"):
        plant = _PLANT.match(each.message)
        sowings = context.sowings(plant[1]) if plant else ()
        if sowings and " day -" not in each.message:  # a record before the start has a finding of its own
            early[min(sowings, key=lambda sowing: sowing.day.first)].append(each)
    for sowing, found in early.items():
        if len(found) < 2:
            continue
        names = list(dict.fromkeys(_PLANT.findall(each.message)[0] for each in found))
        message = (
            f"sown {on_day(sowing.day)}, but {plural(len(found), 'record')} of {quoted(names)} are earlier"
        )
        mend = "check the day of this sowing, or write an earlier `sow`"
        yield Finding("sown-after-records", sowing.source, message, mend, the_day(sowing.day))


def lost_before_records(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A loss that several records of the plant come after."""
    later: dict[str, list[Finding]] = defaultdict(list)
    for each in of_code(findings, "lost-plant"):
        if plant := _PLANT.match(each.message):
            later[plant[1]].append(each)
    for name, found in later.items():
        losses = [event for event in context.run.rows.of(Deed.LOST) if name in context.about(event.which)]
        if len(found) < 2 or not losses:
            continue
        loss = losses[0]
        lines = listed([str(each.source.line) for each in found[:3]])
        more = " and further" if len(found) > 3 else ""
        message = (
            f"`{name}` was lost {on_day(loss.day)}, but {len(found)} later records are of it "
            f"(lines {lines}{more})"
        )
        mend = "check the day, or which plant was lost"
        yield Finding("lost-before-records", loss.source, message, mend, f"`{name}`", "no record of it after")


def seeds_unlike_counts(context: Context, findings: Sequence[Finding]) -> Iterator[Finding]:
    """A number of seeds that several counts of seedlings, or plants left, disagree with."""
    codes = ("seeds-disagree", "too-many-sprouted", "thinned-to-more")
    unlike = [each for code in codes for each in of_code(findings, code)]
    sowings = context.run.rows.of(Sowing)
    if len(unlike) < 2 or len(sowings) != 1:
        return
    sowing = sowings[0]
    lines = listed([str(line) for line in sorted({each.source.line for each in unlike})[:4]])
    message = f"{len(unlike)} later numbers do not fit the seeds sown {_when(sowing.day)} (lines {lines})"
    mend = "check the number of seeds under `sow`, or those numbers"
    yield Finding("seeds-unlike-counts", sowing.source, message, mend)


def _when(day: Day) -> str:
    return "here" if day.first == 0 else on_day(day)
