"""Batches: many questions in one request or one file, each row answered as the single endpoint answers it."""

from service.web.batch.views import blueprint

__all__ = ["blueprint"]
