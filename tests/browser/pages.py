"""The pages that are looked at: every kind of page, with and without an answer, with right and wrong entries."""

from __future__ import annotations

from urllib.parse import urlencode

from service.pages.workbench.state import ProductTexts, State, to_token
from service.web.site.workbench.views import example_state

_DOG = {"species": "dog", "weight": "34 kg", "ingredient": "glucosamine"}
_WRONG = State(weight="34", products=(ProductTexts("Invented", "Glucosamine HCl 500 mg\nzzqx", "cheap"),))

PAGES = {
    "front page": "/",
    "answer": "/?" + urlencode({**_DOG, "age_years": 11}),
    "answer for fish oil": "/?" + urlencode({**_DOG, "ingredient": "epa-dha"}),
    "no amount for a cat": "/?" + urlencode({**_DOG, "species": "cat", "weight": "4 kg"}),
    "wrong entries": "/?" + urlencode({**_DOG, "weight": "34", "ingredient": "no such thing"}),
    "ingredients": "/ingredients",
    "ingredients found": "/ingredients?q=mussel",
    "glucosamine": "/ingredients/glucosamine",
    "fish oil": "/ingredients/epa-dha",
    "xylitol": "/ingredients/xylitol",
    "workbench": "/workbench",
    "workbench answered": "/workbench?" + urlencode({"state": to_token(example_state())}),
    "workbench with wrong entries": "/workbench?" + urlencode({"state": to_token(_WRONG)}),
    "workbench of a broken address": "/workbench?state=broken",
    "data": "/data",
    "docs": "/docs",
    "care note form": "/care-note",
    "problems": "/problems",
    "one problem": "/problems/invalid-input",
    "dose as a table": "/v1/dose.html?" + urlencode(_DOG),
    "ingredients as a table": "/v1/ingredients.html",
}
