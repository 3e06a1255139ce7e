"""Single values as they are written: amounts, days, dates, prices, plants, addresses, names of photos."""

# ruff: noqa: E501 - seeds and tokens are read by the line

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator
from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.language.wording import Wording
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.filing.dates import date_at, number_at
from sitegen.filing.written_days import day_at
from sitegen.ingest.photo_names import is_photo_name
from sitegen.ingest.photos import Header, date_in_name, day_taken
from sitegen.ingest.values import dates, identifiers, prices, quantities
from sitegen.ingest.values.clock import parse_clock
from sitegen.ingest.values.plants import PlantNames, name_parts, parse_which, plants_named
from sitegen.ingest.yaml.nodes import Scalar
from tests.fuzz.target import Run, Target, hold
from tests.fuzz.targets.journals import WORDS, report
from tests.ingest.builders import scalar

TODAY = dt.date(2026, 11, 28)
# Dimensions that a key of the format wants.
_COMPUTED = {"PRESSURE", "LIGHT_SUM", "HEAT_SUM", "DAYS", "PPM_500", "PPM_640", "PPM_700"}
_WANTED = tuple(each for each in Dimension if each.name not in _COMPUTED)
_PLANTS = ("P1", "P2", "P3", "P4", "Tall", "Tall-2")
_SEEDS = (
    b"84 g", b"about 1 lb 4 oz by eye", b"8-9 in", b"12+ g", b"~\xc2\xbd tsp", b"7.1, then 5.9", b"20 ml per L", b"2 of 6", b"21 \xc2\xb0C", b"pH 6.1",
    b"three inches", b"1' 4\"", b"1,330 g", b"4.60 kg", b"15 ml/gal", b"1.2 mS/cm", b"850 ppm 500", b"60 %", b"14 h", b"9.50 per 500 ml", b"EUR 0.3 per kWh",
    b"2025-10-19", b"19 Oct 2025", b"10/11/2025", b"October 2025", b"day 26", b"26-28", b"about 3", b"2025-10-19 14:30", b"yesterday", b"12. Juli",
    b"P1-P3", b"P1, P3", b"P1 and P2", b"all", b"2 of 4", b"all but P2", b"the tall ones", b"https://example.org/a?b=c", b"CC-BY-4.0", b"EUR",
    b"12:30", b"1:02:03", b"IMG_20251019_143000.jpg", b"day-26-roots.JPG", b"2025-10-19-leaf.webp", b"unweighed", b"at least 9 cm", b"some",
)  # fmt: skip


def _prepare(_folder: Path) -> Run:
    """The first character of an input chooses a dimension and the words that an amount is said in."""
    names = PlantNames(
        _PLANTS,
        (("early", _PLANTS[:2]), ("late", _PLANTS[2:])),
        ("left", "right"),
        _PLANTS,
        (("P1", "left"),),
    )
    says = [Wording("metric"), Wording("us"), Wording("metric", "de")]

    def run(data: bytes) -> object:
        text, first = data[1:].decode("utf-8", "replace"), data[0] if data else 0
        one, findings = scalar(text), Findings()
        amount = quantities.parse_quantity(one, _WANTED[first % len(_WANTED)], findings, "amount")
        if amount is not None:
            _is_interval(amount)
            wording = says[first % len(says)]
            hold(wording.say(amount) and wording.as_measured(amount), "nothing is said")
        readers = _READERS[first % len(_READERS)]
        found = [amount, *(read(one, findings) for read in readers)]
        found += [parse_which(one, names, findings, "plants"), plants_named(text, names), _address(text)]
        return found, report(tuple(findings))

    return run


_Read = Callable[[Scalar, Findings], object]
_START = Start(dt.date(2025, 10, 1), "day")
_READERS: tuple[tuple[_Read, ...], ...] = (
    (
        lambda one, found: quantities.parse_steps(one, Dimension.ACIDITY, found, "ph"),
        lambda one, found: quantities.parse_whole(one, found, "count"),
        lambda one, found: quantities.parse_number(one, found, "scale"),
        lambda one, found: quantities.parse_time_of_day(one, found, "from"),
        lambda one, found: quantities.parse_dose(one, found, "feed"),
        lambda one, found: parse_clock(one, "at", found),
    ),
    (
        lambda one, found: dates.parse_date(one, "date", found),
        lambda one, found: dates.parse_date(one, "date", found, dt.date(2025, 10, 1)),
        lambda one, found: dates.parse_day(one, "day", found),
        lambda one, _: date_at(one.text),
        lambda one, _: number_at(one.text),
        lambda one, _: day_at(one.text, 0, TODAY),
    ),
    (
        lambda one, found: prices.parse_price(one, Dimension.MASS, found),
        lambda one, found: prices.parse_price(one, None, found),
        lambda one, found: identifiers.parse_link(one, "link", found),
        identifiers.parse_licence,
        identifiers.parse_currency,
        lambda one, _: name_parts(one.text),
        lambda one, _: day_taken(
            Header(taken="2025-10-19T14:30:00", offset=one.text[:9]), one.text, _START, "Europe/Berlin"
        ),
        lambda one, _: (date_in_name(one.text), is_photo_name(one.text)),
    ),
)


def _is_interval(amount: Quantity) -> None:
    hold(abs(amount.low) < 1e300, f"no number: {amount.low}")
    hold(
        amount.high is None or amount.low <= amount.high < 1e300,
        f"not an interval: {amount.low} to {amount.high}",
    )


def _address(text: str) -> str:
    found = slug(text)
    hold(all(sign.isalnum() or sign == "-" for sign in found), f"an address of {found!r}")
    return found


def _seeds() -> Iterator[bytes]:
    for seed in _SEEDS:
        yield from (b"%c%s" % (first, seed) for first in range(ord("0"), ord("0") + len(_WANTED)))


TARGETS = (
    Target("values", _prepare, _seeds, ("ingest/values", "filing/dates.py", "filing/written_days.py", "core/values"),
           "sitegen.ingest.values.quantities:_read", tokens=(*WORDS, *_SEEDS), longest=200),
)  # fmt: skip
