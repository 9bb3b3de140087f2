"""``POST /v1/batch/{dose,normalise,screen}``: many rows in, the same rows with their answers out."""

from __future__ import annotations

import logging
import zlib
from collections.abc import Iterator
from tempfile import SpooledTemporaryFile
from typing import Any

from flask import Blueprint, Response, request

from service.schemas.batch import BatchQuerySchema
from service.schemas.batch_limits import MOST_ROWS
from service.schemas.request_base import shown
from service.web.batch import dose_rows, normalise_rows, screen_rows
from service.web.batch.arriving import receive
from service.web.batch.csv_rows import CsvRows
from service.web.batch.json_rows import JsonRows
from service.web.batch.tasks import Task
from service.web.envelope import Envelope
from service.web.faults import Fault, invalid_input
from service.web.negotiation import MEDIA_TYPES, choose
from service.web.query import QueryReader
from service.web.responses import Caching
from service.web.serving import envelope

blueprint = Blueprint("batch", __name__)
TASKS = {task.name: task for task in (dose_rows.TASK, normalise_rows.TASK, screen_rows.TASK)}
_FORMS = ("csv", "ndjson", "jsonl")
_FORM_OF = {MEDIA_TYPES[form]: form for form in _FORMS}
_CSV_TYPE = "text/csv; charset=utf-8; header=present"
_PIECE_BYTES = 1 << 15
_GZIP = 31
_FASTEST = 1
_log = logging.getLogger(__name__)
_query = QueryReader(BatchQuerySchema)
Rows = CsvRows | JsonRows


@blueprint.post("/v1/batch/dose")
def batch_dose() -> Response:
    """Answer rows that ask for amounts."""
    return _answer("dose")


@blueprint.post("/v1/batch/normalise")
def batch_normalise() -> Response:
    """Answer rows that hold products."""
    return _answer("normalise")


@blueprint.post("/v1/batch/screen")
def batch_screen() -> Response:
    """Answer rows that are to be screened."""
    return _answer("screen")


def rows_for(task: Task, form: str, values: dict[str, Any]) -> Rows:
    """Choose how rows are read and written; a setting of the other format is refused."""
    other = "detail" if form == "csv" else "separator"
    if values[other] is not None:
        kind = "NDJSON" if form == "csv" else "CSV"
        raise invalid_input([{"parameter": other, "detail": f"is a setting of {kind} batches; leave it out"}])
    if form == "csv":
        return CsvRows(task, values["separator"] or "comma")
    return JsonRows(task, values["detail"] or "full")


def _answer(operation: str) -> Response:
    choose(_FORMS)
    values = _query.read()
    release = envelope(values["dataset"])
    form = _form_sent()
    choose((form,))
    rows = rows_for(TASKS[operation], form, values)
    spool = receive()
    try:
        rows.check(spool, MOST_ROWS)
        spool.seek(0)
    except BaseException:
        spool.close()
        raise
    return _streamed(rows, spool, release, _CSV_TYPE if form == "csv" else MEDIA_TYPES[form])


def _form_sent() -> str:
    form = _FORM_OF.get(request.mimetype)
    if form is None:
        sent = shown(request.mimetype) if request.mimetype else "none"
        raise Fault("unsupported-media-type", f"Content-Type must be one of {', '.join(_FORM_OF)}; it is {sent}.")
    if request.mimetype_params.get("charset", "utf-8").lower() not in ("utf-8", "utf8"):
        raise Fault("unsupported-media-type", "A batch must be UTF-8.")
    if request.mimetype_params.get("header", "present").lower() != "present":
        raise Fault("unsupported-media-type", "A batch of CSV needs a header row.")
    return form


def _streamed(rows: Rows, spool: SpooledTemporaryFile[bytes], release: Envelope, content_type: str) -> Response:
    pieces = _in_pieces(_lines(rows, spool, release))
    packed = request.accept_encodings["gzip"] > 0
    headers = {"Content-Type": content_type, "Cache-Control": Caching.NEVER.value, "Vary": "Accept-Encoding"}
    if packed:
        headers["Content-Encoding"] = "gzip"
    response = Response(_packed(pieces) if packed else pieces, headers=headers)
    # For an answer that nobody begins to read; one that is read lets go at its end.
    response.call_on_close(spool.close)
    return response


def _lines(rows: Rows, spool: SpooledTemporaryFile[bytes], release: Envelope) -> Iterator[bytes]:
    """Give header and rows; whatever breaks between two rows ends the answer with a row that says so."""
    yield rows.head()
    answered = 0
    try:
        for line, _ in rows.answers(spool, release):
            yield line
            answered += 1
    except Exception:
        _log.exception("A batch was cut off after row %d.", answered)
        yield rows.cut_off(answered)
    finally:
        spool.close()


def _in_pieces(lines: Iterator[bytes]) -> Iterator[bytes]:
    """Join lines, so that not every one of them is a packet of its own."""
    gathered: list[bytes] = []
    size = 0
    for line in lines:
        gathered.append(line)
        size += len(line)
        if size >= _PIECE_BYTES:
            yield b"".join(gathered)
            gathered, size = [], 0
    yield b"".join(gathered)


def _packed(pieces: Iterator[bytes]) -> Iterator[bytes]:
    engine = zlib.compressobj(_FASTEST, zlib.DEFLATED, _GZIP)
    for piece in pieces:
        yield engine.compress(piece) + engine.flush(zlib.Z_SYNC_FLUSH)
    yield engine.flush()
