"""The page: a small server on the person's own machine over the same pure core."""
