"""Sheets: what leaves the office, as frozen dataclasses of plain values.

Here live the shapes only: tuples, str, int, float, bool, None, dates as ISO text. A sheet that was issued
is kept as canonical JSON (canon.py) and read back by its kind. Never here: queries, sums, prices, wording
rules, drawing. Growing a sheet means a new field with a default, so that papers issued long ago still read.
"""
