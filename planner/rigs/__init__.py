"""Simulated rigs whose truth is known; none of them is built as the planner believes rigs are."""
