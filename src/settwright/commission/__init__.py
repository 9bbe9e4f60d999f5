"""The commission: everything that the person decides."""
