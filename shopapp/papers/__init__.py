"""Papers: a sheet goes in, SVG, HTML or PDF comes out.

Here live the drawing of the half-section, one file per paper, their templates' environment and the press.
Never here: rows, sessions, verbs, prices, today's date. The same sheet gives the same paper on any day.
WeasyPrint is spoken only in press.py, in a process of its own.
"""
