"""What tells where somebody lives: coordinates, postcodes, flats, streets, networks, words about a home.

In: nothing. Out: `PLACES`, a table of patterns. They are wider than those that every command tells of: they are only
asked for. Forms of postcodes are from memory, as the countries publish them.
"""

from __future__ import annotations

import re

from sitegen.judge.privacy import Detail

_DEGREES = r"\d{1,3}\s?°\s?\d{1,2}(?:[.,]\d+)?\s?[′']\s?(?:\d{1,2}(?:[.,]\d+)?\s?[″\"]\s?)?[NSEWO]\b"
_NO_UNIT = r"(?!\s?(?:cm|mm|m|g|kg|ml|l|L|W|h|days?|plants?|cups?|pots?|%|°)\b)"
_AREAS_UK = (
    "AB|AL|BA|BB|BD|BH|BL|BN|BR|BS|BT|CA|CB|CF|CH|CM|CO|CR|CT|CV|CW|DA|DD|DE|DG|DH|DL|DN|DT|DY|EC|EH|EN|EX|FK|FY|GL|GU|"
    "HA|HD|HG|HP|HR|HS|HU|HX|IG|IP|IV|KA|KT|KW|KY|LA|LD|LE|LL|LN|LS|LU|ME|MK|ML|NE|NG|NN|NP|NR|NW|OL|OX|PA|PE|PH|PL|PO|PR|"
    "RG|RH|RM|SA|SE|SG|SK|SL|SM|SN|SO|SP|SR|SS|ST|SW|SY|TA|TD|TF|TN|TQ|TR|TS|TW|UB|WA|WC|WD|WF|WN|WR|WS|WV|YO|ZE|"
    "B|G|L|M|N|S|W"
)
_STATES = (
    "AL|AK|AZ|AR|CA|CO|CT|DE|FL|GA|HI|ID|IL|IN|IA|KS|KY|LA|ME|MD|MA|MI|MN|MS|MO|MT|NE|NV|NH|NJ|NM|NY|NC|ND|OH|OK|OR|PA|RI|SC|"
    "SD|TN|TX|UT|VT|VA|WA|WV|WI|WY|DC"
)
# Nouns that German writes with a capital behind a number of five digits, and units.
_NO_TOWN = (
    r"(?!Lux|Lumen|Kelvin|Samen|Stunden|Liter|Gramm|Euro|Dollar|Watt|Werte|Messungen|Blätter|Zellen|Watts|Lx)"
)


def _pair(text: str) -> bool:
    """Whether two numbers can be a latitude and a longitude."""
    north, east = (float(part) for part in re.findall(r"(?<!\d)-?\d++\.\d+", text)[:2])
    return abs(north) <= 90 and abs(east) <= 180


def _detail(name: str, sign: tuple[str, ...], pattern: str, *, flags: int = 0) -> Detail:
    return Detail(name, "capitals", sign, re.compile(pattern, flags))


