"""Charts as SVG: drawn by matplotlib, slimmed, described in words, with the table of what is drawn.

Each chart is a function of frozen dataclasses of its own, so that any answer can fill them.
"""
