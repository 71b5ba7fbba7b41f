"""An invented shop with half a year of invented work, so that every page has something to show.

Here live tables of made-up customers, parts and jobs, and the short functions that tell them to the office,
act by act, each at its own moment. Never here: SQL, sums, or a way round a verb of the office.
"""
