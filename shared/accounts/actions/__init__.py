"""Writes about people and clubs, each named for what happens."""
