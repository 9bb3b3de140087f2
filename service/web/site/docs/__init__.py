"""``/docs``: the index, the reference, the try-it console and the guides."""

from service.web.site.docs.views import blueprint

__all__ = ["blueprint"]
