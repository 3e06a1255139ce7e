"""`python -m sitegen.words [LANGUAGE …]`: the template and the catalogues brought up to date; a new one begun."""

from __future__ import annotations

import sys

from sitegen.words.files import bring_up_to_date

if __name__ == "__main__":
    for line in bring_up_to_date(sys.argv[1:]):
        print(line)
