"""Facemark: a shop-floor companion for a solid-wood furniture maker."""

__version__ = "0.1.0"
