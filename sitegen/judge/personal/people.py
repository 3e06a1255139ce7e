"""What tells who somebody is and when nobody is at home: people by name, birthdays, absences, habits by the clock.

In: nothing. Out: `PEOPLE`, a table of patterns. A word with a capital is no name by itself: varieties, products and, in
German, all nouns have one. A name is told only behind a title or a relation.
"""

from __future__ import annotations

import re

from sitegen.judge.privacy import Detail

_I = re.IGNORECASE
_NAME = r"(?-i:[A-ZÄÖÜ][a-zäöüß]+)(?!['’]s (?-i:[A-Z]))"
_KIN = (
    "wife|husband|partner|girlfriend|boyfriend|son|daughter|mother|mum|mom|father|dad|sister|brother|aunt|uncle|cousin|niece|"
    "nephew|grandmother|grandfather|grandma|grandpa|granddaughter|grandson|neighbour|neighbor|landlord|landlady|boss|"
    "colleague|friend|flatmate|roommate|kid"
)
_KIN_DE = (
    "Frau|Mann|Partnerin|Partner|Freundin|Freund|Sohn|Tochter|Mutter|Mama|Vater|Papa|Schwester|Bruder|Tante|Onkel|Cousine|"
    "Oma|Opa|Nachbarin|Nachbar|Vermieterin|Vermieter|Chefin|Chef|Kollegin|Kollege|Mitbewohnerin|Mitbewohner"
)
_WHO = r"(?:I|we|they|he|she|everyone|everybody|nobody|the (?:whole )?family|the neighbours)"
_CLOCK = r"(?:\d{1,2}[:.]\d{2}(?: ?(?:am|pm|Uhr|h))?|\d{1,2} ?(?:am|pm|o['’]clock|Uhr))"
_MONTH = (
    "January|February|March|April|May|June|July|August|September|October|November|December|Januar|Februar|März|Mai|Juni|"
    "Juli|Oktober|Dezember"
)
_AWAY_SIGNS = (
    *(
        "HOLIDAY",
        "VACATION",
        "AWAY",
        "OUT OF TOWN",
        "ABROAD",
        "NOBODY",
        "NO ONE",
        "EMPTY",
        "HOME ALONE",
        "BUSINESS TRIP",
    ),
    *(
        "URLAUB",
        "VERREIST",
        "NIEMAND",
        "NICHT ZU HAUSE",
        "DIENSTREISE",
        "IN THE HOSPITAL",
        "IN HOSPITAL",
        "KEY ",
    ),
    *("SCHLÜSSEL", "ALARM", "FERIEN"),
)
_FREE = r"(?:holidays?|vacation|business trip)"
_ELSEWHERE = r"away\b(?! from (?:the|its|their|each|one))(?! with)|out of town|abroad|in (?:the )?hospital"
_GONE = rf"(?:on (?:a )?{_FREE}|{_ELSEWHERE})"
_IS = r"(?:was|were|am|are|is|had been|have been|has been|will be|went|go|left|drove|flew)"
_AWAY = (
    rf"\b{_WHO} {_IS}(?: \w+)? {_GONE}",
    rf"\b(?:we|I)['’](?:re|m|ll be) {_GONE}",
    rf"\b(?:before|after|during|while|back from|home from|left for|over) (?:my|our|the|a|on)? ?(?:\w+ )?{_FREE}\b",
    r"\b(?:nobody|no one|no-one) (?:was|is|will be|is ever)? ?(?:at )?home\b",
    r"\b(?:house|flat|apartment|home) (?:was|is|stands|stood|will be) empty\b|\bhome alone\b",
    r"\b(?:im|in den|in|aus dem|vom|nach dem|vor dem) (?:Urlaub|Ferien)\b|\bauf Dienstreise\b|\bverreist\b",
    r"\bniemand (?:war |ist )?(?:zu Hause|daheim)\b|\bnicht zu Hause\b",
    r"\b(?:spare )?key (?:is |lies |hangs )?under (?:the|a)\b|\b(?:burglar )?alarm (?:code|is off|was off)\b",
    r"\bSchlüssel (?:liegt |ist |hängt )?unter (?:der|dem)\b",
)
_ME = r"\b(?:I|we|ich|wir)\b"
_EACH = r"\b(?:every|each|always|daily|weekdays?|workdays?|Mondays?|jeden|täglich|immer|werktags)\b"
_AT = rf"\b(?:at|until|from|before|after|by|um|bis|ab|gegen) {_CLOCK}"
_SOME, _MORE = r"[^.!?\n]{0,30}", r"[^.!?\n]{0,50}"
_WORK = r"\b(?:work|office|school|Arbeit|Büro|Schule)\b"
_HABITS = (
    rf"{_ME}{_MORE}{_EACH}{_MORE}{_AT}",
    rf"{_EACH}{_SOME}{_ME}{_MORE}{_AT}",
    rf"{_ME}{_SOME}{_AT}{_SOME}\b(?:every|each|jeden|täglich)\b",
    rf"\b(?:leave|left|back|home|gehe|komme)\b{_SOME}{_WORK}{_SOME}\b(?:at|um|gegen) {_CLOCK}",
)
_BORN = r"\b(?:date of birth|birthday|born|geboren|Geburtsdatum|Geburtstag)\b[ :,]*(?:is |ist |on |am |was )*(?:the )?"
_DATE = (
    rf"\d{{1,2}}(?:st|nd|rd|th)?\.? ?(?:of )?(?:{_MONTH})",
    rf"(?:{_MONTH}) \d{{1,2}}",
    r"\d{1,2}[./]\d{1,2}[./]\d{2,4}",
    r"\d{4}-\d\d-\d\d",
)
_TITLED = r"\b(?:Mr|Mrs|Ms|Miss|Dr|Prof|Herrn?|Frau)\.? [A-ZÄÖÜ][a-zäöüß]{2,}(?:[- ][A-ZÄÖÜ][a-zäöüß]{2,})?"


