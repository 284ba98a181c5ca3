"""Simulated pupils, invented studios and the benchmark."""
