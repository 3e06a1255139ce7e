"""The table of finding codes: one row a code, with its severity and its subject.

In: nothing. Out: `CODES`, `Severity`. Codes are stable. Severities are decided here and nowhere else.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """An error stops `write`; a warning asks for a second look."""

    ERROR = "error"
    WARNING = "warning"


@dataclass(frozen=True, slots=True)
class Code:
    """One row of the table."""

    name: str
    severity: Severity
    about: str


def _table(*rows: tuple[str, Severity, str]) -> dict[str, Code]:
    return {name: Code(name, severity, about) for name, severity, about in rows}


E, W = Severity.ERROR, Severity.WARNING

CODES: dict[str, Code] = _table(
    # files
    ("unreadable-file", E, "a file that cannot be opened"),
    ("missing-file", E, "a file that a journal needs and that is not there"),
    ("not-utf8", E, "text that is not UTF-8"),
    ("file-too-large", E, "a text file beyond the size that is read"),
    ("nested-too-deep", E, "lists and mappings nested beyond what a journal needs"),
    ("empty-file", E, "a file without content"),
    ("output-not-ours", E, "an output folder that holds other files"),
    ("stray-file", W, "a file or folder that nothing in the journal reads"),
    # YAML
    ("yaml-syntax", E, "text that is not YAML"),
    ("yaml-twist", E, "text that YAML would read as something else"),
    ("yaml-anchor", E, "anchors and aliases, which a journal does not use"),
    ("yaml-tag", E, "tags, which a journal does not use"),
    ("yaml-documents", E, "more than one YAML document in a file"),
    ("duplicate-key", E, "the same key twice in one mapping"),
    # shape
    ("unknown-key", E, "a key that the format does not have"),
    ("missing-key", E, "a key that must be there"),
    ("wrong-type", E, "a text where a list is wanted, and the like"),
    ("mixed-keys", E, "subjects and fields in one mapping"),
    ("unknown-choice", E, "a word that is not one of the words allowed here"),
    ("bad-id", E, "an id that is not made of lower-case letters, digits and hyphens"),
    ("reserved-id", E, "an id that is a word of the format"),
    ("duplicate-id", E, "the same id twice"),
    ("format-version", E, "a format number that this version does not read"),
    # values
    ("no-unit", E, "a number without a unit"),
    ("unknown-unit", E, "a unit that is not known"),
    ("wrong-dimension", E, "a unit of another kind of quantity"),
    ("ambiguous-number", E, "a number that can be read in two ways"),
    ("not-a-quantity", E, "text that is not a quantity"),
    ("not-a-count", E, "text that is not a whole number"),
    ("count-of-what", E, "a count that could be each or in all"),
    ("reversed-range", E, "a range that ends before it begins"),
    ("not-a-day", E, "text that is not a day"),
    ("not-a-date", E, "text that is not a date"),
    ("not-a-time", E, "text that is not a time in an episode"),
    ("not-a-selection", E, "text that names no plants"),
    ("not-a-score", E, "a taste that does not begin with a score"),
    ("not-a-price", E, "text that is not a price"),
    ("not-a-zone", E, "a time zone that is not known"),
    ("not-a-language", E, "text that is not the tag of a language"),
    ("scale-unknown", E, "a conductivity in ppm without its scale"),
    ("which-product", E, "an amount of feed without its product"),
    ("which-tub", E, "something done to a tub, with several tubs and none named"),
    ("which-plants", E, "a reading that does not say whose it is"),
    # references
    ("unknown-plant", E, "a plant, group or tub that the experiment does not have"),
    ("unknown-crop", E, "a crop that crops.yaml does not have"),
    ("unknown-variety", E, "a variety that the crop does not have"),
    ("unknown-system", E, "a system that gear.yaml does not have"),
    ("unknown-lamp", E, "a lamp that gear.yaml does not have"),
    ("unknown-product", E, "a product that gear.yaml does not have"),
    ("unknown-milestone", E, "a milestone that this kind of crop does not have"),
    ("missing-photo", E, "a photo that is named but is not in photos/"),
    ("missing-export", E, "a spreadsheet or export that is named but is not there"),
    ("unknown-column", E, "a column that the spreadsheet does not have"),
    ("bad-cell", E, "a cell that is not a value of its column"),
    ("unreadable-sheet", E, "a spreadsheet that cannot be read"),
    ("unknown-experiment", E, "a page or experiment that the journal does not have"),
    ("unknown-theme", E, "a theme that is not there"),
    ("raw-html", W, "raw HTML in a text, which is shown as text"),
    ("html-removed", W, "raw HTML in a text that pages do not take"),
    ("picture-left-out", W, "a picture in a text: pages show those of the log"),
    ("bad-template", E, "a recap or template that cannot be filled"),
    (
        "bad-words",
        E,
        "a catalogue of the site's words that cannot be read, or a line of it that does not fit",
    ),
    ("untranslated", W, "a language that the site's own words are not there in"),
    # blocks of a recap
    ("bad-block", E, "a block of a recap that names nothing, or more than one thing"),
    ("unknown-chart", E, "a chart that the experiment does not have"),
    ("empty-strip", E, "a strip of plants that no photo shows"),
    ("placed-twice", E, "the same chart, photo or strip placed twice"),
    ("misplaced-block", E, "a block of a recap in a page that is not about one experiment"),
    # days and order
    ("no-day", E, "an entry without a day or date"),
    ("day-and-date", E, "a day and a date that disagree"),
    ("date-without-start", E, "a date, where the start is unknown"),
    ("before-start", E, "an entry before the start"),
    ("in-the-future", E, "an entry after today"),
    ("after-the-end", E, "an entry after an end that cleared the plants"),
    ("after-end-kept", W, "the end stands before later entries but does not say that plants were kept"),
    ("two-ends", E, "a second end"),
    ("out-of-order", W, "an entry written above an earlier one"),
    ("milestone-order", W, "a later stage before an earlier one"),
    ("milestone-back", E, "a stage recorded as not reached after it was reached"),
    ("pick-before-milestone", W, "a fruit or pod picked before any flower was recorded"),
    ("same-pick-twice", W, "two picks that look like one written twice"),
    ("chapter-order", E, "a chapter that does not begin after the one before it"),
    ("chapter-late", E, "a chapter that begins when the episode has ended"),
    # accounting
    ("too-many-sprouted", E, "more seedlings than seeds"),
    ("seeds-disagree", E, "a number of seeds that is not the number sown"),
    ("thinned-to-more", E, "thinned to more plants than came up"),
    ("count-of-plants", E, "a number of plants that does not fit those standing"),
    ("count-went-down", E, "a cumulative count that goes down"),
    ("lost-plant", E, "something from a plant after it was lost"),
    ("never-sown", E, "something from a plant before it was sown"),
    ("spots-exceeded", E, "more plants than the system has spots"),
    ("plants-in-two", E, "a plant in two tubs, groups or varieties at once"),
    ("plant-left-out", E, "a plant without a tub or a variety"),
    ("spoilt-exceeds", E, "more spoilt than picked"),
    ("weights-disagree", E, "single weights that do not add up"),
    ("routine-unknown", W, "a routine stopped that had not begun"),
    ("tally-below-picks", E, "a running tally below the picks it covers"),
    # plausibility
    ("impossible-value", E, "a reading outside what can be"),
    ("unusual-value", W, "a reading outside what is usual"),
    ("shrunk", W, "a plant that got shorter without a cut"),
    ("dose-unlike-label", W, "a dose far from the product's own"),
    ("sheet-and-log", E, "a spreadsheet and the log that disagree"),
    # the record
    ("long-gap", W, "a long time without an entry"),
    ("no-end", W, "no end and no news for long"),
    ("no-log", E, "an experiment without a log"),
    ("nothing-sown", W, "a log that never says what was sown"),
    ("no-answer", W, "an experiment that ended without an answer"),
    # photos
    ("photo-unreadable", E, "a photo that is broken or cut short"),
    ("photo-too-large", E, "a photo with more pixels than are read"),
    ("photo-needs-extra", E, "a photo in a format that needs the extra `heic`"),
    ("photo-mislabelled", W, "a photo whose name ends like another format's"),
    ("photo-animated", W, "a moving picture, of which the first frame is shown"),
    ("photo-converted", W, "a photo in printing colours or with 16 bits a colour"),
    ("photo-tiny", W, "a photo too small to show anything"),
    ("photo-undated", W, "a photo that no day is known of"),
    # privacy
    ("photo-location", W, "a photo that carries a location (it is removed)"),
    ("personal-detail", W, "text that looks like an address, a mail address or a telephone number"),
)
