"""How hard the property tests try: HYPOTHESIS_PROFILE is quick (default) or thorough."""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("quick", max_examples=30, deadline=None)
settings.register_profile("thorough", max_examples=1000, deadline=None)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "quick"))
