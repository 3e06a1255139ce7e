"""gear.yaml and crops.yaml: what experiments refer to by id.

In: the two files' nodes. Out: `Library`, asked by id; an unknown id becomes a finding with did-you-mean.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from sitegen.core.findings.examples import in_units
from sitegen.core.findings.finding import Findings
from sitegen.core.language.text import did_you_mean
from sitegen.core.records.setup import Crop, Lamp, Product, System, Variety
from sitegen.core.values.quantity import Quantity
from sitegen.core.values.units import Dimension, unit_named
from sitegen.ingest.values.quantities import parse_quantity
from sitegen.ingest.values.quantity_errors import UNKNOWN
from sitegen.ingest.yaml.nodes import Node, Scalar, expect_mapping
from sitegen.ingest.yaml.typed_fields import TypedFields, named_tables, read_fields

_Item = TypeVar("_Item", System, Lamp, Product, Crop, Variety)
_SIZE = re.compile(r"(?P<a>[\d.]+)\s*[x×]\s*(?P<b>[\d.]+)\s*(?P<unit>\S+)")


@dataclass(frozen=True, slots=True)
class Library:
    """Systems, lamps, products and crops by id."""

    systems: tuple[System, ...] = ()
    lamps: tuple[Lamp, ...] = ()
    products: tuple[Product, ...] = ()
    crops: tuple[Crop, ...] = ()

    def system(self, name: Scalar, findings: Findings) -> System | None:
        """The system with an id."""
        return _find(name, self.systems, "unknown-system", "a system of gear.yaml", findings)

    def lamp(self, name: Scalar, findings: Findings) -> Lamp | None:
        """The lamp with an id."""
        return _find(name, self.lamps, "unknown-lamp", "a lamp of gear.yaml", findings)

    def product(self, name: Scalar, findings: Findings) -> Product | None:
        """The product with an id."""
        return _find(name, self.products, "unknown-product", "a product of gear.yaml", findings)

    def crop(self, name: Scalar, findings: Findings) -> Crop | None:
        """The crop with an id."""
        return _find(name, self.crops, "unknown-crop", "a crop of crops.yaml", findings)

    @property
    def product_ids(self) -> tuple[str, ...]:
        """The ids of all products."""
        return tuple(product.id for product in self.products)


def variety_of(crop: Crop, name: Scalar, findings: Findings) -> Variety | None:
    """A variety of a crop."""
    return _find(name, crop.varieties, "unknown-variety", f"a variety of {crop.id}", findings)


def _find(name: Scalar, items: Iterable[_Item], code: str, what: str, findings: Findings) -> _Item | None:
    by_id = {item.id: item for item in items}
    if name.text in by_id:
        return by_id[name.text]
    name.report(
        findings,
        code,
        f"`{name.text}` is not {what}",
        did_you_mean(name.text, by_id) if by_id else f"add `{name.text}` there",
        ", ".join(by_id),
    )
    return None


def read_gear(node: Node | None, findings: Findings) -> Library:
    """Systems, lamps and products."""
    mapping = expect_mapping(node, "gear.yaml", findings) if node is not None else None
    if mapping is None:
        return Library()
    gear = read_fields(mapping, "gear", findings)
    return Library(
        systems=tuple(_system(name.text, fields) for name, fields in gear.nested_by_id("systems")),
        lamps=tuple(_lamp(name.text, fields, findings) for name, fields in gear.nested_by_id("lamps")),
        products=tuple(
            _product(name.text, fields, findings) for name, fields in gear.nested_by_id("products")
        ),
    )


def _system(name: str, fields: TypedFields) -> System:
    return System(
        id=name,
        name=fields.text("name") or name,
        kind=fields.text("kind"),
        spots=fields.whole("spots"),
        reservoir=fields.quantity("reservoir"),
        footprint=_footprint(fields.scalar("footprint"), fields.findings),
        headroom=fields.quantity("headroom"),
    )


def _footprint(scalar: Scalar | None, findings: Findings) -> tuple[Quantity, Quantity] | None:
    if scalar is None:
        return None
    match = _SIZE.fullmatch(scalar.text)
    if match is None:
        scalar.report(
            findings,
            "not-a-quantity",
            f"`{scalar.text}` is not a footprint",
            f"write it as `{in_units('60 x 40 cm', findings.units)}`",
            "two lengths",
        )
        return None
    sides = [
        parse_quantity(
            Scalar(f"{match[side]} {match['unit']}", scalar.source), Dimension.LENGTH, findings, "footprint"
        )
        for side in ("a", "b")
    ]
    return (sides[0], sides[1]) if sides[0] is not None and sides[1] is not None else None


def _lamp(name: str, fields: TypedFields, findings: Findings) -> Lamp:
    ppfd, at = _flux(fields.scalar("ppfd"), findings)
    return Lamp(name, fields.text("name") or name, fields.quantity("power"), ppfd, at)


def _flux(scalar: Scalar | None, findings: Findings) -> tuple[Quantity | None, Quantity | None]:
    if scalar is None:
        return None, None
    flux, at, distance = scalar.text.partition(" at ")
    light = parse_quantity(Scalar(flux, scalar.part(0, len(flux))), Dimension.PHOTON_FLUX, findings, "ppfd")
    if not at:
        return light, None
    span = scalar.part(len(flux) + len(at), len(distance))
    return light, parse_quantity(Scalar(distance, span), Dimension.LENGTH, findings, "ppfd")


def _product(name: str, fields: TypedFields, findings: Findings) -> Product:
    dose = fields.scalar("dose")
    return Product(
        id=name,
        name=fields.text("name") or name,
        kind=fields.choice("kind"),
        dose=parse_dose(dose, findings, "dose", rates_only=True) if dose is not None else None,
        price=fields.price("price"),
    )


def parse_dose(scalar: Scalar, findings: Findings, key: str, *, rates_only: bool = False) -> Quantity | None:
    """An amount (`10 ml`, `2 g`) or a rate (`2 ml/L`), told apart by its unit."""
    dimension, refused = _dosed(scalar.text, rates_only=rates_only)
    if refused:
        code, message, mend = refused
        scalar.report(findings, code, message, mend, "a dose")
        return None
    return parse_quantity(scalar, dimension, findings, key)


@lru_cache(1024)  # logs say the same few again and again
def _dosed(text: str, *, rates_only: bool) -> tuple[Dimension, tuple[str, str, str] | None]:
    """What a dose measures by its unit; code, message and mend where it has no reading, or two."""
    words = text.removesuffix(" by eye").split()
    unit, two = words[-1] if words else "", " ".join(words[-2:])
    order = [Dimension.VOLUME_DOSE, Dimension.MASS_DOSE]
    if not rates_only:
        order += [Dimension.MASS, Dimension.VOLUME]
    fits = [d for d in order if (unit_named(unit, d) or unit_named(two, d)) and unit != "oz"]
    fallback = Dimension.VOLUME_DOSE if rates_only or "/" in unit else Dimension.VOLUME
    return fits[0] if fits else fallback, _undosed(text, unit, two)


def _undosed(text: str, unit: str, two: str) -> tuple[str, str, str] | None:
    """Code, message and mend for a dose that has no reading, or two."""
    if not re.search(r"[\d½¼¾⅓⅔⅛⅜⅝⅞]", text) and text not in UNKNOWN:
        return (
            "not-a-quantity",
            f"`{text}` is not a dose",
            "write `10 ml`, `2 ml/L`, `as labelled` or `unmeasured`",
        )
    if re.fullmatch(r"(?:.*\d\s*)?oz", unit) and two != "fl oz":
        fluid = re.sub(r"\s*oz\b", " fl oz", text, count=1)
        return (
            "ambiguous-number",
            f"`{text}` of a product can be a weight or a volume",
            f"write `{fluid}`, or the weight in `g`",
        )
    if per := re.fullmatch(r"(.*\S)\s+(?:per|a)\s+(\S+)", text):
        return "unknown-unit", f"`{text}` is not a dose", f"write `{per[1]}/{per[2]}`"
    return None


def read_crops(node: Node | None, findings: Findings) -> tuple[Crop, ...]:
    """All crops of crops.yaml."""
    mapping = expect_mapping(node, "crops.yaml", findings) if node is not None else None
    return tuple(_crop(name, fields) for name, fields in named_tables(mapping, "crop", findings))


def _crop(name: Scalar, fields: TypedFields) -> Crop:
    return Crop(
        id=name.text,
        name=fields.text("name") or name.text,
        kind=fields.choice("kind"),
        latin=fields.text("latin"),
        base_temperature=fields.quantity("base_temperature"),
        base_temperature_source=fields.text("base_temperature_source"),
        price=fields.price("price"),
        varieties=tuple(
            Variety(variety.text, inner.text("name") or variety.text, inner.text("note"))
            for variety, inner in fields.nested_by_id("varieties")
        ),
    )
