"""Pages about people and clubs."""

from shared.accounts.views.home import club_home, home

__all__ = ["club_home", "home"]
