"""The tables of the files that experiments share: journal.yaml, gear.yaml, crops.yaml, season.yaml.

In: nothing. Out: `JOURNAL_TABLES`, in the order of the reference.
"""

from __future__ import annotations

from sitegen.core.format.fields import Field, Form, table
from sitegen.core.reference.milestones import KINDS
from sitegen.core.values.units import Dimension

F = Form
D = Dimension

# fmt: off
# One row a key.
JOURNAL_TABLES = (
    table("journal", "journal.yaml: what holds for the whole journal",
        Field("format", F.WHOLE, "the version of the format", "1", required=True),
        Field("title", F.TEXT, "the site's name", "Cellar Bench", required=True),
        Field("tagline", F.TEXT, "one line under the name", "Small indoor trials, weighed"),
        Field("author", F.TABLE, "who keeps the journal", "{name: The cellar bench}", table="author"),
        Field("address", F.TEXT, "where the site will be hosted", "https://example.org/bench/"),
        Field("language", F.TEXT, "the language of the pages (BCP 47)", "en"),
        Field("units", F.CHOICE, "shown first; the other in brackets", "metric", choices=("metric", "us")),
        Field("licence", F.TEXT, "an SPDX identifier", "CC-BY-4.0"),
        Field("theme", F.TEXT, "the look of the site", "ledger"),
        Field("output", F.TEXT, "where the site is written", "../output"),
        Field("prices", F.TABLE, "what things cost", "{currency: EUR}", table="prices"),
        Field("timezone", F.ZONE, "for photos and exports without one", "Europe/Vienna"),
        Field("raw_html", F.FLAG,
            "take HTML in recaps and free pages, without scripts, styles and frames; else it is shown as text",
            "true"),
    ),
    table("author", "who keeps the journal, as they want to be named",
        Field("name", F.TEXT, "a name", "The cellar bench"),
        Field("link", F.TEXT, "an address", "https://example.org"),
    ),
    table("prices", "what things cost",
        Field("currency", F.TEXT, "an ISO 4217 code", "EUR"),
        Field("electricity", F.PRICE, "for a kilowatt hour", "0.31 per kWh", dimension=D.ENERGY),
        Field("water", F.PRICE, "for a volume", "0.004 per L", dimension=D.VOLUME),
    ),
    table("gear", "gear.yaml: systems, lamps and products that are used again and again",
        Field("systems", F.NAMED, "growing systems by id", table="system"),
        Field("lamps", F.NAMED, "lamps by id", table="lamp"),
        Field("products", F.NAMED, "feeds, acids, bases, treatments by id", table="product"),
    ),
    table("system", "a growing system",
        Field("name", F.TEXT, "its name on the pages", "Six-cup tub", required=True),
        Field("kind", F.TEXT, "how it feeds the roots", "deep water culture"),
        Field("spots", F.WHOLE, "growing positions", "6"),
        Field("reservoir", F.QUANTITY, "how much it holds", "11 L", dimension=D.VOLUME),
        Field("footprint", F.SIZE, "the ground it covers", "60 x 40 cm", dimension=D.LENGTH),
        Field("headroom", F.QUANTITY, "from the spots to the lamp's highest place", "45 cm",
            dimension=D.LENGTH),
    ),
    table("lamp", "a lamp",
        Field("name", F.TEXT, "its name on the pages", "45 W bar", required=True),
        Field("power", F.QUANTITY, "what it draws", "45 W", dimension=D.POWER),
        Field("ppfd", F.FLUX, "its light, and how far below", "210 umol/m2/s at 30 cm"),
        Field("lux_factor", F.TABLE, "makes lux readings under it count as light for plants",
            "{value: 66, source: its maker}", table="lux_factor"),
    ),
    table("lux_factor", "the lux of a lamp for each umol/m2/s, which depends on its spectrum",
        Field("value", F.NUMBER, "lux for each umol/m2/s", "66", required=True),
        Field("source", F.TEXT, "where that number is from", "its maker", required=True),
    ),
    table("product", "something added to the water or put on the plants",
        Field("name", F.TEXT, "its name on the pages", "Leaf mix", required=True),
        Field("kind", F.CHOICE, "what it is", "feed", required=True,
            choices=("feed", "acid", "base", "additive", "treatment")),
        Field("dose", F.DOSE, "what its label says", "2 ml/L"),
        Field("price", F.PRICE, "what it cost", "9.50 per 500 ml"),
    ),
    table("crop", "crops.yaml: a crop, under its id",
        Field("name", F.TEXT, "its name on the pages", "Pak choi", required=True),
        Field("kind", F.CHOICE, "what is picked of it", "leafy", required=True, choices=KINDS),
        Field("latin", F.TEXT, "its botanical name", "Brassica rapa subsp. chinensis"),
        Field("base_temperature", F.QUANTITY, "below it nothing grows", "4 C", dimension=D.TEMPERATURE),
        Field("base_temperature_source", F.TEXT, "where that figure is from", "a grower's handbook"),
        Field("price", F.PRICE, "what the shop asks", "12 per kg", dimension=D.MASS),
        Field("varieties", F.NAMED, "its varieties by id", table="variety"),
    ),
    table("variety", "one variety of a crop",
        Field("name", F.TEXT, "its name on the pages", "Tiny Jade", required=True),
        Field("note", F.TEXT, "a word about it", "dwarf"),
    ),
    table("season", "season.yaml: a stretch of the year",
        Field("title", F.TEXT, "its name on the pages", "Autumn 2025", required=True),
        Field("summary", F.TEXT, "what it was about", "Leaf crops under the new bar."),
    ),
)
# fmt: on
