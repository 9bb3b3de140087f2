"""What the web layer itself refuses, before or after the domain is asked."""

from __future__ import annotations

from collections.abc import Sequence

from service.schemas.request_base import shown

Path = tuple[str | int, ...]


class Fault(Exception):
    """A request that is answered by a problem.

    Parameters
    ----------
    slug
        Kind of problem, a key of :data:`service.web.problems.KINDS`.
    detail
        One or two sentences on what to change.
    errors
        For input problems: one entry per fault, ``{"parameter" | "pointer": ..., "detail": ...}``.
    members
        Further members of the problem, for example ``nearest``.
    """

    def __init__(
        self, slug: str, detail: str, errors: Sequence[dict[str, str]] = (), members: dict[str, object] | None = None
    ) -> None:
        super().__init__(detail)
        self.slug = slug
        self.detail = detail
        self.errors = list(errors)
        self.members = members or {}


def invalid_input(errors: Sequence[dict[str, str]]) -> Fault:
    """Make the problem for input that can be read but not accepted; its detail sums up the first errors."""
    named = [f"{error.get('parameter') or error.get('pointer')}: {error['detail']}" for error in errors[:3]]
    more = f" (and {len(errors) - 3} more)" if len(errors) > 3 else ""
    return Fault("invalid-input", "; ".join(named) + more, errors)


def at_pointer(path: Path, detail: str) -> dict[str, str]:
    """Make the error for one place in a body; the pointer is a URI fragment as in RFC 9457."""
    return {"pointer": "/".join(("#", *(_token(part) for part in path))), "detail": detail}


def _token(part: str | int) -> str:
    text = str(part)
    if len(text) > 80 or not text.isprintable():
        text = shown(text)
    return text.replace("~", "~0").replace("/", "~1")
