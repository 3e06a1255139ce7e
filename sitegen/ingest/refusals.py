"""Why a text is no quantity: one finding each, with what stands there, what was expected and how to write it.

In: the scalar, the dimension that its key wants. Out: findings. Nothing here decides whether a text is refused.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from sitegen.core.examples import example_of
from sitegen.core.finding import Findings
from sitegen.core.text import listed
from sitegen.core.units import UNITS, Dimension
from sitegen.ingest.hints import bare_hint, meant, quantity_hint, unit_hint
from sitegen.ingest.nodes import Scalar

__all__ = ["WORDS", "Refusal"]

_NONE = ("none", "nothing", "nil")
WORDS: dict[Dimension, str] = {
    Dimension.MASS: "a weight",
    Dimension.VOLUME: "a volume",
    Dimension.LENGTH: "a length",
    Dimension.DURATION: "hours",
    Dimension.CONDUCTIVITY: "a conductivity",
    Dimension.TEMPERATURE: "a temperature",
    Dimension.TEMPERATURE_DIFFERENCE: "a temperature difference",
    Dimension.SHARE: "a percentage",
    Dimension.PHOTON_FLUX: "a photon flux density",
    Dimension.POWER: "a power",
    Dimension.ENERGY: "an energy",
    Dimension.VOLUME_DOSE: "a dose",
    Dimension.MASS_DOSE: "a dose",
    Dimension.ACIDITY: "a pH",
    Dimension.COUNT: "a whole number",
    Dimension.AREA: "an area",
}
_GROUPED = re.compile(r"\d{1,3}(?:,\d{3})+")


@dataclass(frozen=True, slots=True)
class Refusal:
    """Says why the text of one scalar is refused, and what to write instead."""

    scalar: Scalar
    dimension: Dimension
    findings: Findings
    key: str
    reads: Callable[[str], bool] | None = None  # whether another text would be read

    @property
    def example(self) -> str:
        """A well-written value, in the journal's own units."""
        return example_of(self.dimension, self.findings.units)

    def meant(self) -> str:
        """The mend with the text as it was meant; empty where that cannot be told."""
        return meant(self.scalar.text.strip(), self.dimension, self.reads, self.findings.units)

    def refuse(self, code: str, message: str, mend: str, *, part: str = "", expected: str = "") -> None:
        """Note a finding; `part` is the piece of the text that it is about."""
        offset = self.scalar.text.find(part) if part else -1
        source = self.scalar.part(offset, len(part)) if offset >= 0 else self.scalar.source
        self.findings.add(
            code,
            source,
            message,
            mend=mend,
            found=part or self.scalar.text,
            expected=expected or WORDS[self.dimension],
        )

    def comma(self, text: str) -> None:
        """A number with commas: both readings are offered where there are two."""
        whole, once = self.scalar.text.strip(), text.count(",") == 1
        readings = [whole.replace(text, text.replace(",", ""))] if _GROUPED.fullmatch(text) else []
        readings += [re.sub(r"(\d),(\d)", r"\1.\2", whole)] if once else []
        if not readings:
            self.quantity()
            return
        one = f"`{text}` has {'a decimal comma' if once else 'commas between thousands'}"
        self.refuse(
            "ambiguous-number",
            f"`{text}` can be read in two ways" if len(readings) > 1 else one,
            f"write {listed([f'`{reading}`' for reading in readings], 'or')}",
            part=text,
            expected="a decimal point, and no sign between thousands",
        )

    def mixed(self, number: str, rest: str) -> None:
        """A number with points between thousands and a decimal comma."""
        plain = number.replace(".", "").replace(",", ".")
        self.refuse(
            "ambiguous-number",
            f"`{number}` has a decimal comma and points between thousands",
            f"write `{plain}{rest}`",
            part=number,
            expected="a decimal point, and no sign between thousands",
        )

    def bare(self) -> None:
        """A number without a unit."""
        self.refuse(
            "no-unit",
            f"`{self.key}: {self.scalar.text}` has no unit",
            bare_hint(self.scalar.text, self.dimension, self.findings.units),
            expected=f"{WORDS[self.dimension]}, such as {self.example}",
        )

    def unit(self, text: str) -> None:
        """A unit of something else, or no unit at all."""
        others = [unit for unit in UNITS if text == unit.symbol or text in unit.also]
        if others:
            self.refuse(
                "wrong-dimension",
                f"`{text}` is {_article(others[0].dimension)}; `{self.key}` wants {WORDS[self.dimension]}",
                f"write it as `{self.example}`",
                part=text,
            )
            return
        self.refuse(
            "unknown-unit",
            f"`{text}` is not a known unit",
            self.meant() or unit_hint(self.scalar.text.strip(), text, self.dimension, self.findings.units),
            part=text,
        )

    def quantity(self) -> None:
        """A text that is no such value."""
        text = self.scalar.text.strip()
        nothing = f"leave `{self.key}` out, or say it in a `note`" if text.lower() in _NONE else ""
        self.refuse(
            "not-a-quantity",
            f"{f'`{text}`' if text else 'an empty text'} is not {WORDS[self.dimension]}",
            nothing or self.meant() or quantity_hint(text, self.dimension, self.findings.units),
            expected=f"{WORDS[self.dimension]}, such as {self.example}",
        )

    def scale(self, unit: str) -> None:
        """Parts per million, which meters reckon in two ways."""
        number = self.scalar.text.removesuffix(unit).strip()
        self.refuse(
            "scale-unknown",
            "ppm means nothing without the meter's scale",
            f"write `{number} ppm500` or `{number} ppm700`, or the conductivity in mS/cm",
            part=unit,
            expected="mS/cm, or ppm with the meter's scale",
        )

    def reversed(self, text: str, low: str, high: str) -> None:
        """A range that ends before it begins; `text` is the whole of it, the right way round."""
        if "/" in high and "/" not in low:  # `2-1/4` is how many write two and a quarter
            mixed = text.replace(f"{high}-{low}", f"{low} {high}")
            message, mend = f"`{low}-{high}` can be read in two ways", f"write `{mixed}` or `{text}`"
            self.refuse("ambiguous-number", message, mend)
            return
        self.refuse("reversed-range", f"the range `{low}-{high}` ends before it begins", f"write `{text}`")


def _article(dimension: Dimension) -> str:
    return WORDS.get(dimension, f"a {dimension.value}")
