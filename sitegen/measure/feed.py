"""Feed formulas: from a rate, in all, a litre, and how often.

In: amounts and rates of one product. Out: `Quantity`s and plain numbers. Never takes a dose that nobody measured for
nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sitegen.core.quantity import Quantity, carry, counted, total
from sitegen.core.units import Dimension

__all__ = ["MADE_OF", "dose_count", "feed_added", "feed_from_rate", "feed_per_litre"]

# What a dose rate gives when multiplied by water.
MADE_OF = {Dimension.VOLUME_DOSE: Dimension.VOLUME, Dimension.MASS_DOSE: Dimension.MASS}
ML_PER_LITRE = 1000.0


def feed_from_rate(rate: Quantity, water: Quantity) -> Quantity:
    """Feed from its dose rate.

    Where a visit gives a dose rate, or says "as labelled", and the water added at the same visit is known.

    Parameters
    ----------
    rate
        Dose [ml/L or g/L].
    water
        Water added to the same tub at the same visit [ml].

    Returns
    -------
    Quantity
        Feed [ml or g].

    Notes
    -----
    ::

        feed = rate · water / 1000

    """
    return carry(
        lambda dose, ml: dose * ml / ML_PER_LITRE,
        up=[rate, water],
        dimension=MADE_OF[rate.dimension],
        step=rate.step * water.low / ML_PER_LITRE,
    )


def feed_added(doses: Iterable[Quantity], dimension: Dimension = Dimension.VOLUME) -> Quantity:
    """Feed added.

    One product in one tub, as logged. A dose rate counts with the water of the same visit; where that is
    not known, or nothing was measured, the total is a lower bound.

    Parameters
    ----------
    doses
        Each dose [ml or g].
    dimension
        Volume, or mass.

    Returns
    -------
    Quantity
        Feed in all [ml or g].

    Notes
    -----
    For doses by rate, r times the water V added at the same visit::

        feed = Σ dose + Σ r · V

    A routine "at every logged refill" counts one dose for each filling from its day until it was ended,
    except at a visit that logs the same product itself. Another routine is said in words and not
    counted: it makes the total a lower bound.

    """
    return total(doses, dimension)


def dose_count(doses: Sequence[object]) -> Quantity:
    """Times a product was given.

    Parameters
    ----------
    doses
        The doses logged.

    Returns
    -------
    Quantity
        How many [count].

    Notes
    -----
    ::

        times = number of doses

    """
    return counted(len(doses))


def feed_per_litre(fed: float, water: float) -> float:
    """Feed a litre.

    All of a product over all the water of its tub, fillings without feed included.

    Parameters
    ----------
    fed
        Feed in all [ml or g].
    water
        Water in all, more than 0 [ml].

    Returns
    -------
    float
        Feed [ml/L or g/L].

    Notes
    -----
    ::

        feed a litre = 1000 · feed / water

    """
    return ML_PER_LITRE * fed / water
