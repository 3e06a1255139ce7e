"""`python -m sitegen.words [LANGUAGE …]`: update the template and all catalogues, and begin new ones."""

from __future__ import annotations

import sys

from sitegen.words.catalogues import update_all

if __name__ == "__main__":
    for line in update_all(sys.argv[1:]):
        print(line)
