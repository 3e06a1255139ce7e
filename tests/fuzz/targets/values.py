"""Single values as they are written: amounts, days, dates, prices, plants, addresses, names of photos."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from pathlib import Path

from sitegen.core.findings.finding import Findings
from sitegen.core.language.wording import Wording
from sitegen.core.site.addresses import slug
from sitegen.core.values.day import Start
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension
from sitegen.filing.dates import date_at, number_at
from sitegen.filing.written_days import day_at
from sitegen.ingest.photos import Header, date_in_name, day_taken, is_photo_name
from sitegen.ingest.values import dates, identifiers, prices, quantities
from sitegen.ingest.values.clock import parse_clock
from sitegen.ingest.values.plants import PlantNames, name_parts, parse_which, plants_named
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
    names = PlantNames(_PLANTS, (("early", _PLANTS[:2]), ("late", _PLANTS[2:])), ("left", "right"), _PLANTS, (("P1", "left"),))
    says = [Wording(units, language) for units, language in (("metric", "en"), ("us", "en"), ("metric", "de"))]
    start = Start(dt.date(2025, 10, 1), "day")

    def run(data: bytes) -> object:
        text = data.decode("utf-8", "replace")
        one, findings, found = scalar(text), Findings(), list[object]()
        for dimension in _WANTED:
            amount = quantities.parse_quantity(one, dimension, findings, "amount")
            found.append(amount)
            if amount is not None:
                _round_trip(amount, says)
        found += [
            quantities.parse_steps(one, Dimension.ACIDITY, findings, "ph"),
            quantities.parse_whole(one, findings, "count"),
            quantities.parse_number(one, findings, "scale"),
            quantities.parse_time_of_day(one, findings, "from"),
            quantities.parse_dose(one, findings, "feed"),
            parse_clock(one, "at", findings),
            dates.parse_date(one, "date", findings),
            dates.parse_date(one, "date", findings, dt.date(2025, 10, 1)),
            dates.parse_day(one, "day", findings),
            prices.parse_price(one, Dimension.MASS, findings),
            prices.parse_price(one, None, findings),
            identifiers.parse_link(one, "link", findings),
            identifiers.parse_licence(one, findings),
            identifiers.parse_currency(one, findings),
            parse_which(one, names, findings, "plants"),
            plants_named(text, names),
            name_parts(text),
            date_at(text),
            number_at(text),
            day_at(text, 0, TODAY),
            day_taken(Header(taken="2025-10-19T14:30:00", offset=text[:9]), text, start, "Europe/Berlin"),
            date_in_name(text),
            is_photo_name(text),
            _address(text),
        ]
        return found, report(tuple(findings))

    return run


def _round_trip(amount: Quantity, says: Iterable[Wording]) -> None:
    """An amount is an interval, and can be said."""
    hold(amount.low == amount.low and abs(amount.low) < 1e300, f"no number: {amount.low}")
    hold(amount.high is None or amount.low <= amount.high < 1e300, f"not an interval: {amount.low} to {amount.high}")
    for wording in says:
        hold(wording.say(amount), "nothing is said")
        wording.as_measured(amount)


def _address(text: str) -> str:
    found = slug(text)
    hold(all(sign.isalnum() or sign == "-" for sign in found), f"an address of {found!r}")
    return found


TARGETS = (
    Target("values", _prepare, lambda: _SEEDS, ("ingest/values", "filing/dates.py", "filing/written_days.py", "core/values"),
           "sitegen.ingest.values.quantities:_number", tokens=(*WORDS, *_SEEDS), longest=200),
)  # fmt: skip
