"""The loaded releases as the views see them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from flask import Flask, current_app

from service.domain.errors import UnknownRelease
from service.reference.releases import Releases, UnknownVersion
from service.web.envelope import Envelope
from service.web.faults import Fault

_KEY = "fabella"
_MOST_KEPT = 8


# Not frozen: it fills its two caches as answers are asked for.
@dataclass
class Serving:
    """What a running application serves. ``releases`` is ``None`` where no verified release could be loaded."""

    releases: Releases | None
    check_answers: bool = False
    _envelopes: dict[str, Envelope] = field(default_factory=dict)
    _kept: dict[tuple[str, ...], bytes] = field(default_factory=dict)

    def all(self) -> Releases:
        """Give all releases, or raise the problem ``not-ready``."""
        if self.releases is None:
            raise Fault("not-ready", "No verified dataset release is loaded.")
        return self.releases

    def envelope(self, version: str | None) -> Envelope:
        """Give the envelope of a pinned release, or of the newest."""
        releases = self.all()
        try:
            reference = releases.newest if version is None else releases.get(version)
        except UnknownVersion:
            raise UnknownRelease(version or "", releases.versions) from None
        known = self._envelopes.get(reference.stamp.version)
        if known is None:
            known = self._envelopes[reference.stamp.version] = Envelope(reference, self.check_answers)
        return known

    def kept(self, key: tuple[str, ...], make: Callable[[], bytes]) -> bytes:
        """Give bytes that never change, made once; the few made last are kept in memory."""
        found = self._kept.get(key)
        if found is None:
            found = make()
            if len(self._kept) >= _MOST_KEPT:
                self._kept.pop(next(iter(self._kept)), None)
            self._kept[key] = found
        return found


def attach(app: Flask, serving: Serving) -> None:
    """Make the releases available to the views of an application."""
    app.extensions[_KEY] = serving


def current() -> Serving:
    """Give what the current application serves."""
    serving: Serving = current_app.extensions[_KEY]
    return serving


def envelope(version: str | None = None) -> Envelope:
    """Give the envelope of a pinned release, or of the newest."""
    return current().envelope(version)
