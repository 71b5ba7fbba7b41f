"""The tables, one file a subject; only verbs of the office read or write them.

Codes are stored, never words of a screen. Money is whole cents, masses are grams, lengths are
millimetres, times are aware UTC; a measurement keeps its text as typed beside its value.
Never here: rules that need more than one row.
"""
