"""What was done and what went wrong: losses, moves, trouble, settings, the weather of the room, notes, the end.

In: the material of a run. Out: moments, with what was done about trouble on the same day. A cause is never said.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import groupby

from sitegen.core.language.catalogue import tr
from sitegen.core.language.text import in_tub_words, listed
from sitegen.core.records.routines import Routine
from sitegen.core.records.rows import Action, Deed, Event, Trouble, Watering
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import Quantity, exactly
from sitegen.core.values.units import Dimension
from sitegen.notes.draft import AuthorWords, Number, Passage, Plants, author, passage, told
from sitegen.notes.material import Material
from sitegen.notes.moments.moment import Moment

LONGEST_NOTE = 45  # words; a longer one is for the page


def care(material: Material) -> Iterator[Moment]:
    """Everything that was done and noted, but for sowing and picking."""
    yield from _losses(material)
    yield from _moves(material)
    yield from _troubles(material)
    yield from _lamps(material)
    yield from _routines(material)
    yield from _extremes(material)
    yield from _deeds(material)
    yield from _notes(material)
    yield from _end(material)


def _losses(material: Material) -> Iterator[Moment]:
    for event in material.rows.of(Deed.LOST):
        which, on = event.which, Number("log.day", event.day, "on")
        if which is not None and which.named:
            plants = Plants(which.ids)
            said = (
                passage(
                    tr("{on_day} I lost {plants}: {what}."),
                    event.source,
                    on_day=on,
                    plants=plants,
                    what=AuthorWords(event.what.rstrip("."), inside=True),
                )
                if event.what
                else passage(tr("{on_day} I lost {plants}."), event.source, on_day=on, plants=plants)
            )
        elif which is not None and which.count:
            count = Number("log.lost.count", which.count, noun="plant")
            said = passage(tr("{on_day} I lost {count}."), event.source, on_day=on, count=count)
        else:
            said = passage(tr("{on_day} I lost some of the plants."), event.source, on_day=on)
        yield Moment("loss", told(said, _left(material, event)), event.day, some=not (which and which.named))


def _left(material: Material, event: Event) -> Passage | None:
    left = material.roster.count(event.day.last)
    later = any(
        each.day == event.day and each.entry > event.entry for each in material.rows.of(Deed.LOST, Deed.SOW)
    )
    if later or not left or not event.day.single:
        return None
    return passage(
        tr("That left {count}."), event.source, count=Number("plants.standing", left, "plain", "plant")
    )


def _moves(material: Material) -> Iterator[Moment]:
    moved: dict[int, list[Event]] = {}
    for event in material.rows.of(Deed.MOVE):
        moved.setdefault(event.entry, []).append(event)
    for events in moved.values():
        for event in events:
            if event.which is None or not event.which.named:
                continue
            on, plants = Number("log.day", event.day, "on"), Plants(event.which.ids)
            said = passage(tr("{on_day} I moved {plants}."), event.source, on_day=on, plants=plants)
            where = in_tub_words(event.tub)
            message = (
                tr("From then on it grew {where}.")
                if len(event.which.ids) == 1
                else tr("From then on they grew {where}.")
            )
            grew = passage(message, event.source, where=where)
            opened = (
                passage(tr("Then the comparison changed.")) if material.arm_of(event.which.ids[0]) else None
            )
            yield Moment("move", told(opened, said, grew, *_uncounted(material, event)), event.day)


def _uncounted(material: Material, event: Event) -> Iterator[Passage | None]:
    """That a plant that was moved counts for no arm, and how many are left on each side."""
    arms = [arm for arm in material.arms if arm.arm.kind != "varieties"]
    ids = event.which.ids if event.which else ()
    if len(arms) < 2 or not any(plant in arm.plants for plant in ids for arm in arms):
        return
    yield (
        passage(tr("It counts for neither side any more."), event.source)
        if len(ids) == 1
        else passage(tr("They count for neither side any more."), event.source)
    )
    standing = material.roster.standing(event.day.last)
    left = [sum(plant in standing for plant in material.stayed(arm)) for arm in arms]
    if len(arms) == 2:
        yield passage(
            tr("That leaves {first} against {second}."),
            event.source,
            first=Number("sets.plants", left[0], noun="plant"),
            second=Number("sets.plants", left[1], "plain", "plant"),
        )


def _troubles(material: Material) -> Iterator[Moment]:
    for event in material.rows.of(Trouble):
        on, what = Number("log.day", event.day, "on"), AuthorWords(event.what.rstrip("."), inside=True)
        which = event.which
        if which is not None and which.named and len(which.ids) < len(material.setup.plants):
            said = passage(
                tr("{on_day} there was trouble with {plants}: {what}."),
                event.source,
                on_day=on,
                plants=Plants(which.ids),
                what=what,
            )
        elif which is not None and which.count and which.of:
            said = passage(
                tr("{on_day} there was trouble with {part} of the {whole} plants: {what}."),
                event.source,
                on_day=on,
                part=Number("log.trouble.count", which.count, "plain", "plant"),
                whole=Number("log.trouble.of", which.of),
                what=what,
            )
        else:
            said = passage(tr("{on_day} there was trouble: {what}."), event.source, on_day=on, what=what)
        over = (
            passage(
                tr("It was over {by_day}."),
                event.source,
                by_day=Number("log.trouble.until", event.until, "by"),
            )
            if event.until
            else None
        )
        counted = bool(which and not which.named and which.count)
        unnamed = passage(tr("Which plants is not in my log."), event.source) if counted else None
        yield Moment("trouble", told(said, unnamed, *_done_about(material, event), over), event.day, order=1)


def _done_about(material: Material, trouble: Trouble) -> Iterator[Passage | None]:
    """What was done at the same visit."""
    for event in material.rows.events:
        if event.entry != trouble.entry:
            continue
        if event.deed is Deed.CHANGE and isinstance(event, Watering):
            amount = event.amount
            yield (
                passage(
                    tr("I changed all the water, {amount}."), event.source, amount=Number("log.water", amount)
                )
                if amount is not None and amount.known
                else passage(tr("I changed all the water."), event.source)
            )
        elif event.deed is Deed.PRUNE and isinstance(event, Action):
            yield passage(_cut(event), event.source, what=AuthorWords(event.what, inside=True))
        elif event.deed is Deed.CLEAN and isinstance(event, Action) and event.what:
            yield passage(
                tr("I cleaned this: {what}."), event.source, what=AuthorWords(event.what, inside=True)
            )
        elif event.deed is Deed.TREAT and isinstance(event, Action):
            product = next(
                (each.name for each in material.setup.products if each.id == event.product), event.what
            )
            yield (
                passage(
                    tr("I treated with {product}, by its label."),
                    event.source,
                    product=AuthorWords(product, inside=True),
                )
                if product
                else passage(tr("I treated the plants."), event.source)
            )


def _cut(event: Action) -> str:
    return tr("I cut this off: {what}.") if event.what else tr("I pruned.")


def _lamps(material: Material) -> Iterator[Moment]:
    """Changes of a lamp after the first setting of its tub."""
    hours: dict[str, Quantity | None] = {
        tub.id: tub.light.hours if tub.light else None for tub in material.setup.tubs
    }
    distance = {tub.id: tub.light.distance if tub.light else None for tub in material.setup.tubs}
    for row in material.rows.lights:
        if row.entry is None:
            continue
        on, tub = Number("log.day", row.day, "on"), row.tub or material.setup.tubs[0].id
        if row.use.off:
            yield Moment(
                "setting",
                told(passage(tr("{on_day} I turned the lamp off."), row.source, on_day=on)),
                row.day,
            )
            continue
        new, old = row.use.hours, hours.get(tub)
        if new is not None and old is not None and new != old and old.known:
            words = passage(
                tr("{on_day} I took the lamp from {before} to {hours} a day."),
                row.source,
                on_day=on,
                before=Number("log.light.hours", old, "plain"),
                hours=Number("log.light.hours", new, "own"),
            )
            yield Moment("setting", told(words), row.day)
        here, before = row.use.distance, distance.get(tub)
        if here is not None and before is not None and here != before and before.known:
            words = passage(
                tr("{on_day} I set the lamp at {distance} above the plants."),
                row.source,
                on_day=on,
                distance=Number("log.light.distance", here),
            )
            yield Moment("setting", told(words), row.day, order=1)
        hours[tub], distance[tub] = new or old, here or before


def _routines(material: Material) -> Iterator[Moment]:
    """A routine of feed that begins, and one whose dose changes; products of one dose are told together."""
    before: dict[str, Quantity] = {}
    rows = [row for row in material.rows.routines if row.what == "feed" and row.amount is not None]
    for entry, alike in groupby(rows, key=lambda row: (row.entry, row.amount)):
        products = {row.product: row for row in alike}
        first, (_, amount) = next(iter(products.values())), entry
        names = [each.name for each in material.setup.products if each.id in products] or list(products)
        old = {before[product] for product in products if product in before}
        before |= dict.fromkeys(products, amount)
        product = AuthorWords(listed(names), inside=True)
        if not old:
            words = _begun(first, product, several=len(products) > 1)
            yield Moment("setting", told(words), first.day, order=2)
        elif old != {amount}:
            words = passage(
                tr("{on_day} I went from {before} to {amount} of {product}."),
                first.source,
                on_day=Number("log.day", first.day, "on"),
                before=Number("log.routine.amount", min(old, key=lambda each: each.low), "plain"),
                product=product,
                amount=Number("log.routine.amount", amount, "own"),
            )
            yield Moment("setting", told(words), first.day, order=2)


def _begun(row: Routine, product: AuthorWords, *, several: bool) -> Passage | None:
    """The beginning of a routine: at each refill, or as often as the log says."""
    values: dict[str, Number | AuthorWords] = {
        "from_day": Number("log.day", row.day, "from"),
        "product": product,
        "amount": Number("log.routine.amount", row.amount),
    }
    if not row.at_each_filling:
        often = AuthorWords(row.often, inside=True)
        return (
            passage(tr("{from_day} I fed {product}, {amount}, {often}."), row.source, often=often, **values)
            if row.often
            else passage(tr("{from_day} I fed {product}, {amount}."), row.source, **values)
        )
    if several:
        return passage(
            tr("{from_day} each refill came with {product}, {amount} of each."), row.source, **values
        )
    return passage(tr("{from_day} each refill came with {product}, {amount}."), row.source, **values)


def _extremes(material: Material) -> Iterator[Moment]:
    """The hottest reading of a sensor in the air."""
    days = material.facts.climate.air_daily
    exports = [each for each in material.rows.exports if each.name == "air_temperature"]
    if len(days) < 2 or not exports:
        return
    hottest = max(days, key=lambda each: each.high)
    if sum(each.high == hottest.high for each in days) > 1:
        return
    words = passage(
        tr("{on_day} the logger wrote its highest number: {temperature}."),
        exports[0].source,
        on_day=Number("air.day", Day.on(hottest.day), "on"),
        temperature=Number("air.high", exactly(hottest.high, Dimension.TEMPERATURE, 0.1)),
    )
    yield Moment("extreme", told(words), Day.on(hottest.day))


def _deeds(material: Material) -> Iterator[Moment]:
    """Training and pruning of their own, beside no trouble."""
    troubled = {event.entry for event in material.rows.of(Trouble)}
    for event in material.rows.of(Deed.PRUNE, Deed.TRAIN):
        if event.entry in troubled or not event.what:
            continue
        on, what = Number("log.day", event.day, "on"), AuthorWords(event.what.rstrip("."), inside=True)
        which = event.which
        if which is not None and which.named and len(which.ids) < len(material.setup.plants):
            message = (
                tr("{on_day} I pruned {plants}: {what}.")
                if event.deed is Deed.PRUNE
                else tr("{on_day} I trained {plants}: {what}.")
            )
            words = passage(message, event.source, on_day=on, plants=Plants(which.ids), what=what)
        else:
            message = (
                tr("{on_day} I pruned: {what}.")
                if event.deed is Deed.PRUNE
                else tr("{on_day} I trained: {what}.")
            )
            words = passage(message, event.source, on_day=on, what=what)
        yield Moment(
            "pick", told(words), event.day, some=bool(which and not which.named and which.count is None)
        )


def _notes(material: Material) -> Iterator[Moment]:
    """Notes in the author's words; long ones are for the page."""
    for entry in material.rows.entries:
        for note in material.notes(entry.index):
            if len(note.what.split()) <= LONGEST_NOTE or entry.tell == "always":
                said = author(note.what, note.source)
                yield Moment("note", told(said), entry.day, order=3)


def _end(material: Material) -> Iterator[Moment]:
    end = material.facts.run.ended
    if end is None:
        return
    on = Number("log.day", end.day, "on")
    several = len(material.setup.tubs) > 1
    if end.kept:
        said = passage(tr("{on_day} I ended the run and kept the plants."), end.source, on_day=on)
    elif several and end.kept is False:
        said = passage(tr("{on_day} I cleared the tubs."), end.source, on_day=on)
    elif end.kept is False:
        said = passage(tr("{on_day} I cleared the tub."), end.source, on_day=on)
    else:
        said = passage(tr("{on_day} the run ended."), end.source, on_day=on)
    why = (
        passage(tr("The reason: {why}."), end.source, why=AuthorWords(end.what.rstrip("."), inside=True))
        if end.what
        else None
    )
    yield Moment("end", told(said, why), end.day, order=5)
