"""Readings of plants and of the tub: `height` … `lux`.

In: the pieces of a line that a rule has. Out: `RULES`; the value of a key as YAML text, or None where it is not certain.
"""

from __future__ import annotations

from collections.abc import Sequence

from sitegen.core.values.units import Dimension
from sitegen.filing.entries.entry_text import braced
from sitegen.filing.words.atoms import Amount, Kind, Piece, Rule, Which, one_or_none
from sitegen.filing.words.known import Known
from sitegen.filing.words.unit_words import DEGREES

D = Dimension

RULES = (
    Rule("height", ("height", "heights", "tall", "high"), ("höhe", "höhen", "hoch", "groß")),
    Rule(
        "spread",
        ("spread", "across", "wide", "diameter", "width"),
        ("breite", "breit", "durchmesser", "spannweite"),
    ),
    Rule("leaves", ("leaves", "leaf", "leaf count"), ("blätter", "blatt", "blättern"), weak=True),
    Rule("count", ("flowers", "blooms", "blossoms"), ("blüten",), "flowers", weak=True),
    Rule("count", ("buds", "flower buds"), ("knospen", "blütenknospen"), "buds", weak=True),
    Rule("count", ("fruits", "fruit"), ("früchte", "frucht"), "fruits", weak=True),
    Rule("count", ("pods",), ("schoten", "hülsen"), "pods", weak=True),
    Rule("count", ("side shoots", "suckers"), ("seitentriebe", "geiztriebe"), "side shoots", weak=True),
    Rule("count", ("runners",), ("ausläufer",), "runners", weak=True),
    Rule("ec", ("ec", "e c", "conductivity"), ("ec-wert", "leitwert", "leitfähigkeit")),
    Rule("ph", ("ph", "p h", "acidity"), ("ph-wert",)),
    Rule(
        "water_temperature",
        ("water temperature", "temperature of the water", "water", "solution", "reservoir", "res"),
        ("wassertemperatur", "wasser", "nährlösung", "lösung"),
        weak=True,
    ),
    Rule(
        "air_temperature",
        ("air temperature", "air", "room", "room temperature", "tent"),
        ("lufttemperatur", "luft", "raumtemperatur", "raum", "zelt"),
        weak=True,
    ),
    Rule("leaf_temperature", ("leaf temperature",), ("blatttemperatur",)),
    Rule("humidity", ("humidity", "rh", "relative humidity"), ("luftfeuchte", "luftfeuchtigkeit", "feuchte")),
    Rule("ppfd", ("ppfd", "par"), ("ppfd",)),
    Rule("lux", ("lux meter", "illuminance"), ("beleuchtungsstärke",)),
)
OF_PLANTS = {"height": D.LENGTH, "spread": D.LENGTH, "leaves": D.COUNT, "count": D.COUNT}
OF_TUBS = {
    "ec": D.CONDUCTIVITY,
    "ph": D.ACIDITY,
    "water_temperature": D.TEMPERATURE,
    "air_temperature": D.TEMPERATURE,
    "leaf_temperature": D.TEMPERATURE,
    "humidity": D.SHARE,
    "ppfd": D.PHOTON_FLUX,
    "lux": D.ILLUMINANCE,
}
# The unit of a bare number, and the values that can be nothing else in it. An EC of 1400 may be microsiemens or ppm. The
# bounds are common practice, no source.
BARE = {
    "ec": ("mS/cm", 0.05, 12.0),
    "ph": ("", 0.0, 14.0),
    "humidity": ("%", 0.0, 100.0),
    "ppfd": ("umol/m2/s", 1, 3000),
}


def plant_readings(key: str, pieces: Sequence[Piece]) -> str | None:
    """`about 9 cm`, `{P1: 9 cm, P2: 11 cm}`: a bare number has the unit of the one that is said."""
    found: list[tuple[Which | None, Amount]] = []
    what = next((piece.value for piece in pieces if piece.value), "")
    for piece in pieces:
        values, which = _values(piece, OF_PLANTS[key]), piece.which()
        if len(values) != 1 or len(which) > 1:
            return None
        found.append((one_or_none(which), values[0]))
    units = {value.unit for _, value in found if value.unit}
    if OF_PLANTS[key] is D.LENGTH:
        if len(units) != 1 and any(not value.unit for _, value in found):
            return None
        found = [(which, value if value.unit else value._replace(unit=min(units))) for which, value in found]
    elif not all(value.number.replace("-", "").isdecimal() for _, value in found):
        return None
    return _by_plant(
        [(which, f"{value.text} {what}".rstrip()) for which, value in found], together=bool(what)
    )


def _values(piece: Piece, *dimensions: Dimension) -> tuple[Amount, ...]:
    return (*piece.amounts(*dimensions), *piece.numbers())


def _by_plant(found: Sequence[tuple[Which | None, str]], *, together: bool) -> str | None:
    if len(found) == 1 and (found[0][0] is None or found[0][0].everyone):
        return braced([("together", found[0][1])]) if together and found[0][0] is None else found[0][1]
    pairs: list[tuple[str, str]] = []
    for which, text in found:
        if which is None or (which.word and not which.ids and " " in which.word) or which.word == "some":
            return None  # whose it is was not said
        pairs += [(name, text) for name in which.ids or (which.word,)]
    names = [name for name, _ in pairs]
    return braced(pairs) if len(set(names)) == len(names) else None


def tub_readings(key: str, pieces: Sequence[Piece], known: Known) -> str | None:
    """`1.4 mS/cm`, `7.1, then 5.9`, `{left: 1.4 mS/cm}`."""
    by_tub: dict[str, list[str]] = {}
    tub = ""
    for piece in pieces:
        tubs = [atom.name for atom in piece.atoms if atom.kind is Kind.TUB]
        if len(tubs) > 1:
            return None
        tub = tubs[0] if tubs else tub
        for value in _values(piece, OF_TUBS[key]):
            text = _tub_value(key, value, known)
            if text is None or (key in ("ph", "ec") and "-" in value.number and piece.marked("order")):
                return None
            by_tub.setdefault(tub, []).append(text)
    most = 2 if key in ("ph", "ec") else 1
    if not by_tub or any(len(values) > most for values in by_tub.values()):
        return None
    if any(values[-1:] * 2 == values for values in by_tub.values()) or (known.tubs and "" in by_tub):
        return None
    return by_tubs({tub: ", then ".join(values) for tub, values in by_tub.items()})


def _tub_value(key: str, amount: Amount, known: Known) -> str | None:
    """A value with its unit; None where a bare number can have more than one."""
    if amount.unit == DEGREES:
        metric = known.units == "metric"
        likely = -5 <= amount.value <= 48 if metric else 33 <= amount.value <= 120
        return amount._replace(unit="C" if metric else "F").text if likely else None
    if amount.unit:
        return amount.text
    unit, least, most = BARE.get(key, ("", 1.0, 0.0))
    return amount._replace(unit=unit).text if least <= amount.value <= most else None


def by_tubs(values: dict[str, str]) -> str:
    """One value, or values by tub."""
    return values[""] if list(values) == [""] else braced(list(values.items()))
