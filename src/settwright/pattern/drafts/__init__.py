"""The drafts: each garment by its own formulas, composed from shared parts."""
