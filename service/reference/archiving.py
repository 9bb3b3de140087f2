"""Packing the files of a release into one archive whose bytes depend on nothing but theirs."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping

# The earliest time that the format can state: the archive must not tell when it was packed.
_TIMESTAMP = (1980, 1, 1, 0, 0, 0)
_UNIX = 3
_READABLE_FILE = 0o100644 << 16
_LEVEL = 9


def archive(files: Mapping[str, bytes]) -> bytes:
    """Pack files into a zip archive.

    Parameters
    ----------
    files
        Bytes of each file by its path, with forward slashes.

    Returns
    -------
    bytes
        The same for the same files, in whatever order they are given, on any day and machine with the same zlib.
    """
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as packed:
        for path in sorted(files):
            entry = zipfile.ZipInfo(path, _TIMESTAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = _UNIX
            entry.external_attr = _READABLE_FILE
            packed.writestr(entry, files[path], compresslevel=_LEVEL)
    return buffer.getvalue()
