"""Where the bars fall: the match problem, its solver and the report per seam."""
