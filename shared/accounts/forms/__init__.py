"""Forms of people and clubs."""
