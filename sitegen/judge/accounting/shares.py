"""Tubs that two runs share: what each says of them.

In: a run, the other runs that it names, the ids of all runs. Out: findings where they contradict each other.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import product

from sitegen.core.findings.finding import Finding, sorted_findings
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.routines import Light
from sitegen.core.records.rows import Run
from sitegen.core.records.setup import LampUse, SharedTub
from sitegen.core.records.sharing import counterpart, days_later, never_met
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity
from sitegen.judge.context import amount, the_day


def judge_shares(run: Run, others: Mapping[str, Run | None], known: Collection[str]) -> tuple[Finding, ...]:
    """The findings about the shared tubs of a run; a run that cannot be read has findings of its own."""
    return sorted_findings(
        finding for share in run.setup.shares for finding in _findings(run, share, others, known)
    )


def _findings(
    run: Run, share: SharedTub, others: Mapping[str, Run | None], known: Collection[str]
) -> Iterator[Finding]:
    if share.run == run.id:
        message = f"`{run.id}` shares a tub with itself"
        yield Finding(
            "shares-itself", share.source, message, "name the other run, or remove `shares`", share.run
        )
        return
    if share.run not in known:
        message = f"`{share.run}` is not an experiment of this journal"
        yield Finding(
            "unknown-experiment",
            share.source,
            message,
            did_you_mean(share.run, [each for each in known if each != run.id]),
            share.run,
        )
        return
    other = others.get(share.run)
    if other is None:
        return
    theirs = counterpart(share, run, other)
    if theirs is None:
        message = f"`{other.id}` does not say that it shares a tub with `{run.id}`{_which(run, share)}"
        mend = (
            f"write `shares: {{with: {run.id}}}` in its experiment.yaml too, with `tub` where it has several"
        )
        yield Finding("shared-one-sided", share.source, message, mend, expected="shares")
        return
    if other.id < run.id:  # a contradiction of two is found once
        return
    if never_met(run, other):
        message = f"`{run.id}` and `{other.id}` were not there at the same time"
        mend = "mend the start or the end of one of them, or remove `shares` from both"
        yield Finding("never-shared", share.source, message, mend)
    yield from _differences(run, share, other, theirs)


def _which(run: Run, share: SharedTub) -> str:
    return f", here `{share.tub}`" if len(run.setup.tubs) > 1 else ""


def _differences(run: Run, share: SharedTub, other: Run, theirs: SharedTub) -> Iterator[Finding]:
    """One tub has one system, and one lamp that is set one way on a day."""
    ours, there = run.setup.tub(share.tub).system, other.setup.tub(theirs.tub).system
    if ours.id != there.id:
        message = f"the shared tub is `{ours.id}` here and `{there.id}` in `{other.id}`"
        mend = "write the same system in both"
        yield Finding("shared-differs", share.source, message, mend, ours.id, there.id)
    later = days_later(run, other)
    if later is None:
        return
    for mine, other_light in product(_lights(run, share.tub), _lights(other, theirs.tub)):
        (use, first, until), (other_use, other_first, other_until) = mine, other_light
        begins = max(first, other_first + later)
        if begins >= min(until, other_until + later):
            continue
        said = _unlike(use, other_use)
        if said is not None:
            message = (
                f"on {the_day(Day.on(begins))} the lamp of the shared tub is {said[0]} here and {said[1]} in "
                f"`{other.id}`"
            )
            mend = "write the same in both, or leave the lamp out of one of them"
            yield Finding("shared-differs", share.source, message, mend, said[0], said[1])
            return


_Lit = tuple[LampUse, int, int]


def _lights(run: Run, tub: str) -> Iterator[_Lit]:
    """The settings of a tub's lamp, each with its first certain day and the day from which it may be over."""
    alone = len(run.setup.tubs) == 1
    rows: Sequence[Light] = sorted(
        (row for row in run.rows.lights if row.tub == tub or (alone and not row.tub)),
        key=lambda row: (row.day.key, row.source),
    )
    ends = [*(row.day.first for row in rows[1:]), run.last_day + 1]
    for row, end in zip(rows, ends, strict=False):  # without a row there is no end either
        yield row.use, row.day.last, end


def _unlike(use: LampUse, other: LampUse) -> tuple[str, str] | None:
    """Two settings in words where they cannot both hold."""
    if use.off != other.off:
        return ("off", "on") if use.off else ("on", "off")
    if use.off:
        return None
    if use.lamp and other.lamp and use.lamp.id != other.lamp.id:
        return f"`{use.lamp.id}`", f"`{other.lamp.id}`"
    if use.hours and other.hours and _apart(use.hours, other.hours):
        return f"on for {amount(use.hours)}", f"on for {amount(other.hours)}"
    return None


def _apart(one: Quantity, other: Quantity) -> bool:
    """Whether two amounts have no value in common."""
    if one.about or other.about or one.by_eye or other.by_eye:
        return False
    below = one.high is not None and one.high < other.low
    return below or (other.high is not None and other.high < one.low)
