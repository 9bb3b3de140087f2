"""What the documentation shows: the reference out of the OpenAPI document, meanings of words, worked examples."""
