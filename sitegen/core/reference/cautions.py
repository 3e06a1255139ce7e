"""Cautions: dangers of the work, and the authority on each.

In: facts. Out: the cautions that apply to the run. Each defers to labels, local rules and licensed practice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from sitegen.core.facts.tree import Facts
from sitegen.core.language.catalogue import tr, tr_noop
from sitegen.core.records.rows import Deed

_MOULD_WORDS = ("mould", "mold", "mildew", "fungus", "rot", "botrytis", "slime", "algae")
_LEAF_KINDS = ("leafy", "heading", "herb")
# Species by their botanical names, else by words of the crop's name. A genus is not enough: of a tomato the fruit is
# eaten and of a potato the tuber, and the other part of each is poisonous. Common practice, no source.
_TOMATOES = (
    ("solanum lycopersicum", "solanum pimpinellifolium", "lycopersicon"),
    (r"(?<!husk )tomato", "tomate"),
)
_PHYSALIS = ("physalis",), ("physalis", "tomatillo", "husk tomato", "ground ?cherry", "cape gooseberry")
_AUBERGINES = ("solanum melongena",), ("aubergine", "eggplant")
_POTATOES = ("solanum tuberosum",), (r"(?<!sweet )potato", "kartoffel")
_BEANS = ("phaseolus", "vigna", "canavalia"), (r"\w*(?<!soy)beans?\b", r"\w*bohnen?\b")
# Words that a hot pepper is recognised by, in names of varieties and the notes to them too.
_HOT = ("chill?i", "chile\\b", "hot pepper", "habanero", "jalape", "cayenne", "scotch bonnet", "bird.?s eye")
_WARM_C = 20.0  # Legionella grows in water of about 20 to 45 °C


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: `defers` names the authority on it."""

    name: str
    title: str
    text: str
    defers: str
    fits: Callable[[Facts], bool]


def _did(*deeds: Deed) -> Callable[[Facts], bool]:
    return lambda facts: bool(facts.run.rows.of(*deeds))


def _fed(facts: Facts) -> bool:
    return bool(facts.run.rows.of(Deed.FEED)) or any(row.product for row in facts.run.rows.routines)


def _lamp(facts: Facts) -> bool:
    at_start = any(tub.light is not None for tub in facts.run.setup.tubs)
    return at_start or bool(facts.run.rows.lights)


def _troubled(words: Iterable[str]) -> Callable[[Facts], bool]:
    known = tuple(words)

    def fits(facts: Facts) -> bool:
        said = " ".join(event.what.lower() for event in facts.run.rows.of(Deed.TROUBLE, Deed.LOST))
        return any(word in said for word in known)

    return fits


def _picked_leaves(facts: Facts) -> bool:
    parts = {pick.part for pick in facts.run.rows.picks}
    return bool(parts) and (
        facts.run.setup.crop.kind in _LEAF_KINDS or bool(parts & {"leaf", "head", "shoot"})
    )


def _picked_other(facts: Facts) -> bool:
    return bool(facts.run.rows.picks) and not _picked_leaves(facts)


def _grown(*words: str) -> Callable[[Facts], bool]:
    """Whether the names of the crop or of a variety grown, or the note to it, hold one of some words."""

    def fits(facts: Facts) -> bool:
        setup = facts.run.setup
        grown = [v for v in setup.crop.varieties if v.id in setup.variety_ids]
        named = [setup.crop.name, setup.crop.latin, *(f"{v.name} {v.note}" for v in grown)]
        said = " ".join(named).lower()
        return any(re.search(rf"\b{word}", said) for word in words)

    return fits


def _species(latin: Iterable[str], words: Iterable[str]) -> Callable[[Facts], bool]:
    """Whether the crop is one of some species: by its botanical name where it has one, else by its common name."""
    names, common = tuple(latin), tuple(words)

    def fits(facts: Facts) -> bool:
        crop = facts.run.setup.crop
        if crop.latin:
            return f"{crop.latin.lower()} ".startswith(names)
        return any(re.search(rf"\b{word}", crop.name.lower()) for word in common)

    return fits


def _warm_water(facts: Facts) -> bool:
    readings = facts.run.rows.read("water_temperature")
    return any(reading.value.middle >= _WARM_C for reading in readings)


def _never(_: Facts) -> bool:
    return False


