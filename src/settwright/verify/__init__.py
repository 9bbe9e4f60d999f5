"""Checks a plan.json from its geometry alone; imports nothing of the planner."""
