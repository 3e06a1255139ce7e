"""The table of finding codes: the severity of each, with its subject.

In: nothing. Out: `CODES`, `Severity`. Codes are stable. Severities are decided here and nowhere else.
"""

from __future__ import annotations

from enum import StrEnum


class Severity(StrEnum):
    """An error stops `write`; a warning asks for a second look; advice is told to one who asks for it."""

    ERROR = "error"
    WARNING = "warning"
    ADVICE = "advice"


_E, _W, _A = Severity.ERROR, Severity.WARNING, Severity.ADVICE

CODES: dict[str, Severity] = {
    # files
    "unreadable-file": _E,  # a file that cannot be opened
    "missing-file": _E,  # a file that a journal needs and that is not there
    "not-utf8": _E,  # text that is not UTF-8
    "file-too-large": _E,  # a text file beyond the size that is read
    "nested-too-deep": _E,  # lists and mappings nested beyond what a journal needs
    "empty-file": _E,  # a file without content
    "output-not-ours": _E,  # an output folder that holds other files
    "output-in-the-way": _E,  # somebody else's file, folder or link where a file of the site goes
    "stray-file": _W,  # a file or folder that nothing in the journal reads
    "misnamed-file": _E,  # a file or folder that nothing reads, whose name is nearly one that is read
    "unread-runs": _E,  # folders that look like runs, in a journal of which no run was read
    # YAML
    "yaml-syntax": _E,  # text that is not YAML
    "yaml-twist": _E,  # text that YAML would read as something else
    "yaml-anchor": _E,  # anchors and aliases, which a journal does not use
    "yaml-tag": _E,  # tags, which a journal does not use
    "yaml-documents": _E,  # more than one YAML document in a file
    "duplicate-key": _E,  # the same key twice in one mapping
    # shape
    "unknown-key": _E,  # a key that the format does not have
    "missing-key": _E,  # a key that must be there
    "wrong-type": _E,  # a text where a list is wanted, and the like
    "mixed-keys": _E,  # subjects and fields in one mapping
    "unknown-choice": _E,  # a word that is not one of the words allowed here
    "bad-id": _E,  # an id that is not made of lower-case letters, digits and hyphens
    "reserved-id": _E,  # an id that is a word of the format
    "duplicate-id": _E,  # the same id twice
    "format-version": _E,  # a format number that this version does not read
    "older-format": _W,  # a file of an earlier format, which is read as such
    # values
    "no-unit": _E,  # a number without a unit
    "unknown-unit": _E,  # a unit that is not known
    "wrong-dimension": _E,  # a unit of another kind of quantity
    "ambiguous-number": _E,  # a number that can be read in two ways
    "not-a-quantity": _E,  # text that is not a quantity
    "not-a-count": _E,  # text that is not a whole number
    "not-a-number": _E,  # text that is not a number above 0
    "count-of-what": _E,  # a count that could be each or in all
    "reversed-range": _E,  # a range that ends before it begins
    "not-a-day": _E,  # text that is not a day
    "not-a-date": _E,  # text that is not a date
    "not-a-time": _E,  # text that is not a time of day, or in an episode
    "not-a-selection": _E,  # text that names no plants
    "not-a-score": _E,  # a taste whose score cannot be
    "not-a-price": _E,  # text that is not a price
    "not-a-zone": _E,  # a time zone that is not known
    "not-a-link": _W,  # an address without its scheme, which leads nowhere
    "not-a-licence": _W,  # nearly the identifier of a licence
    "not-a-currency": _E,  # a text that is not the code of a currency
    "not-a-language": _E,  # text that is not the tag of a language
    "scale-unknown": _E,  # a conductivity in ppm without its scale
    "ppm-without-scale": _W,  # a reading in ppm whose meter has no known scale
    "which-product": _E,  # an amount of feed without its product
    "which-tub": _E,  # something done to a tub, with several tubs and none named
    "which-plants": _E,  # a reading that does not say whose it is
    # references
    "unknown-plant": _E,  # a plant, group or tub that the experiment does not have
    "unknown-crop": _E,  # a crop that crops.yaml does not have
    "unknown-variety": _E,  # a variety that the crop does not have
    "unknown-system": _E,  # a system that gear.yaml does not have
    "unknown-lamp": _E,  # a lamp that gear.yaml does not have
    "unknown-meter": _E,  # a meter that gear.yaml does not have
    "unknown-product": _E,  # a product that gear.yaml does not have
    "product-of-another-kind": _W,  # a treatment given as feed, and the like
    "name-of-several": _E,  # a name that several things of the library have
    "unknown-milestone": _E,  # a milestone that this kind of crop does not have
    "log-from-memory": _E,  # a log of a run that is told from memory
    "harvest-without-log": _E,  # a harvest in the set-up of a run that is not told from memory
    "missing-photo": _E,  # a photo that is named but is not in photos/
    "missing-export": _E,  # a spreadsheet or export that is named but is not there
    "unknown-column": _E,  # a column that the spreadsheet does not have
    "mixed-separators": _E,  # rows of a spreadsheet that are divided by another sign than its headings
    "bad-cell": _E,  # a cell that is not a value of its column
    "unreadable-sheet": _E,  # a spreadsheet that cannot be read
    "unknown-experiment": _E,  # a page or experiment that the journal does not have
    "unknown-theme": _E,  # a theme that is not there
    "raw-html": _W,  # raw HTML in a text, which is shown as text
    "html-removed": _W,  # raw HTML in a text that pages do not take
    "picture-left-out": _W,  # a picture in a text: pages show those of the log
    "bad-template": _E,  # a recap or template that cannot be filled
    "bad-words": _E,  # a catalogue of the site's words that cannot be read, or a line of it that does not fit
    "untranslated": _W,  # a language that the site's own words are not there in
    # lines of an inbox
    "which-experiment": _E,  # a line that may be about several experiments
    "unplaced-line": _E,  # a line that says nothing, or whose log cannot be added to
    "filing-unfinished": _W,  # a file changed by somebody before a filing was finished
    # blocks of a recap
    "bad-block": _E,  # a block of a recap that names nothing, or more than one thing
    "unknown-chart": _E,  # a chart that the experiment does not have
    "empty-strip": _E,  # a strip of plants that no photo shows
    "placed-twice": _E,  # the same chart, photo or strip placed twice
    "misplaced-block": _E,  # a block of a recap in a page that is not about one experiment
    # days and order
    "no-day": _E,  # an entry without a day or date
    "day-and-date": _E,  # a day and a date that disagree
    "date-without-start": _E,  # a date, where the start is unknown
    "before-start": _E,  # an entry before the start
    "in-the-future": _E,  # an entry after today
    "after-the-end": _E,  # an entry after an end that cleared the plants
    "after-end-kept": _W,  # the end stands before later entries but does not say that plants were kept
    "two-ends": _E,  # a second end
    "out-of-order": _W,  # an entry written above an earlier one
    "milestone-order": _W,  # a later stage before an earlier one
    "more-at-later-stage": _W,  # more plants counted at a later stage than at an earlier one
    "milestone-back": _E,  # a stage recorded as not reached after it was reached
    "pick-before-milestone": _W,  # a fruit or pod picked before any flower was recorded
    "copied-log": _W,  # a run with the same records as another
    "same-pick-twice": _W,  # two picks that look like one written twice
    "chapter-order": _E,  # a chapter that does not begin after the one before it
    "chapter-late": _E,  # a chapter that begins when the episode has ended
    "chapters-refused": _E,  # chapters that a video host would refuse
    "clip-late": _E,  # a clip that begins when the episode has ended
    "bad-transcript": _E,  # what was spoken, in a file that cannot be read as captions
    "bad-caption": _W,  # a caption without a time that can be read
    "clips-at-once": _W,  # two clips that begin at the same time of an episode
    # one value from which many findings would follow
    "start-unlike-log": _E,  # a start that the dates of the log speak against
    "sheet-unlike-run": _E,  # a spreadsheet all of whose rows lie outside the run
    "crop-unlike-log": _E,  # a crop that neither the variety nor the milestones are of
    "plants-too-few": _E,  # fewer plants than the log names
    "name-unlike-log": _E,  # a group or tub that the log names otherwise
    "episode-too-short": _E,  # a length of an episode that several chapters begin after
    "sown-after-records": _E,  # a sowing that several records of its plants come before
    "lost-before-records": _E,  # a loss that several records of the plant come after
    "end-before-records": _E,  # an end that several entries come after
    "seeds-unlike-counts": _E,  # a number of seeds that several counts disagree with
    # accounting
    "too-many-sprouted": _E,  # more seedlings than seeds
    "seeds-disagree": _E,  # a number of seeds that is not the number sown
    "thinned-to-more": _E,  # thinned to more plants than came up
    "count-of-plants": _E,  # a number of plants that does not fit those standing
    "count-went-down": _E,  # a cumulative count that goes down
    "lost-plant": _E,  # something from a plant after it was lost
    "never-sown": _E,  # something from a plant before it was sown
    "spots-exceeded": _E,  # more plants than the system has spots
    "plants-in-two": _E,  # a plant in two tubs, groups or varieties at once
    "plant-left-out": _E,  # a plant without a tub or a variety
    "spoilt-exceeds": _E,  # more spoilt than picked
    "spoilt-heavier": _E,  # a spoilt part heavier than the pick
    "spoilt-disagrees": _E,  # a number of spoilt pieces that their weight cannot be of
    "weights-disagree": _E,  # single weights that do not add up
    "routine-unknown": _W,  # a routine stopped that had not begun
    "shares-itself": _E,  # a tub that a run shares with itself
    "shared-one-sided": _E,  # a shared tub that the other run does not name as shared
    "never-shared": _E,  # a tub shared with a run that was not there at the same time
    "shared-differs": _E,  # one tub whose system or lamp two runs say otherwise
    "tally-below-picks": _E,  # a running tally below the picks it covers
    "tally-below-earlier": _E,  # a running tally below an earlier one and the picks after that
    "compare-without-split": _E,  # a comparison of sets that the run does not have, or that share plants
    "compare-crossed": _W,  # plants divided in ways that cross each other, and no word of which is compared
    # plausibility
    "impossible-value": _E,  # a reading outside what can be
    "unusual-value": _W,  # a reading outside what is usual
    "more-than-the-tub": _W,  # more water at once than the tub holds
    "tenfold": _W,  # a value ten times what its plant and the others had
    "sheet-day-twice": _W,  # two rows of a spreadsheet for one day, with other values
    "packed-later": _W,  # seed packed after the run, or in another age
    "shrunk": _W,  # a plant that got shorter without a cut
    "dose-unlike-label": _W,  # a dose far from the product's own
    "sheet-and-log": _E,  # a spreadsheet and the log that disagree
    # the record
    "long-gap": _W,  # a long time without an entry
    "no-end": _W,  # no end and no news for long
    "no-log": _E,  # an experiment without a log and without a date to start on
    "plan-passed": _W,  # a planned run whose start has passed
    "nothing-sown": _W,  # a log that never says what was sown
    "no-answer": _W,  # an experiment that ended without an answer
    # photos
    "photo-unreadable": _E,  # a photo that is broken or cut short
    "photo-too-large": _E,  # a photo with more pixels than are read
    "photo-needs-extra": _E,  # a photo in a format that needs the extra `heic`
    "photo-mislabelled": _W,  # a photo whose name ends like another format's
    "photo-animated": _W,  # a moving picture, of which the first frame is shown
    "photo-converted": _W,  # a photo in printing colours or with 16 bits a colour
    "photo-tiny": _W,  # a photo too small to show anything
    "photo-undated": _W,  # a photo that no day is known of
    # privacy
    "photo-location": _W,  # a photo that carries a location (it is removed)
    "personal-hint": _A,  # text that may say more of somebody than is meant; `validate --privacy` alone tells it
    "personal-detail": _W,  # text that looks like an address, a mail address or a telephone number
}
