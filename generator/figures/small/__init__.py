"""Figures laid out anew for small places."""
