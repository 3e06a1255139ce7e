"""What an author says of a visit → keys of an entry: rules by subject, English and German.

In: a line as spoken or typed, what is known of the run. Out: `Understood`: fields, and a note of what no rule took.
"""

from sitegen.filing.words.known import Known
from sitegen.filing.words.understanding import Understood, understood

__all__ = ["Known", "Understood", "understood"]
