"""The tables of experiment.yaml above its log: the set-up of a run.

In: nothing. Out: `EXPERIMENT_TABLES`, in the order of the reference.
"""

from __future__ import annotations

from sitegen.core.format.fields import Field, Form, table
from sitegen.core.values.units import Dimension

F = Form
D = Dimension

EXPERIMENT_TABLES = (
    table(
        "experiment",
        "experiment.yaml: one run, from sowing to its end; set-up first, `log` last",
        Field("format", F.WHOLE, "the version of the format", "1", required=True),
        Field("was", F.IDS, "earlier ids: old addresses lead here", "[pak-choi-test]"),
        Field("title", F.TEXT, "what the page is called", "Pak choi, one or two to a cup", required=True),
        Field("question", F.TEXT, "what the run was to show", "Do pairs give more leaf?"),
        Field("crop", F.ID, "an id of crops.yaml", "pak-choi", required=True),
        Field("variety", F.VARIETIES, "one, or by plants", "{P1-P3: tiny-jade, P4-P6: broad-stem}"),
        Field("system", F.ID, "an id of gear.yaml", "tub-6"),
        Field(
            "tubs",
            F.NAMED,
            "several tubs by id, each with its plants",
            "{left: {system: tub-6, plants: P1-P3}, right: {system: tub-9, plants: P4-P6}}",
            table="tub",
        ),
        Field("start", F.START, "day 0, the day of sowing", "2025-09-14", required=True),
        Field("plants", F.PLANTS, "how many (P1, P2, …), or their names", "6", required=True),
        Field("groups", F.GROUPS, "plants treated alike", "{single: P1-P3, pair: P4-P6}"),
        Field("seed", F.TABLE, "where it came from", "{source: swap table}", table="seed"),
        Field("light", F.LIGHT, "the lamp at the start", "{lamp: bar-45, hours: 14 h}", table="light"),
        Field("before", F.TEXT, "earlier tries that left no record", "Two tries came to little."),
        Field("answer", F.TABLE, "the verdict", "{verdict: again, why: more leaf}", table="answer"),
        Field("disclosure", F.TEXT, "who paid for what", "Seed bought by the author."),
        Field("episodes", F.TABLES, "episodes about it", table="episode"),
        Field("corrections", F.TABLES, "what was put right later", table="correction"),
        Field("publish", F.DATE, "held back until then", "2026-01-12"),
        Field("revised", F.DATE, "when the page was last rewritten", "2026-01-20"),
        Field("draft", F.FLAG, "held back altogether", "true"),
        Field("readings", F.TABLES, "spreadsheets and sensor exports", table="readings"),
        Field("log", F.TABLES, "one item a visit", table="entry"),
    ),
    table(
        "tub",
        "one of several tubs",
        Field("system", F.ID, "an id of gear.yaml", "tub-6", required=True),
        Field("plants", F.WHICH, "the plants that stand in it", "P1-P3", required=True),
        Field("light", F.LIGHT, "its lamp at the start", "{lamp: bar-45}", table="light"),
    ),
    table(
        "seed",
        "the seed",
        Field("source", F.TEXT, "where it came from", "swap table"),
        Field("packed", F.TEXT, "the year on the packet", "2024"),
        Field("claims", F.TABLE, "what the packet says", "{days: 35, from: sowing}", table="claims"),
    ),
    table(
        "claims",
        "what the packet says",
        Field("days", F.DAY, "days to the pick", "35"),
        Field("from", F.CHOICE, "what they count from", "sowing", choices=("sowing", "transplant")),
        Field("height", F.QUANTITY, "how tall", "up to 25 cm", dimension=D.LENGTH),
        Field("germination", F.QUANTITY, "the share that comes up", "85 %", dimension=D.SHARE),
    ),
    table(
        "light",
        "a lamp's setting; it holds until the next",
        Field("lamp", F.ID, "an id of gear.yaml", "bar-45"),
        Field("hours", F.QUANTITY, "hours a day", "14 h", dimension=D.DURATION),
        Field("distance", F.QUANTITY, "from lamp to plants", "30 cm", dimension=D.LENGTH),
    ),
    table(
        "answer",
        "the verdict",
        Field(
            "verdict",
            F.CHOICE,
            "would you grow it again",
            "again",
            required=True,
            choices=("again", "not again", "undecided"),
        ),
        Field("why", F.TEXT, "in one sentence", "pairs gave more leaf a cup"),
        Field("change", F.TEXT, "what to do otherwise next time", "thin the pairs a week earlier"),
    ),
    table(
        "episode",
        "an episode: a link, nothing is embedded",
        Field("title", F.TEXT, "what it is called", "Pairs or singles", required=True),
        Field("link", F.TEXT, "its address", "https://example.org/e1"),
        Field("published", F.DATE, "when", "2026-01-12"),
        Field("until", F.TEXT, "the day it covers up to", "day 64"),
        Field("length", F.CLOCK, "how long it is, in minutes and seconds", "12:30"),
        Field(
            "chapters",
            F.TABLES,
            "its parts, in order; the page offers them as WebVTT",
            "[{at: 0:00, title: Sowing}, {at: 4:10, title: The first cut}]",
            table="chapter",
        ),
    ),
    table(
        "chapter",
        "a part of an episode; it lasts until the next, the last until the episode ends",
        Field("at", F.CLOCK, "when it begins, in minutes and seconds", "4:10", required=True),
        Field("title", F.TEXT, "what it is called", "The first cut", required=True),
    ),
    table(
        "correction",
        "something put right after it was published",
        Field("date", F.DATE, "when", "2026-01-20", required=True),
        Field("text", F.TEXT, "what was put right", "The tub was filled to 10 L, not 11.", required=True),
    ),
    table(
        "readings",
        "a spreadsheet or a sensor's export beside the experiment",
        Field("file", F.TEXT, "its name: .csv or .xlsx", "leaves.csv", required=True),
        Field("reading", F.TEXT, "what it holds, with the unit of bare numbers", "height cm"),
        Field(
            "columns",
            F.COLUMNS,
            "what is under each heading: a plant, or a reading and its unit",
            "{Temp: air_temperature C}",
            required=True,
        ),
        Field("decimal", F.CHOICE, "the decimal sign", "comma", choices=("point", "comma")),
        Field("day", F.TEXT, "the heading of the day numbers", "Tag"),
        Field("date", F.TEXT, "the heading of the dates", "Datum"),
        Field("time", F.TEXT, "the heading of the times (a sensor's export)", "Timestamp"),
        Field(
            "dates",
            F.CHOICE,
            "how dates with slashes or dots are written",
            "day first",
            choices=("day first", "month first"),
        ),
        Field("zone", F.ZONE, "the time zone of the times", "Europe/Vienna"),
        Field("tub", F.ID, "the tub it was in", "left"),
        Field("sheet", F.TEXT, "the sheet of a workbook", "Heights"),
    ),
)
