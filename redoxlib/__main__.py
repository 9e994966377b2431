"""``python -m redoxlib`` is the command ``redoxlib``."""

from __future__ import annotations

import sys

from redoxlib.cli import main

if __name__ == "__main__":
    sys.exit(main())
