"""What figures are called: the words beside a number.

In: the name of a figure. Out: its label and the subject that its working is listed under.
"""

from __future__ import annotations

from sitegen.core.facts import Facts, Figure, Named
from sitegen.core.wording import opening

__all__ = ["SUBJECTS", "label_of", "subject_of"]

SUBJECTS = {
    "harvest": "Harvest",
    "germination": "Germination",
    "milestones": "Stages",
    "growth": "Growth",
    "solution": "Water and feed",
    "climate": "Air and light",
    "plants": "Plants",
    "work": "Work",
    "": "The run",
}

_LABELS = {
    "length": "Length",
    "last_entry": "Last entry",
    "germination.sown": "Seeds sown",
    "germination.sprouted": "Seedlings",
    "germination.share": "Seeds that came up",
    "germination.first_day": "First seedling",
    "growth.tallest": "Tallest",
    "growth.widest": "Widest",
    "growth.most_leaves": "Most leaves on a plant",
    "growth.headroom": "Left below the lamp",
    "harvest.total": "Harvest",
    "harvest.picks": "Picks",
    "harvest.first_pick": "First pick",
    "harvest.last_pick": "Last pick",
    "harvest.pieces": "Pieces",
    "harvest.spoilt": "Spoilt",
    "harvest.per_spot": "Harvest a spot, all spots started",
    "harvest.shared": "Picked together, not kept by plant",
    "solution.water": "Water added",
    "solution.refills": "Fillings",
    "climate.air": "Air",
    "climate.humidity": "Humidity of the air",
    "climate.water": "Water temperature",
    "climate.light_hours": "Lamp hours",
    "work.visits": "Visits logged",
    "work.waterings": "Visits with water",
    "work.feedings": "Visits with feed",
    "work.hands_on": "Visits with hands on the plants",
}
_MILESTONE = {"first": "first day seen", "share": "plants that got there", "median": "half the plants by"}
_TUB = {
    "water": "water added",
    "refills": "fillings",
    "changes": "full changes",
    "ec": "EC",
    "ph": "pH",
}
_DOSE = {"total": "total", "times": "times"}


def subject_of(name: str) -> str:
    """The subject that a figure's working stands under."""
    first, dot, _ = name.partition(".")
    return first if dot and first in SUBJECTS else ""


def label_of(figure: Figure, facts: Facts) -> str:
    """What a figure is called."""
    if figure.name in _LABELS:
        return _LABELS[figure.name]
    parts = figure.name.split(".")
    named = _named(figure, facts)
    if named:
        return f"{SUBJECTS.get(parts[0], parts[0])}, {named}"
    if parts[0] == "milestones" and len(parts) > 2:
        noun = next((m.noun for m in facts.milestones if m.name == parts[1]), parts[1].replace("_", " "))
        return f"{opening(noun)}, {_MILESTONE.get(parts[-1], parts[-1])}"
    if parts[0] == "solution":
        return _solution(parts, facts)
    if parts[0] == "plants":
        return f"Harvest of {parts[1]}"
    return " ".join(parts).replace("_", " ")


def _named(figure: Figure, facts: Facts) -> str:
    """The label of a figure kept by plant, group, part and the like."""
    harvest = facts.harvest
    tables: tuple[tuple[Named, ...], ...] = (
        harvest.by_plant,
        harvest.by_group,
        harvest.by_variety,
        harvest.by_tub,
        harvest.by_part,
        harvest.by_grade,
        harvest.by_flush,
        facts.germination.by_spot,
    )
    return next((each.label for table in tables for each in table if each.figure == figure), "")


def _solution(parts: list[str], facts: Facts) -> str:
    """A tub's figure, or a product's in it."""
    last = _TUB.get(parts[-1], _DOSE.get(parts[-1], parts[-1]))
    tub = next((tub for tub in facts.solution.tubs if tub.key in parts), None)
    if tub is None:
        return last
    dose = next((d for d in (*tub.doses, *tub.adjusted) if d.product in parts), None)
    words = [tub.label] if len(facts.solution.tubs) > 1 else []
    words += [dose.label] if dose else []
    return opening(", ".join([*words, last]))
