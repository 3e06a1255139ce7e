"""The words that say what a number is about, in English and German.

In: text and a language. Out: topics, ranks ("first", "in all"), relations ("later", "more"), the thing counted. A topic
is a deed or a reading of the log, `stage:` with the name of a stage, or `part:` with what was picked.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache, lru_cache

_Table = Mapping[str, str]

# A topic that lies inside the words of one above it is not taken: "made it" is no harvest, "flower bud" no flower.
_TOPICS: dict[str, _Table] = {
    "en": {
        "lost": r"lost|lose|died?|dies|dead|death|fell over|collapsed|killed|made it(?! (?:to|in))|surviv\w*|alive"
        r"|pulled through|still standing|(?:that|which) left",
        "unweighed": r"(?:never|not|n['’]t) weighed|never got weighed|unweighed|without (?:being )?weigh\w*",
        "packet": r"packets?|labels?|claim\w*|seed company|supposed to|promis\w*|noted for the seed",
        "stage:flower_bud": r"(?:flower )?buds?(?! (?:light|lamp))",
        "stage:seed_leaves": r"seed leaves|seed leaf|cotyledons?",
        "stage:first_true_leaf": r"true lea(?:f|ves)",
        "stage:full_rosette": r"full rosettes?",
        "stage:rosette": r"rosettes?",
        "stage:side_shoots": r"side shoots?",
        "stage:head_start": r"(?:began|begun|started|forming) (?:a |its |their )?heads?|heads? (?:began|started|forming)",
        "stage:head_full": r"full heads?",
        "stage:head_loose": r"(?:coming|came) loose",
        "stage:root_swelling": r"swell\w*|swollen|fill(?:ed|ing|s)? out",
        "stage:full_root": r"full roots?",
        "stage:bolting": r"bolt(?:ed|ing|s)?|ran up|running up|ran to seed|shot up",
        "stage:first_flower": r"flower(?:s|ed|ing)?|bloom\w*|blossom\w*",
        "stage:first_fruit": r"(?:set|sets|setting) (?:a |its |their )?(?:first )?fruits?|first fruits?(?! turn)"
        r"|fruit set|green fruits?",
        "stage:full_pod": r"full pods?",
        "stage:first_pod": r"(?:first|set) pods?",
        "stage:first_colour": r"(?:fruits? |had |has |have )turn(?:ed|ing)"
        r"|turn(?:ed|ing)? (?:yellow|red|orange|purple)|colou?r(?:ed|ing)?|orange|blush\w*",
        "stage:ripe": r"ripe(?:n\w*)?|red",
        "transplant": r"transplant\w*|(?:moved|went|planted|put|set) (?:out |over )?into (?:the|their|its|a) \w+"
        r"|pott(?:ed|ing)",
        "sprouted": r"sprout\w*|germinat\w*|c[ao]me up|coming up|(?:were|was|are|is|had|all) up|emerg\w*|seedlings?",
        "sow": r"sow(?:n|ed|ing|s)?|from seed",
        "move": r"mov(?:ed?|es|ing)|(?:went|goes|put|shifted) (?:over )?to the|over to the",
        "change": r"chang(?:ed?|ing) (?:all|the water|the solution|out|of water)|water change",
        "thin": r"thinn\w*",
        "prune": r"prun\w*|trimm\w*|lowest leaves",
        "train": r"tied|canes?|stakes?|staked",
        "pollinate": r"pollinat\w*",
        "treat": r"treat(?:ed|ment)|spray\w*",
        "clean": r"clean\w*",
        "taste": r"tast\w*|sweet\w*|bitter\w*|flavou?rs?",
        "spoilt": r"spoil\w*|split|gone bad|went bad",
        "trouble": r"mould\w*|mold\w*|rot|rotten|rotting|pests?|aphids?|trouble|brown roots|smell\w*|disease",
        "distance": r"above the (?:plants|leaves|canopy)|distance|hangs?|hung|from the (?:lamp|leaves)",
        "energy": r"electricity|energy|kilowatt[- ]hours?|kwh",
        "power": r"power|current|watts?|draws?",
        "light": r"lamps?|lights?|lit",
        "refill": r"refill\w*|topp(?:ed|ing)[- ]up|top[- ]?ups?|tops? up",
        "water": r"water\w*|drank|drink\w*|drunk|thirst\w*",
        "feed": r"feed\w*|fed|nutrients?|fertili\w*|dose[sd]?",
        "ec": r"ec|conductivity|ppm",
        "ph": r"ph",
        "humidity": r"humid\w*",
        "air": r"air|loft|room|warm\w*|hot|heat|cold|cool|temperature",
        "spread": r"wide|across|spread|width",
        "headroom": r"headroom|room left|below the lamp",
        "height": r"tall\w*|heights?|stood at|high",
        "part:leaf": r"leaves|leaf",
        "end": r"(?:was|is|were) over|ended|end of the run|clear(?:ed|ing)|stopped|finished",
        "visit": r"visit\w*|entries",
        "holds": r"holds?|capacity|reservoirs?",
        "harvest": r"first (?:ripe )?(?:tomato(?:es)?|peppers?|beans?|pods?|fruits?|radish(?:es)?|leaves|ones)"
        r"|pick(?:s|ed|ing|ings)?|harvest\w*|yield\w*|gave|give[sn]?|made|produced?|cuts?|weigh\w*"
        r"|on the scale|crop",
        "cost": r"cost\w*|paid|spent",
    },
    "de": {
        "lost": r"eingegangen|gestorben|starb\w*|verlor\w*|abgestorben|umgefallen|umgekippt|tot|überleb\w*"
        r"|durchgekommen|geschafft",
        "unweighed": r"(?:nie|nicht|niemals) gewogen|ungewogen",
        "packet": r"packung|(?:samen)?t(?:ü|ue)t(?:e|chen)|versprach\w*|verspr\w*|angabe\w*",
        "stage:flower_bud": r"(?:blüten)?knospen?",
        "stage:seed_leaves": r"keimbl(?:ä|a)tt\w*",
        "stage:first_true_leaf": r"laubbl(?:ä|a)tt\w*|echten? bl(?:ä|a)tt\w*",
        "stage:full_rosette": r"vollen? rosetten?",
        "stage:rosette": r"rosetten?",
        "stage:side_shoots": r"seitentriebe?n?",
        "stage:head_full": r"vollen? k(?:o|ö)pfe?",
        "stage:head_start": r"k(?:o|ö)pfe?",
        "stage:root_swelling": r"(?:ver)?dick(?:t|te|ten|ter|er)|(?:an)?geschwollen\w*|knollen?|rüben? gebildet",
        "stage:bolting": r"geschossen|schoss(?:en)?|schieß(?:t|en)|in die höhe geschossen",
        "stage:first_flower": r"blüten?|blüh\w*|geblüht|aufgeblüht",
        "stage:first_fruit": r"fruchtansatz|angesetzt|grünen? früchten?",
        "stage:first_pod": r"ersten? (?:hülsen?|schoten?)",
        "stage:full_pod": r"vollen? (?:hülsen?|schoten?)",
        "stage:first_colour": r"(?:gelb|rot|orange) geworden|verfärb\w*|umgefärbt|farbe|orange",
        "stage:ripe": r"reif\w*|gereift|rot(?:e[nrs]?)?",
        "transplant": r"umgepflanzt|umgetopft|ausgepflanzt|eingesetzt|verpflanz\w*|umpflanz\w*"
        r"|(?:in|ins) (?:die|den|das|ihre|ihren)? ?\w+ (?:gesetzt|gezogen|gepflanzt|gekommen)",
        "sprouted": r"gekeimt|keim(?:t|te|ten|en|linge?n?)|aufgegangen|aufgelaufen|gingen auf|sämlinge?n?",
        "sow": r"(?:aus)?gesät|aussaat|säe?n|säte",
        "move": r"umgesetzt|(?:kam|kommt|zog|zieht) in |versetzt|umgestellt|verschob\w*|umgezogen",
        "change": r"wasserwechsel|gewechselt|ausgetauscht",
        "thin": r"ausgedünnt|vereinzelt",
        "prune": r"ausgegeizt|zurückgeschnitten|untersten? blätter",
        "train": r"angebunden|st(?:a|ä)be?n?",
        "pollinate": r"bestäub\w*",
        "treat": r"behandelt|gespritzt|behandlung",
        "clean": r"geputzt|gereinigt|gesäubert",
        "taste": r"geschm\w+|schmeck\w*|gekostet|probiert|süß\w*|bitter\w*|verkost\w*",
        "spoilt": r"verdorben|geplatzt|schlecht geworden",
        "trouble": r"schimmel\w*|fäule|faul\w*|läuse|schädling\w*|braune wurzeln|geruch|krankheit",
        "distance": r"über den (?:pflanzen|blättern)|abstand|hängt|hing",
        "energy": r"stromverbrauch|energie|kilowattstunden?|kwh",
        "power": r"leistung|watt|strom",
        "light": r"lampen?|licht|beleuchtet|beleuchtung|leuchten?",
        "refill": r"nachgefüllt|nachfüll\w*|aufgefüllt|auffüll\w*",
        "water": r"wassers?|gegossen|gieß\w*|goss\w*|getrunken|tr(?:a|i)nk\w*|gebraucht",
        "feed": r"düng\w*|gedüngt|nährstoff\w*|nährlösung|dosis|dosen",
        "ec": r"ec|ec[- ]?wert|leitwert|leitfähigkeit|ppm",
        "ph": r"ph|ph[- ]?wert",
        "humidity": r"luftfeuchte|luftfeuchtigkeit|feucht\w*",
        "air": r"luft|raum|dachboden|warm\w*|wärm\w*|heiß\w*|hitze|kalt|kühl\w*|temperatur\w*",
        "spread": r"breit\w*|durchmesser",
        "headroom": r"luft nach oben|platz nach oben",
        "height": r"hoch|höhe|groß\w*|größte?\w*|höchste?\w*|maß|maßen",
        "part:leaf": r"blätter\w*|blatt",
        "end": r"vorbei|beendet|ende|geräumt|abgeräumt|aufgehört",
        "visit": r"besuch\w*|einträge?n?",
        "holds": r"fass(?:en|t)|fässt|fassungsvermögen|inhalt",
        "harvest": r"erste[nrs]? (?:reifen? )?(?:tomaten?|früchte?|frucht|paprika|bohnen?|radieschen|blätter)"
        r"|geerntet|ernte\w*|gepflückt|pflück\w*|abgeschnitten|schnitt|ergab\w*|brachten?|gab(?:en)?|wog(?:en)?"
        r"|gewogen|ertrag\w*|auf der waage",
        "cost": r"kosten|kostete\w*|gekostet|bezahlt",
    },
}

_RANKS: dict[str, _Table] = {
    "en": {
        "first": r"first",
        "last": r"last|final",
        "total": r"in total|in all|altogether|all together|so far|total|overall|came to|comes? to|all picks",
        "mean": r"averag\w*|mean|on average",
        "max": r"biggest|largest|most|tallest|highest|peak\w*|hit|maximum|warmest|hottest"
        r"|record|best|up to|at (?:the )?most",
        "min": r"smallest|lowest|shortest|coldest|coolest|minimum|lightest",
        "each": r"each|apiece|per plant|a plant",
        "daily": r"(?:a|per|each|every) day|daily",
        "turned": r"turned|turning|began|begun|started|opened|became|bec[ao]me|went",
        "survive": r"made it|surviv\w*|alive|pulled through|still standing|(?:that|which) left",
        "best plant": r"(?:best|heaviest|biggest|largest|strongest) (?:single )?(?:plant|spot|cup|pot|one)"
        r"(?! (?:pick|cut))",
        "up to then": r"by then|so far|now|until then|since then",
    },
    "de": {
        "first": r"erste[rnsm]?|zuerst",
        "last": r"letzte[rnsm]?",
        "total": r"insgesamt|zusammen|bisher|bislang|alles in allem|gesamt\w*|in summe",
        "mean": r"durchschnitt\w*|im schnitt|im mittel",
        "max": r"größte\w*|höchste\w*|höchstens|meisten?|wärmste\w*|heißeste\w*|bis zu|maximal|rekord|beste\w*",
        "min": r"kleinste\w*|niedrigste\w*|kälteste\w*|leichteste\w*|minimal",
        "daily": r"(?:pro|jeden) tag|täglich",
        "each": r"je|jeweils|jede[rs]?|pro pflanze",
        "turned": r"wurden?|begann\w*|begonnen|fing\w*|öffnete\w*|angefangen",
        "survive": r"überleb\w*|durchgekommen|geschafft",
        "best plant": r"(?:beste|schwerste|ertragreichste|stärkste)[rn]? (?:einzelne )?(?:pflanze|topf|platz)",
        "up to then": r"bis dahin|bisher|bislang|jetzt|inzwischen",
    },
}

# What is counted through: "the third pick", "the second flush".
_NTH: dict[str, _Table] = {
    "en": {
        "pick": r"pick(?:ing)?|cut|harvest",
        "flush": r"flush|crop|round",
        "taste": r"tasting|taste",
    },
    "de": {
        "pick": r"ernte|schnitt|pflücke",
        "flush": r"schub|welle|flush",
        "taste": r"verkostung|kostprobe",
    },
}
_ORDINALS = {
    "en": (
        "first|1st",
        "second|2nd",
        "third|3rd",
        "fourth|4th",
        "fifth|5th",
        "sixth|6th",
        "seventh|7th",
        "eighth|8th",
    ),
    "de": (
        "erste[rnms]?",
        "zweite[rnms]?",
        "dritte[rnms]?",
        "vierte[rnms]?",
        "fünfte[rnms]?",
        "sechste[rnms]?",
        "siebte[rnms]?",
        "achte[rnms]?",
    ),
}
_RELATIONS: dict[str, _Table] = {
    "en": {
        "later": r"later|after that|afterwards|after this",
        "sooner": r"ahead|early|earlier|sooner|before|faster|beat|first, by",
        "behind": r"behind|late|later than|slower|longer than|over the packet",
        "ahead": r"ahead|early|earlier|sooner|beat|faster|late|behind",
        "more": r"more|bigger|larger|taller|heavier|higher|as much|again",
        "less": r"less|fewer|smaller|lighter|shorter|lower",
        "not": r"not|no|never|none|\w+n['’]t|without|still to",
        "least": r"at least|or more|no less than|minimum of",
        "about taste between": r"difference|between|tell (?:them )?apart|which lamp|preferred",
        "unsaid place": r"under the lamp",
    },
    "de": {
        "later": r"später|danach|darauf",
        "sooner": r"früher|vor|eher|schneller|voraus",
        "behind": r"hinter|langsamer|später als",
        "ahead": r"früher|eher|schneller|voraus|später als",
        "more": r"mehr|größer|höher|schwerer|so ?viel",
        "less": r"weniger|kleiner|leichter|niedriger",
        "not": r"nicht|kein\w*|nie|niemals|ohne|noch nicht",
        "least": r"mindestens|wenigstens",
        "about taste between": r"unterschied|zwischen|auseinanderhalten|vergleich",
        "unsaid place": r"unter der lampe",
    },
}

_TAKES_ITS_WORDS = frozenset({"lost", "packet", "unweighed", "transplant", "change"})

# The thing counted, within three words after a number.
_NOUNS: dict[str, _Table] = {
    "en": {
        "plant": r"plants?",
        "seedling": r"seedlings?",
        "seed": r"seeds?",
        "tub": r"tubs?|jars?|trays?|boxes|box|buckets?|systems?",
        "lamp": r"lamps?|lights?|strips?|panels?|bars?",
        "person": r"people|persons?|tasters?|friends?|of us",
        "pick": r"picks?|harvests?|pickings?|cuts",
        "visit": r"visits?|entries",
        "refill": r"refills?|top[- ]?ups?|waterings?",
        "feeding": r"feeds?|feedings?|doses?",
        "leaf": r"leaves|leaf",
        "piece": r"fruits?|pods?|tomatoes|tomato|peppers?|beans?|radish(?:es)?|carrots?|heads?|roots?|pieces?|ones",
        "group": r"groups?|kinds?|varieties|variety|sorts?",
        "run": r"runs|tries",
        "spot": r"spots?|places?|holes?|pots?|cups?",
        "time": r"times",
    },
    "de": {
        "plant": r"pflanzen?",
        "seedling": r"sämlinge?n?|keimlinge?n?",
        "seed": r"samen(?:körner)?|körnern?|korn",
        "tub": r"wannen?|kübeln?|kisten?|gläsern?|becken|tubs?|schalen?|eimern?",
        "lamp": r"lampen?|leuchten?",
        "person": r"leuten?|personen?|menschen|freunden?",
        "pick": r"ernten?",
        "visit": r"besuchen?|einträgen?",
        "refill": r"nachfüllungen|auffüllungen",
        "feeding": r"düngungen|düngergaben|gaben|dosen",
        "leaf": r"blättern?|blatt",
        "piece": r"früchten?|frucht|tomaten?|paprika|bohnen?|radieschen|möhren?|karotten?|köpfen?|schoten?|stück",
        "group": r"gruppen?|sorten?|arten",
        "run": r"läufen?|durchgängen?|versuchen?",
        "spot": r"plätzen?|platz|töpfen?",
        "time": r"mal",
    },
}


def language_of(language: str) -> str:
    """The language whose words are looked for: English where there is no table."""
    base = language.partition("-")[0].lower()
    return base if base in _TOPICS else "en"


@cache
def _patterns(kind: str, language: str) -> dict[str, re.Pattern[str]]:
    table = {"topics": _TOPICS, "ranks": _RANKS, "relations": _RELATIONS, "nouns": _NOUNS}[kind][language]
    return {name: re.compile(rf"\b(?:{words})\b") for name, words in table.items()}


@lru_cache(512)  # many numbers of one sentence are asked about the same clause of it
def topics_in(text: str, language: str) -> frozenset[str]:
    """The topics of a text; words of one are not looked at again for the next."""
    left, found = text.lower(), set()
    for topic, pattern in _patterns("topics", language_of(language)).items():
        if pattern.search(left):
            found.add(topic)
            if topic in _TAKES_ITS_WORDS or (topic.startswith("stage:") and topic != "stage:first_fruit"):
                left = pattern.sub(" ", left)
    return frozenset(found)


def ranks_in(text: str, language: str) -> frozenset[str]:
    """The ranks of a text: first, last, in all, on average, most, least, each."""
    patterns = _patterns("ranks", language_of(language))
    return frozenset(name for name, pattern in patterns.items() if pattern.search(text.lower()))


@cache
def _nth_patterns(language: str) -> tuple[tuple[str, re.Pattern[str]], ...]:
    return tuple(
        (nth(thing, at), re.compile(rf"\b(?:{ordinal}) (?:{words})\b"))
        for thing, words in _NTH[language].items()
        for at, ordinal in enumerate(_ORDINALS[language], 1)
    )


def nth(thing: str, at: int) -> str:
    """The rank of one in a row of picks, of flushes or of tastings."""
    return f"nth {thing} {at}"


def thing_of(rank: str) -> str:
    """What is counted through by a rank of `nth`."""
    return rank.split(" ")[1]


def ordinal_in(text: str, language: str) -> int:
    """The first place in a row that a text names; 0 where it names none."""
    ordinals = enumerate(_ORDINALS[language_of(language)], 1)
    return next((at for at, words in ordinals if re.search(rf"\b(?:{words})\b", text.lower())), 0)


def nth_in(text: str, language: str) -> frozenset[str]:
    """Which pick, flush or tasting in its row a text speaks of."""
    lower = text.lower()
    return frozenset(name for name, pattern in _nth_patterns(language_of(language)) if pattern.search(lower))


def relations_in(text: str, language: str) -> frozenset[str]:
    """How a text relates its number to something else."""
    patterns = _patterns("relations", language_of(language))
    return frozenset(name for name, pattern in patterns.items() if pattern.search(text.lower()))


def noun_in(text: str, language: str) -> tuple[str, int, int] | None:
    """The first thing counted in the few words after a number, with its place; None where there is none."""
    lower = text.lower()
    found = [
        (match.start(), -match.end(), noun)
        for noun, pattern in _patterns("nouns", language_of(language)).items()
        if (match := pattern.search(lower))
    ]
    if not found:
        return None
    begin, end, noun = min(found)
    # Of two in a row the last is counted: "three tomato plants".
    for further, after, other in sorted(found):
        if further > begin and not lower[-end:further].strip(" -"):
            end, noun = after, other
    return noun, begin, -end
