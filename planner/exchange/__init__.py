"""Runs in a form that another ecosystem's tools read and write."""