def _name(signs: str, pattern: str, flags: int = 0) -> Detail:
    """A pattern of names, and the words that it has one of."""
    return Detail(
        "the name of a person", "capitals", tuple(signs.upper().split("|")), re.compile(pattern, flags)
    )


PEOPLE = (
    _name("Mr|Ms|Dr|Herr|Frau|Prof|Miss", rf"{_TITLED}(?!['’]s [A-Z])"),
    _name(_KIN, rf"\b(?:my|our|his|her|their|a|old) (?:\w+ )?(?:{_KIN}),? {_NAME}", _I),
    _name(
        "neighbo|aunt|uncle|grandm|grandp",
        r"\b(?:[Nn]eighbou?r|[Aa]unt|[Uu]ncle|[Gg]rand(?:ma|pa)) [A-Z][a-z]{2,}\b(?!['’]s [A-Z])",
    ),
    _name(
        _KIN_DE,
        rf"\b(?:(?:[Mm]ein|[Uu]nser)(?:e[rnm]?)?|[Uu]nsr[ea]r?) (?:{_KIN_DE}),? [A-ZÄÖÜ][a-zäöüß]{{2,}}\b",
    ),
    _name(
        "Nachbar|Onkel|Tante|Oma|Opa",
        r"\b(?:Nachbar(?:in)?|Onkel|Tante|Oma|Opa) [A-ZÄÖÜ][a-zäöüß]{2,}\b(?!s [A-ZÄÖÜ])",
    ),
    Detail(
        "a date of birth",
        "capitals",
        ("BIRTH", "BORN", "GEBOREN", "GEBURTS"),
        re.compile(f"{_BORN}(?:{'|'.join(_DATE)})", _I),
    ),
    Detail("a time when nobody is at home", "capitals", _AWAY_SIGNS, re.compile("|".join(_AWAY), _I)),
    Detail(
        "a habit by the clock",
        "shape",
        ("0:00", "0.00", "0 a", "0 p", "0 o", "0a", "0p", "0 A"),
        re.compile("|".join(_HABITS), _I),
    ),
)
