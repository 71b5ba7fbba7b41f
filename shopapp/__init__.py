"""The shop: customers, pieces, cuts, weights, papers and money of a small machine shop.

Rooms, each seeing only those below it: app (the door), demo, web, papers, office, bench.
"""

__version__ = "0.1.0"
