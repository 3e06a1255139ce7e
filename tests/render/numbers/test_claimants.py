"""Who claims something for the seed: each figure and sentence names whoever the log names, and never a packet instead."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from babel.messages.pofile import read_po
from hypothesis import given
from hypothesis import strategies as st

import sitegen.words
from sitegen.core.facts.figure import figures
from sitegen.core.language.figure_words import remarks_words
from sitegen.core.language.wording import Wording
from sitegen.core.records.setup import Claims, Seed
from sitegen.core.site.site_map import SiteMap
from sitegen.core.values.day import Day
from sitegen.core.values.quantity import exactly
from sitegen.core.values.units import Dimension
from sitegen.measure import measure
from sitegen.render.numbers.figures import FigureBook
from sitegen.render.numbers.used import used
from tests.measure.test_random_runs import FEWER, HEAD, PRICES, RUNS, Run

CLAIMED = ("germination.claims.seed", "growth.rate.claim", "harvest.timing.claim", "harvest.timing.expected")
WHO = st.sampled_from(("", "the packet", "the grower", "the maker", "a neighbour"))
SEEDS = st.builds(
    lambda source, by, days, since, height, share: Seed(
        source=source,
        claims=Claims(
            Day.on(days),
            since,
            exactly(height, Dimension.LENGTH, 1),
            exactly(share, Dimension.SHARE, 1),
            by,
        ),
    ),
    st.sampled_from(("", "swap table", "saved from a fruit")),
    WHO,
    st.integers(10, 90),
    st.sampled_from(("sowing", "transplant", "")),
    st.integers(5, 90),
    st.integers(10, 100),
)


def test_no_message_of_the_site_speaks_of_a_packet() -> None:
    """Only the author's own words do: a claim is the packet's where the log says so."""
    with (Path(sitegen.words.__file__).parent / "de.po").open("rb") as file:
        messages = [
            part for each in read_po(file) for part in ([each.id] if isinstance(each.id, str) else each.id)
        ]
    assert len(messages) > 1000
    assert [message for message in messages if "packet" in message.lower()] == []


@FEWER
@given(RUNS, SEEDS)
def test_a_claim_names_its_claimant(run: Run, seed: Seed) -> None:
    """Its figures and the sentence on the seed do; where nobody is named, they say so or name the seed's source."""
    found = measure(replace(run, setup=replace(HEAD, seed=seed)), PRICES)
    who = (
        f"said by {seed.claims.by}"
        if seed.claims.by
        else f"where the seed came from: {seed.source}"
        if seed.source
        else "who said so was not recorded"
    )
    by_name = {figure.name: figure for figure in figures(found)}
    for figure in (by_name[name] for name in CLAIMED):
        said = remarks_words(figure.remarks)
        assert who in said or not figure.recorded, figure
        assert "packet" not in said or seed.claims.by == "the packet"
    book = FigureBook(Wording(), "experiments/first-physalis.html")
    (line,) = [item for item in used(found, book, SiteMap()) if "Claimed for this seed" in str(item)]
    assert f"Claimed for this seed ({who}): " in str(line)
