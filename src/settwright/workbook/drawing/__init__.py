"""Drawings: plain values in, marks on a pen out."""
