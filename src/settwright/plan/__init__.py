"""The plan as a document that anyone can read and verify."""
