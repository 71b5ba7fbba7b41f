"""The bench: pure figures of the trade, from typed text to millimetres, grams, minutes and whole cents.

Everything here is a sum: same input, same answer, exact where the definition is exact.
Each public docstring is the drawing of its formula, with the source and an example that runs.
Never here: a clock, chance, files, a database, the web, a sheet or a form.
"""
