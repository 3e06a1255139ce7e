"""Seeds and seedlings: no more up than sown, no more left than up, counts that never fall.

In: the context of a run. Out: findings about sowing, sprouting and thinning. Numbers of seeds may be ranges; a finding
needs a contradiction at each number of a range.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from sitegen.core.findings.finding import Finding
from sitegen.core.records.rows import SeedlingCount, Sowing, Thinning
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, total
from sitegen.core.values.units import Dimension
from sitegen.judge.context import Context, on_day, quoted, the_day


class _Up(NamedTuple):
    """A count of seedlings in some spots; `sown` are the seeds there by then."""

    event: SeedlingCount
    plants: tuple[str, ...]
    number: Quantity
    sown: tuple[Quantity, Quantity] | None

    @property
    def where(self) -> str:
        """The spots, unless they are all spots: ` in `P1``."""
        which = self.event.which
        if which is None or not which.named:
            return ""
        return "" if which.word == "all" else f" in {quoted([which.word] if which.word else which.ids)}"


def _counts(context: Context) -> tuple[_Up, ...]:
    """Every count of seedlings; `some` and `every spot` are no counts."""
    ups: list[_Up] = []
    for event in context.run.rows.of(SeedlingCount):
        if event.seedlings is not None and event.seedlings.known:
            plants = context.meant(event.which)
            ups.append(_Up(event, plants, event.seedlings, _sown(context, plants, event.day)))
    return tuple(ups)


def _sown(context: Context, plants: tuple[str, ...], until: Day) -> tuple[Quantity, Quantity] | None:
    """The seeds in some spots by a day: of the last sowing in each, and of all sowings.

    None where a sowing has no number, or one number for these and other spots together.
    """
    latest: list[Quantity] = []
    ever: list[Quantity] = []
    sowings = [e for e in context.run.rows.of(Sowing) if e.day.first <= until.last]
    for place, event in enumerate(sowings):
        about = context.about(event.which)
        spots = [plant for plant in about if plant in plants]
        if not spots:
            continue
        whole = len(spots) == len(about)
        if event.seeds is None or not event.seeds.known or not (event.each or whole):
            return None
        seeds = event.seeds.times(len(spots)) if event.each else event.seeds
        ever.append(seeds)
        later = {p for after in sowings[place + 1 :] for p in context.about(after.which)}
        latest.append(seeds.times(sum(p not in later for p in spots) / len(spots)))  # spread evenly
    if not ever:
        return None
    return total(latest, Dimension.COUNT), total(ever, Dimension.COUNT)


def _most_sown(context: Context, up: _Up) -> float | None:
    """The largest number of seeds that some spots can have had by a count, where not all sowings in them were counted.

    A number for these and other spots together may have been all in these. A count of so many `of` so many says how many
    seeds there were by then, and only later sowings add to them.
    """
    bounds = [up.event.out_of, _most_since(context, up, None)]
    for count in context.once(_counts):
        of = count.event.out_of
        if (
            of is not None
            and count.event.day.last < up.event.day.first
            and set(up.plants) <= set(count.plants)
        ):
            later = _most_since(context, up, count.event.day)
            bounds.append(None if later is None else of + later)
    return min((bound for bound in bounds if bound is not None), default=None)


def _most_since(context: Context, up: _Up, since: Day | None) -> float | None:
    """The largest number of seeds sown in the spots of a count, by it, after a day where one is given."""
    seeds = 0.0
    sowings = [e for e in context.run.rows.of(Sowing) if set(context.about(e.which)) & set(up.plants)]
    for event in sowings:
        if event.day.first > up.event.day.last or (since is not None and event.day.last <= since.first):
            continue
        if event.seeds is None or event.seeds.high is None:
            return None
        spots = len(set(context.about(event.which)) & set(up.plants))
        seeds += event.seeds.high * (spots if event.each else 1)
    return seeds if sowings else None


def _written(seeds: Quantity) -> str:
    low = f"{seeds.low:.0f}"
    if seeds.high is None:
        return f"{low} or more"
    return low if seeds.single else f"{low}-{seeds.high:.0f}"


def too_many_sprouted(context: Context) -> Iterator[Finding]:
    """No more seedlings come up than seeds were sown, in a spot or in all."""
    for up in context.once(_counts):
        most = _most_sown(context, up) if up.sown is None else up.sown[1].high
        if most is None or up.number.low <= most:
            continue
        found = _written(up.number)
        seeds = f"{most:.0f} {'seed was' if most == 1 else 'seeds were'}"
        message = f"{found} sprouted{up.where} {on_day(up.event.day)}, but only {seeds} sown"
        mend = "check the number sprouted, or correct `sow`"
        yield Finding("too-many-sprouted", up.event.source, message, mend, found, f"at most {most:.0f}")


def seeds_disagree(context: Context) -> Iterator[Finding]:
    """The seeds of `16 of 18` are the seeds sown."""
    for up in context.once(_counts):
        sown = up.sown
        of = up.event.out_of
        if sown is None or of is None or any(_holds(seeds, of) for seeds in sown):
            continue
        if sown[1].high is not None and up.number.low > sown[1].high:
            continue  # a finding of `too_many_sprouted`
        number, seeds = _written(up.number), _written(sown[1])
        message = f"`{number} of {of}` sprouted{up.where} {on_day(up.event.day)}, but {seeds} seeds were sown"
        mend = (
            f"write `{number} of {seeds}`, or correct `sow`"
            if sown[1].single
            else "check both, and correct `sow`"
        )
        yield Finding("seeds-disagree", up.event.source, message, mend, f"{of} seeds", f"{seeds} seeds")


def _holds(seeds: Quantity, number: int) -> bool:
    return seeds.low <= number and (seeds.high is None or number <= seeds.high)


def sprouted_went_down(context: Context) -> Iterator[Finding]:
    """Seedlings are counted from the start: the number never falls, unless the spots were sown again."""
    last: dict[tuple[str, ...], _Up] = {}
    for up in context.once(_counts):
        before = last.get(up.plants)
        last[up.plants] = up
        if before is None:
            yield from _below_parts(context, up, last)
            continue
        if up.number.high is None or up.number.high >= before.number.low:
            continue
        if context.resown(up.plants, before.event.day, up.event.day):
            continue
        found, least = _written(up.number), _written(before.number)
        when, now = on_day(before.event.day), on_day(up.event.day)
        message = f"{least} had sprouted{up.where} {when}; it cannot be {found} {now}"
        mend = "write how many have sprouted since sowing, those lost since included"
        yield Finding("count-went-down", up.event.source, message, mend, found, f"{least} or more")


def _below_parts(context: Context, up: _Up, last: Mapping[tuple[str, ...], _Up]) -> Iterator[Finding]:
    """A count of several spots that is below what had been counted in single ones of them."""
    parts = [
        part
        for plants, part in last.items()
        if len(plants) == 1
        and set(plants) < set(up.plants)
        and part.event.day.last < up.event.day.first
        and not context.resown(plants, part.event.day, up.event.day)
    ]
    least = sum(part.number.low for part in parts)
    if len(parts) < 2 or up.number.high is None or up.number.high >= least:
        return
    latest = max((part.event.day for part in parts), key=lambda day: day.key)
    found = _written(up.number)
    message = (
        f"{least:.0f} had sprouted by {the_day(latest)}, counted by spots; "
        f"it cannot be {found}{up.where} {on_day(up.event.day)}"
    )
    mend = "write how many have sprouted since sowing, those lost since included"
    yield Finding("count-went-down", up.event.source, message, mend, found, f"{least:.0f} or more")


def thinned_to_more(context: Context) -> Iterator[Finding]:
    """The number left in a spot is no greater than the number that came up in at least one of the spots."""
    for event in context.run.rows.of(Thinning):
        if event.left is None or not event.left.known:
            continue
        most = [
            _most_up(context, plant, event.day, context.once(_counts)) for plant in context.about(event.which)
        ]
        known = [number for number in most if number is not None]
        if len(known) < len(most) or event.left.low <= max(known, default=event.left.low):
            continue
        left, up = f"{event.left.low:.0f}", f"{max(known):.0f}"
        named = context.about(event.which) if event.which and not event.which.word else ()
        spot = quoted(named) if len(named) == 1 else "any spot"
        message = f"thinned to {left} in a spot {on_day(event.day)}, but no more than {up} came up in {spot}"
        mend = f"write `thin_to: {up}` or fewer" if max(known) else "remove `thin_to`"
        yield Finding("thinned-to-more", event.source, message, mend, left, f"at most {up}")


def _most_up(context: Context, plant: str, until: Day, counts: tuple[_Up, ...]) -> float | None:
    """The largest possible number of seedlings in a spot by a day; None where it has no bound."""
    sown = _sown(context, (plant,), until)
    bounds = [sown[0].high] if sown else []
    since = max((s.day.first for s in context.sowings(plant) if s.day.first <= until.last), default=0)
    ups = [up for up in counts if plant in up.plants and since <= up.event.day.first <= until.last]
    latest = {up.plants: up for up in ups}
    bounds += [up.number.high for up in latest.values()]
    return min((bound for bound in bounds if bound is not None), default=None)
