"""Runs the loop by itself: the person's own commands set values, run workloads, bring stock back.

Every result is on disk before the next run begins, and whatever ends this process, the machine
or its power, the next start knows which run was under way and how far it had come.
"""
