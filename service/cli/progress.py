"""A bar on standard error that says how far a long run is; silent where nobody watches."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from types import TracebackType
from typing import TextIO

_WIDTH = 30
_SECONDS_BETWEEN = 0.2


class Progress:
    """Shows rows done of rows to do; ``done`` are those of an earlier run."""

    def __init__(
        self, total: int, done: int = 0, out: TextIO | None = None, clock: Callable[[], float] = time.monotonic
    ) -> None:
        self._total = total
        self._before = done
        self._out = sys.stderr if out is None else out
        self._clock = clock
        self._began = clock()
        self._shown_at = -_SECONDS_BETWEEN
        self._watched = self._out.isatty()

    def __enter__(self) -> Progress:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self._watched:
            self._out.write("\n")
            self._out.flush()

    def show(self, done: int, refused: int) -> None:
        """Draw the bar, at most a few times a second and at the end."""
        now = self._clock()
        if self._watched and (done == self._total or now - self._shown_at >= _SECONDS_BETWEEN):
            self._shown_at = now
            self._out.write(f"\r{self.line(done, refused, now - self._began)}\x1b[K")
            self._out.flush()

    def line(self, done: int, refused: int, seconds: float) -> str:
        """Write the bar after so many seconds of this run."""
        share = done / self._total if self._total else 1.0
        filled = round(share * _WIDTH)
        new = done - self._before
        left = f", {seconds / new * (self._total - done):,.0f} s left" if new and done < self._total else ""
        bar = "#" * filled + "." * (_WIDTH - filled)
        return f"[{bar}] {share:4.0%} {done:,} of {self._total:,} rows, {refused:,} refused{left}"
