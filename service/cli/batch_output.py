"""The output of a batch: written in pieces, each of which is safe on disk before the next begins."""

from __future__ import annotations

import fcntl
import gzip
import json
import os
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from hashlib import file_digest
from pathlib import Path
from types import TracebackType
from typing import Any


class OutputError(Exception):
    """An output that cannot be begun or gone on with; its text is for people."""


@dataclass(frozen=True, slots=True)
class Settings:
    """All that decides what the output holds: rows of two runs are joined only where every one of these agrees."""

    sha256: str
    operation: str
    dataset: str
    separator: str | None
    detail: str | None
    service: str


_WORDS = {"sha256": "the input file", "service": "the version of fabella"}


def file_sha256(file: Path) -> str:
    """Give the hash of a file's bytes."""
    with file.open("rb") as stream:
        return file_digest(stream, "sha256").hexdigest()


class Output:
    """The file ``TARGET.part``, how far it is good (``TARGET.part.json``), and its move into place.

    A name that ends in ``.gz`` is packed, each piece by itself, so that it can be cut back to any piece.
    """

    def __init__(self, target: Path, *, restart: bool) -> None:
        self.target = target
        self.part = target.with_name(f"{target.name}.part")
        self._state = target.with_name(f"{target.name}.part.json")
        self._packed = target.suffix == ".gz"
        self._restart = restart
        self._good_bytes = 0
        self.rows = 0
        self.refused = 0
        self.begun = False
        self._finished = False
        self.begun_with: Settings | None = None

    def __enter__(self) -> Output:
        # Kept open and locked from here on: two runs must never write one output.
        self._file = self.part.open("ab")
        try:
            fcntl.flock(self._file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            self._recall()
        except BlockingIOError:
            self._file.close()
            raise OutputError(f"{self.part} is being written by another run") from None
        except BaseException:
            self._file.close()
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._file.close()
        if not self._state.exists() and not self._finished:
            # Nothing complete was written, so nothing is left lying about.
            self.part.unlink(missing_ok=True)

    def begin(self, settings: Settings) -> None:
        """Drop what was not complete; raises ``OutputError`` where an interrupted run had other settings."""
        before = self.begun_with
        if before is not None and before != settings:
            now = asdict(settings)
            other = [_WORDS.get(name, name) for name, value in asdict(before).items() if value != now[name]]
            raise OutputError(
                f"{self.part} was begun with other settings ({', '.join(other)} changed); name them again, or use "
                "--restart to begin anew"
            )
        self.begun_with = settings
        if self._restart:
            self._state.unlink(missing_ok=True)
        self._file.truncate(self._good_bytes)

    def add(self, lines: Sequence[bytes], *, rows: int, refused: int) -> None:
        """Write complete lines and remember that they are."""
        data = b"".join(lines)
        self._file.write(gzip.compress(data, mtime=0) if self._packed else data)
        self._file.flush()
        os.fsync(self._file.fileno())
        self._good_bytes = self._file.tell()
        self.rows += rows
        self.refused += refused
        self._remember()

    def finish(self) -> None:
        """Move the finished file into place."""
        os.replace(self.part, self.target)
        self._state.unlink()
        self._finished = True

    def _recall(self) -> None:
        if self._restart or not self._state.exists():
            return
        try:
            state: dict[str, Any] = json.loads(self._state.read_text("utf-8"))
            self.begun_with = Settings(**state["settings"])
            self._good_bytes, self.rows, self.refused = (int(state[name]) for name in ("bytes", "rows", "refused"))
        except (ValueError, KeyError, TypeError):
            raise OutputError(f"{self._state} cannot be read; use --restart to begin anew") from None
        if os.fstat(self._file.fileno()).st_size < self._good_bytes:
            raise OutputError(f"{self.part} is shorter than it was; use --restart to begin anew")
        self.begun = True

    def _remember(self) -> None:
        if self.begun_with is None:
            raise RuntimeError("nothing can be written before it is known what with")
        state = {"settings": asdict(self.begun_with), "bytes": self._good_bytes}
        state |= {"rows": self.rows, "refused": self.refused}
        beside = self._state.with_name(f"{self._state.name}.new")
        with beside.open("w", encoding="utf-8") as file:
            json.dump(state, file)
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, self._state)
        self.begun = True
