"""Measurements by ISO 8559-1 terms, and how missing ones are estimated."""

from settwright.body.model import Body, Measure, Source

__all__ = ["Body", "Measure", "Source"]
