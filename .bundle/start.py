"""Where the bundle begins: the program itself, and the processes that it starts."""

import os
import sys
from multiprocessing import freeze_support

if __name__ == "__main__":
    # A windowed program of Windows and macOS has no streams; whoever prints expects them.
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123
    freeze_support()
    from drills.commands import main

    sys.exit(main())
