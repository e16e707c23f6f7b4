"""People: the operator founds the club, the secretary invites them and assigns a mentor."""

from __future__ import annotations

import io
import re
from collections.abc import Callable

from django.core.management import call_command
from playwright.sync_api import Page, expect

from tests.browser.main_path.pages import CLUB, expect_heading, go_to

PASSWORD = "four skerries at low water"


def operators_link(site: str) -> str:
    said = io.StringIO()
    call_command("create_club", CLUB, "bruce.isbister@club.example", site=site, stdout=said)
    return said.getvalue().split()[-1]


def joining(open_as: Callable[..., Page]) -> Callable[..., Page]:
    """Opens a link in a new browser and joins the club as a new person."""

    def join(link: str, name: str, **options: object) -> Page:
        page = open_as(None, link, permissions=["clipboard-read", "clipboard-write"], **options)
        expect_heading(page, f"{CLUB} invites you")
        page.get_by_label("Name").fill(name)
        page.get_by_label("Email address").fill(f"{name.lower().replace(' ', '.')}@club.example")
        page.get_by_label("Password", exact=True).fill(PASSWORD)
        page.get_by_role("button", name="Join the club").click()
        expect(page.get_by_role("status")).to_contain_text(["Welcome. You are a"])
        return page

    return join


def invitation(secretary: Page, role: str) -> str:
    """The link that the page gives for one person in the role."""
    go_to(secretary, "Members")
    secretary.get_by_role("link", name="Invite someone").click()
    secretary.get_by_role("radio", name=re.compile(f"^{role}")).check()
    secretary.get_by_role("button", name="Make the link").click()
    expect_heading(secretary, f"The link for one {role.lower()}")
    secretary.get_by_role("button", name="Copy the link").click()
    expect(secretary.get_by_text("Copied", exact=True)).to_be_visible()
    return secretary.evaluate("navigator.clipboard.readText()")


def assign_the_mentor(page: Page, *, mentor: str, trainee: str) -> None:
    go_to(page, "Members")
    page.get_by_role("link", name=f"Assign a mentor for {trainee}").click()
    page.get_by_label("Mentor").select_option(mentor)
    page.get_by_role("button", name="Assign the mentor").click()
    expect(page.get_by_role("listitem").filter(has_text=mentor)).to_be_visible()
    go_to(page, "Members")
    row = page.get_by_role("listitem").filter(has_text=trainee)
    expect(row).to_contain_text(f"mentored by {mentor}")
