"""The tables of the mappings nested in an entry: the keys of a sowing, a pick, a photo.

In: nothing. Out: `NESTED_TABLES`, in the order of the reference.
"""

from __future__ import annotations

from sitegen.core.format.fields import Field, Form, Subject, table
from sitegen.core.language.catalogue import tr_noop
from sitegen.core.values.units import Dimension

F = Form
D = Dimension

_PLANTS = Field("plants", F.WHICH, "which plants this is about", "P1-P3")
_TUB = Field("tub", F.ID, "which tub this is about", "left")

# fmt: off
_PARTS = (
    tr_noop("leaf"), tr_noop("head"), tr_noop("side shoot"), tr_noop("flower head"), tr_noop("fruit"),
    tr_noop("root"), tr_noop("pod"), tr_noop("seed"), tr_noop("stem"), tr_noop("whole plant"),
)

# One row a key.
NESTED_TABLES = (
    table("sow", "seeds in some of the spots",
        _PLANTS,
        Field("seeds", F.SEEDS, "how many", "4 a spot", required=True),
    ),
    table("measured", "a reading that says whose it is",
        Field("value", F.QUANTITY, "of a tub", "1.4 mS/cm"),
        Field("meter", F.ID, "which meter of gear.yaml read the EC", "pen"),
        Field("each", F.QUANTITY, "of each plant", "9 cm"),
        Field("together", F.QUANTITY, "of all of them together", "12 flowers"),
        _PLANTS,
        _TUB,
    ),
    table("deed", "something done",
        Field("what", F.TEXT, "what was done", "lower leaves"),
        Field("product", F.ID, "with which product", "soap"),
        _PLANTS,
        _TUB,
    ),
    table("trouble", "something that went wrong",
        Field("what", F.TEXT, "what went wrong", "tip burn", required=True),
        _PLANTS,
        _TUB,
        Field("until", F.DAY, "when it was over", "day 51"),
    ),
    table("clip", "footage",
        Field("what", F.TEXT, "what it shows", "the first cut"),
        Field("file", F.TEXT, "its name in your archive", "a12.mp4"),
        Field("at", F.CLOCK, "when it begins in the finished episode, in minutes and seconds", "4:10"),
        Field("length", F.CLOCK, "how long it is, in minutes and seconds", "0:12"),
        _PLANTS,
    ),
    table("pick", "one harvest",
        Field("weight", F.QUANTITY, "of all of it", "121 g", dimension=D.MASS),
        Field("weights", F.QUANTITY, "or piece by piece", "[8 g, 9 g]", dimension=D.MASS),
        Field("each", F.QUANTITY, "or of each plant", "20 g", dimension=D.MASS),
        Field("together", F.QUANTITY, "or of the plants together", "205 g", dimension=D.MASS),
        _PLANTS,
        Field("count", F.PIECES, "pieces", "9"),
        Field("part", F.CHOICE, "what was picked", "leaf", choices=_PARTS),
        Field("grade", F.TEXT, "how good", "good"),
        Field("spoilt", F.SPOILT, "how many of the pieces; or their number and weight",
            "{count: 2, weight: 30 g}", table="spoilt"),
        Field("flush", F.WHOLE, "which flush", "2"),
        Field("earlier_picks", F.CHOICE, "whether the weight holds earlier picks", "apart",
            choices=("included", "apart", "unclear")),
    ),
    table("spoilt", "the spoilt part of a pick",
        Field("count", F.PIECES, "how many of its pieces", "2"),
        Field("weight", F.QUANTITY, "how much of its weight", "30 g", dimension=D.MASS),
    ),
    table("photo", "a picture",
        Field("file", F.TEXT, "its name in photos/", "first-cut.jpg", required=True),
        Field("alt", F.TEXT, "what is to be seen", "A cut rosette on a kitchen scale"),
        _PLANTS,
        Field("shows", F.CHOICE, "how far the crop is", "ready",
            choices=("not ready", "ready", "too late")),
    ),
    table("routine", "what is done from now on",
        Field("feed", F.DOSES, "by product, and `at`", "{leaf-mix: 20 ml, at: every refill}",
            subject=Subject.TUBS),
        Field("light", F.LIGHT, "the lamp", "{hours: 16 h}", table="light", subject=Subject.TUBS),
        Field("water", F.TEXT, "how it is topped up", "every Sunday"),
        Field("pollinate", F.TEXT, "how often", "daily, with a brush"),
        Field("prune", F.TEXT, "how often", "side shoots weekly"),
        Field("treat", F.TEXT, "how often", "soap every week"),
        Field("clean", F.TEXT, "how often", "the pump monthly"),
        Field("at", F.TEXT, "how often each of these is done; beside `light` also when it goes on", "every refill"),
    ),
    table("end", "the end of a run",
        Field("why", F.TEXT, "why", "slow now"),
        Field("plants", F.CHOICE, "what became of them", "kept", choices=("kept", "cleared")),
    ),
)
# fmt: on
