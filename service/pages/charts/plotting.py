"""Loads matplotlib: once, when the first chart is asked for, and without leaving a file anywhere.

By itself matplotlib makes a folder for its settings in the home directory (or a temporary one, or fails where neither
can be written), asks fontconfig for every font of the machine in a child process, reads them all and writes down what
it found. None of that is of use here: the settings are ours, and texts are only measured, by the font that matplotlib
brings along, so that a chart is the same bytes on every machine. The list of its own forty fonts is made in memory, in
a tenth of a second per process.
"""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from threading import RLock
from types import ModuleType

# Figures of different threads share matplotlib's settings and fonts: one chart is drawn at a time.
LOCK = RLock()


@cache
def prepare() -> None:
    """Import what drawing needs. To be called with the lock held, before anything of matplotlib is imported."""
    packaged = find_spec("matplotlib")
    if packaged is None or packaged.origin is None:
        raise ModuleNotFoundError("matplotlib is not installed")
    defaults = Path(packaged.origin).parent / "mpl-data" / "matplotlibrc"
    with _surroundings(MATPLOTLIBRC=str(defaults), MPL_IGNORE_SYSTEM_FONTS="1"):
        import matplotlib

        # A file of settings in the working directory comes before the one named above.
        settings = matplotlib.rcParams
        # To look at the backend would choose one, with all of pyplot; the canvas is ours.
        settings.update((name, value) for name, value in matplotlib.rcParamsDefault.items() if name != "backend")
        settings["svg.fonttype"] = "none"
        # Names of markers follow from their shape alone, so that a chart is drawn to the same bytes again.
        settings["svg.hashsalt"] = "fabella"
        settings["lines.scale_dashes"] = False
        with _nothing_kept(matplotlib):
            import matplotlib.backends.backend_svg
            import matplotlib.figure


@cache
def text_font() -> Path:
    """Give the file of the font that texts are measured by."""
    import matplotlib

    return Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "DejaVuSerif.ttf"


@contextmanager
def _surroundings(**variables: str) -> Iterator[None]:
    """Set variables of the process for a while."""
    before = {name: os.environ.get(name) for name in variables}
    os.environ.update(variables)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


@contextmanager
def _nothing_kept(matplotlib: ModuleType) -> Iterator[None]:
    """Give matplotlib no folder to keep its list of fonts in, and let it pass that over in silence."""
    name = "get_cachedir"
    asked, log = getattr(matplotlib, name), logging.getLogger("matplotlib.font_manager")
    level = log.level
    log.setLevel(logging.ERROR)
    setattr(matplotlib, name, lambda: os.devnull)
    try:
        yield
    finally:
        setattr(matplotlib, name, asked)
        log.setLevel(level)
