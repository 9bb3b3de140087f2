"""Names for the ids that findings and gaps speak of."""

from __future__ import annotations

from collections.abc import Mapping

from service.reference.release import Reference


def name_of(reference: Reference, id_: str, products: Mapping[str, str] | None = None) -> str:
    """Give the name that people know a thing by.

    Parameters
    ----------
    reference
        The release to answer from.
    id_
        Id of an ingredient, hazard, medicine, class of medicines, condition or product.
    products
        Names of products by id.

    Returns
    -------
    str
        Its name; the id, in words, where the release has no such thing.
    """
    if products and id_ in products:
        return products[id_]
    for known in (
        reference.ingredients,
        reference.hazards,
        reference.medications,
        reference.drug_classes,
        reference.conditions,
    ):
        if id_ in known:
            return str(known[id_].name)
    return id_.replace("-", " ").replace("_", " ")
