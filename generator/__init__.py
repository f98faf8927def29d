"""Rimfold: one shade recipe in, printed sheets out.

Rooms, in the order of the flow: base, recipe, shape, measures, plan, figures, sheets, press.
A room imports only from rooms before it.
"""

__version__ = "0.1.0"
