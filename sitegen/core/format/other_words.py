"""Words that people write for a key of the format: their own, and those of German.

In: a word that is no key. Out: the key that it may stand for. They are offered, never taken: `cut` can be a pruning or a
harvest.
"""

from __future__ import annotations

from sitegen.core.format.fields import Table
from sitegen.core.format.spelling import folded

# Key → words, in small letters; a word of two parts has an underscore.
_WORDS = {
    "day": "days tag tage",
    "date": "datum when",
    "sow": "sown sowed seeded sowing aussaat gesät gesaet",
    "sprouted": "germinated germination emerged seedlings gekeimt keimung keimlinge",
    "thin_to": "thinned thinning vereinzelt ausgedünnt",
    "transplant": "transplanted planted_out repotted umgepflanzt umgetopft ausgepflanzt pikiert",
    "water": "watered watering refill refilled top_up topped_up wasser gegossen nachgefüllt",
    "feed": "fed nutrients fertilizer fertiliser fertilized fertilised dünger duenger gedüngt düngung",
    "adjust": "adjusted ph_down ph_up",
    "height": "tall plant_height höhe hoehe größe groesse wuchshöhe",
    "spread": "width diameter breite durchmesser",
    "leaves": "leaf_count blätter blaetter",
    "count": "number anzahl",
    "ec": "conductivity leitfähigkeit leitwert",
    "ph": "acidity ph_value ph_wert",
    "water_temperature": "water_temp solution_temperature wassertemperatur",
    "air_temperature": "temperature temp room_temperature air_temp lufttemperatur temperatur raumtemperatur",
    "leaf_temperature": "leaf_temp blatttemperatur",
    "humidity": "rh moisture luftfeuchte luftfeuchtigkeit feuchte",
    "ppfd": "par",
    "lux": "brightness illuminance helligkeit",
    "light": "lights lighting licht beleuchtung",
    "milestone": "stage phase stadium meilenstein",
    "prune": "pruned pruning trimmed pinched schnitt geschnitten zurückgeschnitten",
    "train": "trained tied staked aufgebunden angebunden",
    "pollinate": "pollinated pollination bestäubt bestäubung",
    "treat": "treated treatment sprayed spray behandelt behandlung gespritzt",
    "clean": "cleaned cleaning gereinigt geputzt reinigung",
    "trouble": "problem problems issue pest pests disease schädling schädlinge krankheit",
    "harvest": "picked picking yield harvested ernte geerntet ertrag",
    "total_so_far": "total running_total gesamt bisher",
    "taste": "flavour flavor tasting geschmack",
    "photo": "picture pictures image images pic pics bild bilder foto fotos",
    "clip": "video videos footage",
    "note": "comment remark notiz bemerkung kommentar anmerkung",
    "lost": "died dead verloren eingegangen gestorben",
    "move": "moved umgesetzt",
    "end": "ended finished ende",
    "title": "titel headline",
    "question": "frage",
    "crop": "species kultur",
    "variety": "cultivar sorte",
    "system": "setup anlage",
    "start": "begin started beginn",
    "plants": "pflanzen",
    "groups": "gruppen",
    "seed": "saatgut samen",
    "answer": "conclusion antwort ergebnis",
    "weight": "mass gewicht",
    "name": "label bezeichnung",
    "kind": "type art",
}
_KEY_OF = {word: key for key, words in _WORDS.items() for word in words.split()}


def key_for(word: str, table: Table) -> str:
    """The key of a table that another word may stand for; empty where there is none."""
    key = _KEY_OF.get(folded(word), "")
    return key if table.has(key) else ""
