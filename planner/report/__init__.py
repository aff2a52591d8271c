"""Renderers: frozen summaries in, text and pictures out."""
