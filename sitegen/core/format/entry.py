"""The table of an entry of the log: one visit, with every key that it may have.

In: nothing. Out: `ENTRY_TABLES`.
"""

from __future__ import annotations

from sitegen.core.format.fields import Field, Form, Mode, Subject, Table
from sitegen.core.values.units import Dimension

F = Form
D = Dimension


def _reading(key: str, dimension: Dimension, about: str, example: str, subject: Subject) -> Field:
    mode = Mode.EACH if subject is Subject.PLANTS else Mode.NONE
    return Field(
        key, F.READING, about, example, dimension=dimension, table="measured", subject=subject, mode=mode
    )


def _deed(key: str, about: str, example: str) -> Field:
    return Field(key, F.DEED, about, example, table="deed", subject=Subject.PLANTS)


ENTRY_TABLES = (
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
            Field(
                "milestone",
                F.STAGES,
                "plants by stage; `none` or `{P5: none}` says not yet",
                "{first_flower: 2 of 6}",
            ),
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
)
