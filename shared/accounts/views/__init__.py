"""Pages about people and clubs."""
