"""The demo's year of prints: python -m tests.models.year writes lots, machines, batches, recalls and what was fitted.

Everything is invented, and the same each time it is made: what is drawn by lot is drawn from a fixed seed.
"""
