"""Drawings made fit for a page."""

from __future__ import annotations

from sitegen.plot.drawing.svg import inlined

DRAWN = (
    '<svg xmlns="http://www.w3.org/2000/svg" class="marks" width="10" height="20" viewBox="0 0 10 20">'
    '<defs><clipPath id="clip0"><path d="M0,0h1.23456"/></clipPath></defs>'
    '<g fill="none" stroke-miterlimit="10"><g class="mark-symbol role-mark plant_gaps_marks" role="graphics-object"'
    ' clip-path="url(#clip0)"><path aria-label="P1: &lt;9 cm" role="graphics-symbol"'
    ' transform="translate(1.005,-0.001)"/>'
    '</g><g class="mark-text role-mark days_marks"><text font-size="0px">7</text></g>'
    '<path class="background" aria-hidden="true" d="M0,0"/></g></svg>'
)


def test_only_the_drawing_is_left() -> None:
    """Sizes, roles and empty groups go; ids are the chart's own; hover texts become titles; texts get their size."""
    assert inlined(
        DRAWN,
        key="height-wide",
        frame="wide",
        title="Height",
        description="Tall & green",
        text_size={"days": 13},
    ) == (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 20" class="wide" role="img"'
        ' aria-labelledby="height-wide-title height-wide-desc" font-family="var(--chart-font)" fill="none">'
        '<title id="height-wide-title">Height</title><desc id="height-wide-desc">Tall &amp; green</desc>'
        '<defs><clipPath id="height-wide-clip0"><path d="M0,0h1.23" /></clipPath></defs>'
        '<g class="plant-gaps" clip-path="url(#height-wide-clip0)">'
        '<path transform="translate(1,0)"><title>P1: &lt;9 cm</title></path></g>'
        '<g class="days" font-size="13px"><text>7</text></g></svg>'
    )
