"""The one table of the format: every file, key and value form, with its words.

In: nothing. Out: `TABLES`, `Table`, `Field`, `Form`. The typed reader, did-you-mean, the JSON Schema, the format
reference and the comments that `begin` writes all come from here, so that none can say something else.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sitegen.core.reference.stages import KINDS
from sitegen.core.units import Dimension

__all__ = ["RESERVED", "TABLES", "Field", "Form", "Mode", "Subject", "Table", "field_of"]


class Form(StrEnum):
    """How a value is written."""

    TEXT = "text"
    FLAG = "true or false"
    WHOLE = "a whole number"
    ID = "an id"
    IDS = "ids"
    CHOICE = "one of some words"
    DATE = "a date"
    START = "a date, a month, or `unknown`"
    DAY = "a day"
    QUANTITY = "a quantity"
    SIZE = "two lengths"
    FLUX = "a photon flux density at a distance"
    DOSE = "a dose"
    PRICE = "a price"
    ZONE = "a time zone"
    WHICH = "plants"
    PLANTS = "a number of plants, or their names"
    GROUPS = "names for sets of plants"
    VARIETIES = "a variety, or varieties by plants"
    TABLE = "a mapping"
    TABLES = "mappings"
    NAMED = "mappings by id"
    SEEDS = "seeds"
    SPROUTED = "seedlings"
    LEAVE = "plants to leave"
    READING = "a reading"
    DOSES = "doses by product"
    WATER = "water"
    PICK = "a pick"
    TALLY = "a running tally"
    STAGES = "plants by milestone"
    DEED = "what was done"
    LOST = "plants, with what happened"
    MOVES = "tubs by plant"
    LIGHT = "a lamp's setting"
    ROUTINE = "what is done from now on"
    STOP = "routines that end"
    SCORE = "a score and words"
    PHOTOS = "photos"
    COLUMNS = "what each column holds"
    END = "why it ended"


class Subject(StrEnum):
    """What a value belongs to."""

    NONE = ""
    PLANTS = "plants"
    TUBS = "tubs"


class Mode(StrEnum):
    """What a plain value of several subjects means."""

    NONE = ""
    EACH = "each"
    TOGETHER = "together"


@dataclass(frozen=True, slots=True)
class Field:
    """One key: its value form, what it is for, and an example as it stands in a file."""

    key: str
    form: Form
    about: str
    example: str = ""
    dimension: Dimension | None = None
    choices: tuple[str, ...] = ()
    table: str = ""
    required: bool = False
    subject: Subject = Subject.NONE
    mode: Mode = Mode.NONE


@dataclass(frozen=True, slots=True)
class Table:
    """The keys of one mapping, in the order that a file gives them."""

    name: str
    about: str
    fields: tuple[Field, ...]

    @property
    def keys(self) -> tuple[str, ...]:
        """The names of the keys."""
        return tuple(field.key for field in self.fields)

    def field(self, key: str) -> Field:
        """The field with a key."""
        return next(field for field in self.fields if field.key == key)

    def has(self, key: str) -> bool:
        """Whether the table has a key."""
        return any(field.key == key for field in self.fields)


F = Form
D = Dimension


def _reading(key: str, dimension: Dimension, about: str, example: str, subject: Subject) -> Field:
    mode = Mode.EACH if subject is Subject.PLANTS else Mode.NONE
    return Field(
        key, F.READING, about, example, dimension=dimension, table="measured", subject=subject, mode=mode
    )


def _deed(key: str, about: str, example: str) -> Field:
    return Field(key, F.DEED, about, example, table="deed", subject=Subject.PLANTS)


_PLANTS = Field("plants", F.WHICH, "which plants this is about", "P1-P3")
_TUB = Field("tub", F.ID, "which tub this is about", "left")

_TABLES = (
    Table(
        "journal",
        "journal.yaml: what holds for the whole journal",
        (
            Field("format", F.WHOLE, "the version of the format", "1", required=True),
            Field("title", F.TEXT, "the site's name", "Cellar Bench", required=True),
            Field("tagline", F.TEXT, "one line under the name", "Small indoor trials, weighed"),
            Field("author", F.TABLE, "who keeps the journal", "{name: The cellar bench}", table="author"),
            Field("address", F.TEXT, "where the site will be hosted", "https://example.org/bench/"),
            Field("language", F.TEXT, "the language of the pages (BCP 47)", "en"),
            Field(
                "units", F.CHOICE, "shown first; the other in brackets", "metric", choices=("metric", "us")
            ),
            Field("licence", F.TEXT, "an SPDX identifier", "CC-BY-4.0"),
            Field("theme", F.TEXT, "the look of the site", "ledger"),
            Field("output", F.TEXT, "where the site is written", "../output"),
            Field("prices", F.TABLE, "what things cost", "{currency: EUR}", table="prices"),
            Field("timezone", F.ZONE, "for photos and exports without one", "Europe/Vienna"),
        ),
    ),
    Table(
        "author",
        "who keeps the journal, as they want to be named",
        (
            Field("name", F.TEXT, "a name", "The cellar bench"),
            Field("link", F.TEXT, "an address", "https://example.org"),
        ),
    ),
    Table(
        "prices",
        "what things cost",
        (
            Field("currency", F.TEXT, "an ISO 4217 code", "EUR"),
            Field("electricity", F.PRICE, "for a kilowatt hour", "0.31 per kWh", dimension=D.ENERGY),
            Field("water", F.PRICE, "for a volume", "0.004 per L", dimension=D.VOLUME),
        ),
    ),
    Table(
        "gear",
        "gear.yaml: systems, lamps and products that are used again and again",
        (
            Field("systems", F.NAMED, "growing systems by id", table="system"),
            Field("lamps", F.NAMED, "lamps by id", table="lamp"),
            Field("products", F.NAMED, "feeds, acids, bases, treatments by id", table="product"),
        ),
    ),
    Table(
        "system",
        "a growing system",
        (
            Field("name", F.TEXT, "its name on the pages", "Six-cup tub", required=True),
            Field("kind", F.TEXT, "how it feeds the roots", "deep water culture"),
            Field("spots", F.WHOLE, "growing positions", "6"),
            Field("reservoir", F.QUANTITY, "how much it holds", "11 L", dimension=D.VOLUME),
            Field("footprint", F.SIZE, "the ground it covers", "60 x 40 cm", dimension=D.LENGTH),
            Field(
                "headroom",
                F.QUANTITY,
                "from the spots to the lamp's highest place",
                "45 cm",
                dimension=D.LENGTH,
            ),
        ),
    ),
    Table(
        "lamp",
        "a lamp",
        (
            Field("name", F.TEXT, "its name on the pages", "45 W bar", required=True),
            Field("power", F.QUANTITY, "what it draws", "45 W", dimension=D.POWER),
            Field("ppfd", F.FLUX, "its light, and how far below", "210 umol/m2/s at 30 cm"),
        ),
    ),
    Table(
        "product",
        "something added to the water or put on the plants",
        (
            Field("name", F.TEXT, "its name on the pages", "Leaf mix", required=True),
            Field(
                "kind",
                F.CHOICE,
                "what it is",
                "feed",
                required=True,
                choices=("feed", "acid", "base", "additive", "treatment"),
            ),
            Field("dose", F.DOSE, "what its label says", "2 ml/L"),
            Field("price", F.PRICE, "what it cost", "9.50 per 500 ml"),
        ),
    ),
    Table(
        "crop",
        "crops.yaml: a crop, under its id",
        (
            Field("name", F.TEXT, "its name on the pages", "Pak choi", required=True),
            Field("kind", F.CHOICE, "what is picked of it", "leafy", required=True, choices=KINDS),
            Field("latin", F.TEXT, "its botanical name", "Brassica rapa subsp. chinensis"),
            Field("base_temperature", F.QUANTITY, "below it nothing grows", "4 C", dimension=D.TEMPERATURE),
            Field("base_temperature_source", F.TEXT, "where that figure is from", "a grower's handbook"),
            Field("price", F.PRICE, "what the shop asks", "12 per kg", dimension=D.MASS),
            Field("varieties", F.NAMED, "its varieties by id", table="variety"),
        ),
    ),
    Table(
        "variety",
        "one variety of a crop",
        (
            Field("name", F.TEXT, "its name on the pages", "Tiny Jade", required=True),
            Field("note", F.TEXT, "a word about it", "dwarf"),
        ),
    ),
    Table(
        "season",
        "season.yaml: a stretch of the year",
        (
            Field("title", F.TEXT, "its name on the pages", "Autumn 2025", required=True),
            Field("summary", F.TEXT, "what it was about", "Leaf crops under the new bar."),
        ),
    ),
    Table(
        "experiment",
        "experiment.yaml: one run, from sowing to its end; set-up first, `log` last",
        (
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
    ),
    Table(
        "tub",
        "one of several tubs",
        (
            Field("system", F.ID, "an id of gear.yaml", "tub-6", required=True),
            Field("plants", F.WHICH, "the plants that stand in it", "P1-P3", required=True),
            Field("light", F.LIGHT, "its lamp at the start", "{lamp: bar-45}", table="light"),
        ),
    ),
    Table(
        "seed",
        "the seed",
        (
            Field("source", F.TEXT, "where it came from", "swap table"),
            Field("packed", F.TEXT, "the year on the packet", "2024"),
            Field("claims", F.TABLE, "what the packet says", "{days: 35, from: sowing}", table="claims"),
        ),
    ),
    Table(
        "claims",
        "what the packet says",
        (
            Field("days", F.DAY, "days to the pick", "35"),
            Field("from", F.CHOICE, "what they count from", "sowing", choices=("sowing", "transplant")),
            Field("height", F.QUANTITY, "how tall", "up to 25 cm", dimension=D.LENGTH),
            Field("germination", F.QUANTITY, "the share that comes up", "85 %", dimension=D.SHARE),
        ),
    ),
    Table(
        "light",
        "a lamp's setting; it holds until the next",
        (
            Field("lamp", F.ID, "an id of gear.yaml", "bar-45"),
            Field("hours", F.QUANTITY, "hours a day", "14 h", dimension=D.DURATION),
            Field("distance", F.QUANTITY, "from lamp to plants", "30 cm", dimension=D.LENGTH),
        ),
    ),
    Table(
        "answer",
        "the verdict",
        (
            Field(
                "verdict",
                F.CHOICE,
                "would you grow it again",
                "again",
                required=True,
                choices=("again", "not again", "undecided"),
            ),
            Field("why", F.TEXT, "in one sentence", "pairs gave more leaf a cup"),
        ),
    ),
    Table(
        "episode",
        "an episode: a link, nothing is embedded",
        (
            Field("title", F.TEXT, "what it is called", "Pairs or singles", required=True),
            Field("link", F.TEXT, "its address", "https://example.org/e1"),
            Field("published", F.DATE, "when", "2026-01-12"),
            Field("until", F.TEXT, "the day it covers up to", "day 64"),
        ),
    ),
    Table(
        "correction",
        "something put right after it was published",
        (
            Field("date", F.DATE, "when", "2026-01-20", required=True),
            Field("text", F.TEXT, "what was put right", "The tub was filled to 10 L, not 11.", required=True),
        ),
    ),
    Table(
        "readings",
        "a spreadsheet or a sensor's export beside the experiment",
        (
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
    ),
    Table(
        "entry",
        "an entry of the log: one visit",
        (
            Field("day", F.DAY, "days since sowing: `26`, `33-38`, `about 36`, `before 40`", "26"),
            Field("date", F.DATE, "or the date", "2025-10-19"),
            Field("sow", F.SEEDS, "seeds sown", "3 a spot", table="sow", subject=Subject.PLANTS),
            Field("sprouted", F.SPROUTED, "seedlings up so far", "16 of 18", subject=Subject.PLANTS),
            Field(
                "thin_to",
                F.LEAVE,
                "leave at most so many in a spot",
                "1",
                subject=Subject.PLANTS,
                mode=Mode.EACH,
            ),
            Field("transplant", F.WHICH, "from the seed tray into the tub", "all"),
            Field(
                "water",
                F.WATER,
                "added; `filled`; `changed to 11 L`",
                "2 L",
                dimension=D.VOLUME,
                subject=Subject.TUBS,
            ),
            Field("feed", F.DOSES, "by product, a tub", "{leaf-mix: 20 ml}", subject=Subject.TUBS),
            Field(
                "adjust",
                F.DOSES,
                "acids and bases by product, a tub",
                "{ph-down: 2 ml}",
                subject=Subject.TUBS,
            ),
            _reading("height", D.LENGTH, "to the topmost leaf unless said", "about 9 cm", Subject.PLANTS),
            _reading("spread", D.LENGTH, "across the leaves", "20 cm", Subject.PLANTS),
            _reading("leaves", D.COUNT, "how many", "7", Subject.PLANTS),
            _reading("count", D.COUNT, "of something else", "3 flowers", Subject.PLANTS),
            _reading("ec", D.CONDUCTIVITY, "of the solution", "1.4 mS/cm", Subject.TUBS),
            _reading("ph", D.ACIDITY, "of the solution; before and after", "7.1, then 5.9", Subject.TUBS),
            _reading("water_temperature", D.TEMPERATURE, "of the solution", "21 C", Subject.TUBS),
            _reading("air_temperature", D.TEMPERATURE, "beside the plants", "23 C", Subject.TUBS),
            _reading("leaf_temperature", D.TEMPERATURE, "of a leaf", "22 C", Subject.TUBS),
            _reading("humidity", D.SHARE, "beside the plants", "60 %", Subject.TUBS),
            Field(
                "light",
                F.LIGHT,
                "the lamp from now on; or `off`",
                "{hours: 16 h}",
                table="light",
                subject=Subject.TUBS,
            ),
            Field(
                "from_now",
                F.ROUTINE,
                "done from now on without an entry each time",
                "{feed: {leaf-mix: 20 ml, at: every refill}}",
                table="routine",
            ),
            Field("stop", F.STOP, "a routine that ends", "feed"),
            Field("milestone", F.STAGES, "plants by stage; `none` says not yet", "{first_flower: 2 of 6}"),
            _deed("prune", "what was cut off", "{what: lower leaves, plants: some}"),
            _deed("train", "tied, bent, staked", "tied to the string"),
            _deed("pollinate", "how", "with a brush"),
            _deed("treat", "with which product", "{product: soap, plants: P2}"),
            _deed("clean", "what", "the pump"),
            Field(
                "trouble",
                F.DEED,
                "what went wrong",
                "{what: tip burn, plants: 2 of 6, until: day 51}",
                table="trouble",
                subject=Subject.PLANTS,
            ),
            Field(
                "harvest",
                F.PICK,
                "picked: weights, together unless said",
                "{P1: 84 g, P4: unweighed}",
                dimension=D.MASS,
                table="pick",
                subject=Subject.PLANTS,
                mode=Mode.TOGETHER,
            ),
            Field(
                "total_so_far",
                F.TALLY,
                "everything picked up to now",
                "4.6 kg",
                dimension=D.MASS,
                subject=Subject.PLANTS,
                mode=Mode.TOGETHER,
            ),
            Field("taste", F.SCORE, "a score, and words", "4/5, crisp and mild"),
            Field(
                "photo",
                F.PHOTOS,
                "pictures in photos/",
                "[{file: first-cut.jpg, alt: A cut rosette}]",
                table="photo",
            ),
            Field("clip", F.DEED, "footage", "{what: the first cut, file: a12.mp4}", table="clip"),
            Field("note", F.TEXT, "anything else", "roots white"),
            Field("private", F.TEXT, "never leaves the journal", "ask the club about calcium"),
            Field("tell", F.CHOICE, "in episode notes", "never", choices=("never", "always")),
            Field(
                "lost",
                F.LOST,
                "plants that died or were taken out",
                "{P5: snapped while cutting}",
                subject=Subject.PLANTS,
            ),
            Field("move", F.MOVES, "to another tub", "{P3: right}", subject=Subject.PLANTS),
            Field(
                "end",
                F.END,
                "the end, and what became of the plants",
                "{why: slow now, plants: kept}",
                table="end",
            ),
        ),
    ),
    Table(
        "sow",
        "seeds in some of the spots",
        (_PLANTS, Field("seeds", F.SEEDS, "how many", "4 a spot", required=True)),
    ),
    Table(
        "measured",
        "a reading that says whose it is",
        (
            Field("each", F.QUANTITY, "of each plant", "9 cm"),
            Field("together", F.QUANTITY, "of all of them together", "12 flowers"),
            _PLANTS,
            _TUB,
        ),
    ),
    Table(
        "deed",
        "something done",
        (
            Field("what", F.TEXT, "what was done", "lower leaves"),
            Field("product", F.ID, "with which product", "soap"),
            _PLANTS,
            _TUB,
        ),
    ),
    Table(
        "trouble",
        "something that went wrong",
        (
            Field("what", F.TEXT, "what went wrong", "tip burn", required=True),
            _PLANTS,
            _TUB,
            Field("until", F.DAY, "when it was over", "day 51"),
        ),
    ),
    Table(
        "clip",
        "footage",
        (
            Field("what", F.TEXT, "what it shows", "the first cut"),
            Field("file", F.TEXT, "its name in your archive", "a12.mp4"),
        ),
    ),
    Table(
        "pick",
        "one harvest",
        (
            Field("weight", F.QUANTITY, "of all of it", "121 g", dimension=D.MASS),
            Field("weights", F.QUANTITY, "or piece by piece", "[8 g, 9 g]", dimension=D.MASS),
            Field("each", F.QUANTITY, "or of each plant", "20 g", dimension=D.MASS),
            Field("together", F.QUANTITY, "or of the plants together", "205 g", dimension=D.MASS),
            _PLANTS,
            Field("count", F.WHOLE, "pieces", "9"),
            Field(
                "part",
                F.CHOICE,
                "what was picked",
                "leaf",
                choices=(
                    "leaf",
                    "head",
                    "side shoot",
                    "flower head",
                    "fruit",
                    "root",
                    "pod",
                    "seed",
                    "stem",
                    "whole plant",
                ),
            ),
            Field("grade", F.TEXT, "how good", "good"),
            Field("spoilt", F.WHOLE, "how many of the pieces", "1"),
            Field("flush", F.WHOLE, "which flush", "2"),
            Field(
                "earlier_picks",
                F.CHOICE,
                "whether the weight holds earlier picks",
                "apart",
                choices=("included", "apart", "unclear"),
            ),
        ),
    ),
    Table(
        "photo",
        "a picture",
        (
            Field("file", F.TEXT, "its name in photos/", "first-cut.jpg", required=True),
            Field("alt", F.TEXT, "what is to be seen", "A cut rosette on a kitchen scale"),
            _PLANTS,
            Field(
                "shows", F.CHOICE, "how far the crop is", "ready", choices=("not ready", "ready", "too late")
            ),
        ),
    ),
    Table(
        "routine",
        "what is done from now on",
        (
            Field(
                "feed",
                F.DOSES,
                "by product, and `at`",
                "{leaf-mix: 20 ml, at: every refill}",
                subject=Subject.TUBS,
            ),
            Field("light", F.LIGHT, "the lamp", "{hours: 16 h}", table="light", subject=Subject.TUBS),
            Field("water", F.TEXT, "how it is topped up", "every Sunday"),
            Field("pollinate", F.TEXT, "how often", "daily, with a brush"),
            Field("prune", F.TEXT, "how often", "side shoots weekly"),
            Field("treat", F.TEXT, "how often", "soap every week"),
            Field("clean", F.TEXT, "how often", "the pump monthly"),
        ),
    ),
    Table(
        "end",
        "the end of a run",
        (
            Field("why", F.TEXT, "why", "slow now"),
            Field("plants", F.CHOICE, "what became of them", "kept", choices=("kept", "cleared")),
        ),
    ),
)

TABLES: dict[str, Table] = {table.name: table for table in _TABLES}

# Words of the format cannot be ids: `harvest: {all: 84 g}` must have one reading.
RESERVED = frozenset(
    {"all", "none", "some", "each", "together", "at", "off", "filled", "changed"}
    | {
        field.key
        for name in ("entry", "pick", "measured", "deed", "trouble")
        for field in TABLES[name].fields
    }
)

FORMAT = 1


def field_of(table: str, key: str) -> Field:
    """A field by the name of its table and its key."""
    return TABLES[table].field(key)
