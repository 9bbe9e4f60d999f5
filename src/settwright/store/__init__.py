"""The workroom's book: every commission with every revision it ever had, kept in one small database."""

from settwright.store.book import Book, Head, Kept, MovedOn, Revision, Unknown, Version
from settwright.store.opening import NewerBook, open_book

__all__ = ["Book", "Head", "Kept", "MovedOn", "NewerBook", "Revision", "Unknown", "Version", "open_book"]
