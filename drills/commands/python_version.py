"""Ends the program with one sentence on a Python that is too old.

It is imported before whatever needs a newer one.
"""

import sys

OLDEST = (3, 11)

if sys.version_info < OLDEST:
    sys.stderr.write("landmark-drills: this Python is too old; use Python 3.11 to 3.14\n")
    sys.exit(2)
