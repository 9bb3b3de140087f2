"""Reads the text of a label: characters, tokens, a small grammar, and one module per kind of statement."""