_I = re.IGNORECASE
PLACES = (
    _detail("a point on a map", ("GEO:",), r"\bgeo:-?\d\S*", flags=_I),
    Detail(
        "coordinates",
        "text",
        (".",),
        re.compile(r"(?<![\w.,:])-?\d{1,2}\.\d{4,}\s?°?\s?[NS]?\s?[,; ]\s?-?\d{1,3}\.\d{4,}(?!\w|\.\d)"),
        _pair,
    ),
    _detail("coordinates", ("°",), _DEGREES),
    _detail(
        "a point on a map",
        ("MAP",),
        r"\bhttps?://(?=\S*?(?:maps\.|/maps\b|map=|goo\.gl/maps|maps\?))\S+",
        flags=_I,
    ),
    Detail(
        "a postcode",
        "shape",
        ("00000 A",),
        re.compile(
            rf"(?<![\w.,])(?:[AD]-)?[0-9]{{5}} {_NO_TOWN}[A-ZÄÖÜ][a-zäöüß]{{3,}}(?! (?:per|pro|am)\b)"
        ),
    ),
    Detail(
        "a postcode",
        "shape",
        ("A-0000 A", "AA-0000 A"),
        re.compile(r"\b(?:A|CH|B|L|DK)-[0-9]{4} [A-ZÄÖÜ][a-zäöü]+"),
    ),
    _detail(
        "a postcode",
        ("PLZ", "POSTCODE", "ZIP", "POSTLEITZAHL"),
        r"\b(?:PLZ|postcode|post code|zip code|zip|Postleitzahl)\b[: ]{1,2}(?:is |ist )?[A-Z]{0,2}\d[A-Z0-9 -]{2,7}\b",
        flags=_I,
    ),
    Detail(
        "a postcode",
        "shape",
        (" 0AA",),
        re.compile(rf"\b(?:{_AREAS_UK})[0-9][0-9A-Z]? [0-9][ABD-HJLNP-UW-Z]{{2}}\b"),
    ),
    Detail(
        "a postcode",
        "shape",
        ("A 00000", "A, 00000"),
        re.compile(rf"\b[A-Z][a-z]+,? (?:{_STATES}),? [0-9]{{5}}(?:-[0-9]{{4}})?\b"),
    ),
    Detail(
        "a postcode",
        "shape",
        ("0000 AA ", "0000AA "),
        re.compile(r"\b[1-9][0-9]{3} ?[A-Z]{2} (?=[A-Z][a-z]{3})"),
    ),
    Detail(
        "a postcode",
        "shape",
        ("A0A 0A0",),
        re.compile(r"\b[ABCEGHJ-NPRSTVXY][0-9][ABCEGHJ-NPRSTV-Z] [0-9][ABCEGHJ-NPRSTV-Z][0-9]\b"),
    ),
    _detail(
        "the number of a home",
        ("FLAT ", "APARTMENT", "APT", "HOUSE N", "HAUSN", "WOHNUNG", "STIEGE", "TÜR"),
        rf"\b(?:flat|apartment|apt\.?|house (?:number|no\.?)|Haus(?:nummer|nr\.?)|Wohnung|Stiege|Tür)"
        rf" ?(?:no\.? ?|nr\.? ?)?\d{{1,4}}(?: ?[a-z])?\b{_NO_UNIT}",
        flags=_I,
    ),
    Detail(
        "a street address",
        "shape",
        ("0 A", "0a A"),
        re.compile(
            r"\b[0-9]{1,4}[a-z]? (?:[A-Z][a-z'’-]+ ){1,2}"
            r"(?:Close|Court|Crescent|Way|Terrace|Grove|Mews|Hill|Place|Square)\b"
        ),
    ),
    Detail(
        "a street address",
        "text",
        ("str.", "weg ", "platz ", "ring ", "damm ", "ufer "),
        re.compile(
            r"\b(?!Stell|Pflanz|Sitz|Arbeits|Stand|Park|Abstell|Lager|Hydro|Licht|Frei|Zwischen|Mess|Dicht|Tages|Gummi)"
            r"[A-ZÄÖÜ][\wäöüß-]{2,}(?:str\.|weg|platz|ring|damm|ufer) \d{1,3}[a-z]?\b" + _NO_UNIT
        ),
    ),
    _detail(
        "words about a home",
        ("LIVE ", "WOHNE", "ADDRESS IS", "ADRESSE IST", "LIVING IN"),
        r"\b(?:(?:I|we) live (?:in|on|at|near|next to|opposite|behind) (?:the )?(?-i:[A-Z])[\w-]+|"
        r"(?:ich wohne|wir wohnen) (?:in|am|an der|neben|bei) (?:der |dem )?(?-i:[A-ZÄÖÜ])[\w-]+|"
        r"(?:my|our) address is|(?:meine|unsere) Adresse ist)",
        flags=_I,
    ),
    _detail(
        "words about work or school",
        ("WORK AT ", "WORK FOR ", "ARBEITE BEI", "SCHOOL IS", "'S SCHOOL", "’S SCHOOL"),
        r"\b(?:(?:I|we) work (?:at|for) (?:the )?(?-i:[A-Z])[\w-]+|"
        r"(?:ich arbeite|wir arbeiten) (?:bei|im|in der) (?-i:[A-ZÄÖÜ])[\w-]+|"
        r"(?:son|daughter|kids?|children|boy|girl)['’]s?'? school\b)",
        flags=_I,
    ),
)
