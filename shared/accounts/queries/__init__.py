"""Reads about people and clubs."""
