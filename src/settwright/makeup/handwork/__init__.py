"""The handwork: what is sewn with which stitch, in what order, with how much thread and in what time."""
