"""Settings for the whole run."""

from __future__ import annotations

from hypothesis import settings

# Examples differ in cost by orders of magnitude on a busy machine: how long one takes is no finding of these tests.
settings.register_profile("fabella", deadline=None)
settings.load_profile("fabella")