CAUTIONS: tuple[Caution, ...] = (
    Caution(
        "acids",
        tr_noop("pH up and pH down"),
        tr_noop(
            "pH down is an acid and pH up an alkali, and strong ones burn. Wear gloves and goggles. "
            "Add acid to water, never water to acid, and never mix the two products."
        ),
        tr_noop(
            "The label and the safety data sheet of the product come before anything here; after an accident, the "
            "poison centre."
        ),
        _did(Deed.ADJUST),
    ),
    Caution(
        "concentrates",
        tr_noop("Concentrated feeds"),
        tr_noop(
            "Never mix concentrates in one cup. Add each one to the full tub by itself, and stir it "
            "in before the next."
        ),
        tr_noop("The maker's label says how much and in which order."),
        _fed,
    ),
    Caution(
        "electricity",
        tr_noop("Electricity beside water"),
        tr_noop(
            "Plug lamp and pump into a circuit with a residual-current device (GFCI in the US). Keep "
            "plugs and power supplies above the water, let cables sag below the socket so that drops "
            "fall off, and unplug before reaching in."
        ),
        tr_noop("The local wiring code and a licensed electrician decide what is safe."),
        _lamp,
    ),
    Caution(
        "lamp",
        tr_noop("Bright lamps"),
        tr_noop("Do not look into a grow lamp. Lamps that give ultraviolet are not for skin or eyes."),
        tr_noop(
            "The lamp's own warnings and the standards on the safety of lamps (IEC 62471) come before this."
        ),
        _lamp,
    ),
    Caution(
        "mould",
        tr_noop("Mould"),
        tr_noop(
            "Throw out mouldy plants and mouldy food, all of it, and air the room. Anyone with "
            "asthma should keep away."
        ),
        tr_noop("Public health authorities give advice on mould indoors; a doctor on symptoms."),
        _troubled(_MOULD_WORDS),
    ),
    Caution(
        "leaves",
        tr_noop("Leaves eaten raw"),
        tr_noop(
            "Wash hands before picking and leaves before eating. Sprouts and very young shoots are a known risk."
        ),
        tr_noop("The food safety authority of the country has the rules for raw produce."),
        _picked_leaves,
    ),
    Caution(
        "produce",
        tr_noop("Produce"),
        tr_noop("Wash hands before picking and the produce before eating."),
        tr_noop("The food safety authority of the country has the rules."),
        _picked_other,
    ),
    Caution(
        "parts",
        tr_noop("Parts that are not food"),
        tr_noop(
            "Of a tomato plant only the ripe fruit is food; leaves, stems and green fruit are poisonous."
        ),
        tr_noop("Food safety authorities and poison centres know which parts."),
        _species(*_TOMATOES),
    ),
    Caution(
        "physalis-parts",
        tr_noop("Parts of physalis that are not food"),
        tr_noop(
            "Of physalis only the ripe fruit is food; leaves, stems, husks and unripe fruit are taken to be poisonous."
        ),
        tr_noop(
            "The seed's label says when the fruit is ripe. Food safety authorities and poison centres know which parts."
        ),
        _species(*_PHYSALIS),
    ),
    Caution(
        "aubergine-parts",
        tr_noop("Parts of aubergines that are not food"),
        tr_noop("Of aubergines only the fruit is food; leaves and stems are poisonous."),
        tr_noop("Food safety authorities and poison centres know which parts."),
        _species(*_AUBERGINES),
    ),
    Caution(
        "potato-parts",
        tr_noop("Parts of potatoes that are not food"),
        tr_noop(
            "Of potatoes only the tubers are food, and none that are green; leaves, stems, sprouts and the berries "
            "are poisonous."
        ),
        tr_noop("Food safety authorities and poison centres know which parts."),
        _species(*_POTATOES),
    ),
    Caution(
        "beans",
        tr_noop("Beans are cooked"),
        tr_noop(
            "Beans are eaten cooked: raw ones, dry seeds above all, hold a poison that boiling destroys."
        ),
        tr_noop("Food safety authorities say how long."),
        _species(*_BEANS),
    ),
    Caution(
        "hot-fruit",
        tr_noop("Hot peppers"),
        tr_noop(
            "What makes a pepper hot burns skin and eyes. Wear gloves for cutting and drying, keep "
            "your hands off your eyes, and air the room."
        ),
        tr_noop("Poison centres and food safety authorities give the usual advice; follow them first."),
        _grown(*_HOT),
    ),
    Caution(
        "treatments",
        tr_noop("Treatments"),
        tr_noop(
            "Use only what is labelled for this crop, for eating, indoors; keep to the days between treatment and "
            "picking."
        ),
        tr_noop("The label and the pesticide authority decide; nothing here goes before them."),
        _did(Deed.TREAT),
    ),
    Caution(
        "seed",
        tr_noop("Treated seed"),
        tr_noop("Dyed or treated seed is neither food nor feed."),
        tr_noop("The seed's label says what it was treated with."),
        _never,
    ),
    Caution(
        "standing-water",
        tr_noop("Standing water"),
        tr_noop(
            "Warm standing water breeds germs and mosquitoes. Clean the tub, change the water, make no mist."
        ),
        tr_noop("Ask the health authority which water temperatures are a risk; this page gives no limits."),
        _warm_water,
    ),
    Caution(
        "children",
        tr_noop("Children and animals"),
        tr_noop("Lock away feeds, acids and alkalis."),
        tr_noop("Keep the number of the poison centre near."),
        _did(Deed.ADJUST),
    ),
    Caution(
        "plants",
        tr_noop("Where plants may go"),
        tr_noop(
            "Look up whether a plant is allowed and not a listed weed where you live. Neither plants "
            "nor used solution belong outdoors in the wild."
        ),
        tr_noop("The plant health authority and local law decide."),
        _never,
    ),
    Caution(
        "health",
        tr_noop("No advice on health"),
        tr_noop("A hobby trial says nothing about what food does to anyone's health."),
        tr_noop("Ask a doctor or a dietitian."),
        _never,
    ),
    Caution(
        "small-trial",
        tr_noop("Small trials"),
        tr_noop("A few plants in one tub cannot show that one variety is better than another."),
        tr_noop("Hurlbert (1984), Ecological Monographs 54, 187–211, says why."),
        _never,
    ),
)


def fitting_cautions(facts: Facts) -> tuple[Caution, ...]:
    """The cautions that apply to a run."""
    return tuple(_said(caution) for caution in CAUTIONS if caution.fits(facts))


def all_cautions() -> tuple[Caution, ...]:
    """All of them."""
    return tuple(map(_said, CAUTIONS))


def _said(caution: Caution) -> Caution:
    """A caution in the active language."""
    return replace(caution, title=tr(caution.title), text=tr(caution.text), defers=tr(caution.defers))
