"""The whole way through the site, by its pages alone: from a written standard to a marked and mentored answer.

An operator founds the club on the command line. Everything after that is done by a secretary, an educator, a
mentor and a trainee, each in a browser of their own, and each step looks at what its person then sees.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from django.core.management import call_command
from PIL import Image, ImageDraw
from playwright.sync_api import Locator, Page, expect

from tests.shared.pictures.making import scene

MENU_BELOW = 901  # px; layout.css folds the head at 900
CLUB = "Skerry Drover Club"
PASSWORD = "four skerries at low water"

QUIZ = "Find the faults of the foot"

# As a word processor on Windows hands it over.
WRITTEN = "\r\n".join(
    [
        "1. General appearance",
        "1.1 A drover’s dog of the skerries, “four-square” in outline and never heavy.",
        "",
        "2. Feet",
        "2.1 Feet are round and close, the toes well arched. Splayed feet are a serious fault.",
        "2.2 Nails are short and strong. Long nails are a minor fault.",
    ]
)

UPRIGHT = (3000, 2000)
LAMP = (2550, 250)  # the centre of the one white disk, near the upper right corner
ROTATE_TO_SHOW = 6  # Exif tag 0x0112: the 0th row is the visual right-hand side (CIPA DC-008, 4.6.4)

# Spots on the picture, in units of its longer side: the corners of the region in the key, and the trainee's pin.
TOES = ((0.30, 0.20), (0.50, 0.40))
AMONG_THE_TOES = (0.40, 0.30)


def test_from_a_written_standard_to_a_marked_and_mentored_answer(open_as, live_server, tmp_path):
    join = joining(open_as)
    secretary = join(operators_link(live_server.url), "Bruce Isbister")
    educator = join(invitation(secretary, "Educator"), "Ishbel Rendall")
    mentor = join(invitation(secretary, "Mentor"), "Magnus Flett")
    trainee = join(invitation(secretary, "Trainee"), "Una Halcro", phone=True)

    write_the_standard(educator)
    confirm_and_release(educator)
    add_fault(educator, "Splayed feet", clause="2.1", usual="Serious")
    add_fault(educator, "Nails too long", clause="2.2", usual="Minor")

    take_a_photograph_in(educator, photograph(tmp_path / "phone.jpg"))
    record_permission_and_publish(educator)
    draw_and_publish_a_correct_foot(educator)

    make_the_plate(educator)
    make_the_course(educator)

    make_the_quiz(educator)
    draw_up_the_key(educator)
    open_the_quiz(educator)

    assign_the_mentor(secretary, mentor="Magnus Flett", trainee="Una Halcro")
    read_the_module(trainee)
    answer_the_quiz(trainee)
    see_the_mark_line_by_line(trainee)

    review_and_adjust(mentor)
    see_both_marks(trainee)

    publish_a_second_version(educator)
    hear_of_the_changed_mark(trainee)


# What every step does


def go_to(page: Page, word: str) -> None:
    """By the running head, which on a phone is behind its menu. Told by the width, since a page that is only
    just arriving shows what its style sheet is about to hide."""
    if page.viewport_size["width"] < MENU_BELOW:
        page.locator(".head-menu > summary").click()
    page.get_by_role("banner").get_by_role("link", name=word, exact=True).filter(visible=True).click()


def expect_heading(page: Page, words: str | re.Pattern[str], **options: float) -> None:
    expect(page.get_by_role("heading", level=1)).to_have_text(words, **options)


def choose(select: Locator, start: str) -> None:
    """The option that begins so."""
    select.select_option(
        select.locator("option").filter(has_text=re.compile(f"^{re.escape(start)} ")).inner_text()
    )


# The people


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


# The standard


def write_the_standard(page: Page) -> None:
    go_to(page, "Standard")
    page.get_by_role("link", name="Add the first breed").click()
    page.get_by_label("Breed").fill("Skerry Drover")
    page.get_by_role("button", name="Add it, and go on to its standard").click()

    page.get_by_label("Title").fill("Edition of 2026")
    page.get_by_label("Issued by").fill(CLUB)
    page.get_by_label("Issued on").fill("2026-01-10")
    page.get_by_label("Permission to reproduce").fill("The club’s own text.")
    page.get_by_role("button", name="Save, and go on to its text").click()

    page.get_by_label("The written standard").fill(WRITTEN)
    page.get_by_role("button", name="Split it into clauses").click()
    expect_heading(page, "Look it over before it is saved")
    feet = page.get_by_role("region", name="2 Feet")
    expect(feet).to_contain_text("Feet are round and close, the toes well arched.")
    expect(feet).to_contain_text("“serious fault” reads as Serious")
    expect(feet.get_by_label("Zone of 2.1")).to_have_value("feet")
    expect(page.get_by_role("region", name="1 General appearance")).to_contain_text("drover’s dog")
    page.get_by_role("button", name="Save 3 clauses").click()
    expect_heading(page, "Edition of 2026")
    expect(
        page.get_by_text("Issued by Skerry Drover Club, 10 January 2026. The club’s own text.")
    ).to_be_visible()


def confirm_and_release(page: Page) -> None:
    expect(page.get_by_text("3 severities to confirm")).to_be_visible()
    for title, words in (
        ("1 General appearance", "Confirm 1 severity"),
        ("2 Feet", "Confirm all 2 severities"),
    ):
        page.get_by_role("region", name=title).get_by_role("button", name=f"{words} as read").click()
    expect(page.get_by_text("every severity confirmed")).to_be_visible()
    page.get_by_role("link", name="Check and release").click()
    page.get_by_role("button", name="Release it").click()
    expect(page.get_by_role("link", name="Read it as members do")).to_be_visible()


def add_fault(page: Page, name: str, *, clause: str, usual: str) -> None:
    go_to(page, "Standard")
    page.get_by_role("link", name="List of faults").click()
    page.get_by_role("link", name="Add a fault", exact=True).click()
    page.get_by_label("Fault", exact=True).fill(name)
    page.get_by_label("Zone").select_option("feet")
    choose(page.get_by_label("Clause"), clause)
    page.get_by_role("radio", name=usual).check()
    page.get_by_role("button", name="Add the fault").click()
    row = page.get_by_role("row").filter(has_text=name)
    expect(row).to_contain_text(usual)
    expect(row).to_contain_text(clause)


# Exhibits


def photograph(path: Path) -> Path:
    """A picture of six million pixels as a phone held upright stores it: on its side, with a note to turn it."""
    upright = scene(600, 400).resize(UPRIGHT)
    x, y = LAMP
    ImageDraw.Draw(upright).ellipse((x - 150, y - 150, x + 150, y + 150), fill="white")
    exif = Image.Exif()
    exif[0x0112] = ROTATE_TO_SHOW
    upright.transpose(Image.Transpose.ROTATE_90).save(path, "JPEG", quality=90, exif=exif)
    return path


def take_a_photograph_in(page: Page, file: Path) -> None:
    go_to(page, "Exhibits")
    page.get_by_role("link", name="Take photographs in").click()
    page.get_by_label("Photographs").set_input_files(file)
    page.get_by_role("button", name="Take them in").click()
    taken = page.get_by_role("listitem").filter(has_text=file.name)
    taken.get_by_role("link", name="Exhibit 1").click(timeout=60_000)
    expect_heading(page, "Exhibit 1")
    expect_upright(page.locator("main img").first)


def expect_upright(picture: Locator) -> None:
    """The right shape, and the lamp where it shone."""
    expect(picture).to_have_js_property("complete", True)
    shape, lamp, opposite = picture.evaluate(
        """(img, [x, y]) => {
            const canvas = new OffscreenCanvas(300, 200).getContext("2d");
            canvas.drawImage(img, 0, 0, 300, 200);
            const light = (x, y) => Math.min(...canvas.getImageData(x, y, 1, 1).data.slice(0, 3));
            return [img.naturalWidth / img.naturalHeight, light(x, y), light(300 - x, 200 - y)];
        }""",
        [side * 300 / UPRIGHT[0] for side in LAMP],
    )
    assert shape == pytest.approx(UPRIGHT[0] / UPRIGHT[1], rel=0.01)
    assert lamp > 245
    assert opposite < 245


def record_permission_and_publish(page: Page) -> None:
    expect(page.get_by_role("button", name="Publish")).to_have_count(0)
    page.get_by_role("link", name="Record the owner’s permission").click()
    page.get_by_label("Who gave permission").fill("Erlend Scollay")
    page.get_by_label("From", exact=True).fill("2026-01-10")
    page.get_by_role("radio", name="Signed form").check()
    expect(page.get_by_role("checkbox", name="Teaching")).to_be_checked()
    page.get_by_role("button", name="Save permission").click()
    expect(page.get_by_text("Permission given.")).to_be_visible()
    page.get_by_label("View").select_option("feet")
    page.get_by_role("radio", name="Incorrect").check()
    page.get_by_label("Caption").fill("Toes apart")
    page.get_by_role("button", name="Save", exact=True).click()
    publish(page)


def draw_and_publish_a_correct_foot(page: Page) -> None:
    go_to(page, "Exhibits")
    page.get_by_role("link", name="Draw an exhibit").click()
    expect_ready(page, "#drawing")
    page.get_by_label("View").select_option("feet")
    expect(page).to_have_url(re.compile("view=feet"))
    page.get_by_role("button", name="Keep as an exhibit").click()
    expect_heading(page, "Exhibit 2", timeout=60_000)
    expect(page.get_by_text("A drawn exhibit shows no living dog and needs no permission.")).to_be_visible()
    expect(page.locator(".frame-correct")).to_be_visible()
    publish(page)


def publish(page: Page) -> None:
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.get_by_role("button", name="Withdraw")).to_be_visible()


# Plates and courses


def make_the_plate(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Plates").click()
    page.get_by_role("link", name="Begin a plate").click()
    page.get_by_label("Title").fill("The foot")
    page.get_by_role("button", name="Begin it").click()
    expect(page.get_by_role("heading", name="Missing before it can be published")).to_be_visible()

    page.wait_for_load_state()
    page.get_by_label("Add a clause, by number or words").press_sequentially("arched")
    page.get_by_role("button", name="Add 2.1").click()
    page.get_by_role("link", name="Choose correct exhibits").click()
    page.get_by_role("button", name="Exhibit 2 Add as correct").click()
    page.get_by_role("link", name="Choose incorrect exhibits").click()
    page.get_by_role("button", name="Exhibit 1 Add as incorrect").click()
    expect(page.locator(".missing li")).to_have_text(["The club’s note."])

    page.get_by_label("The club’s note").fill("In *1 a* the toes are *close*; in *1 b* daylight shows.")
    expect(page.locator("#_note em").first).to_have_text("1 a")
    page.get_by_role("button", name="Publish", exact=True).click()
    expect(page.locator(".heading-side")).to_contain_text("Published")


def make_the_course(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Begin a course").click()
    page.get_by_label("Title").fill("Clause by clause")
    page.get_by_role("button", name="Begin it").click()
    adding = page.locator("form").filter(has=page.get_by_role("button", name="Add a module"))
    adding.get_by_label("Title").fill("Feet")
    adding.get_by_role("button").click()
    expect_heading(page, "Feet")

    add_place(page, "What to look for", "Add a text")
    page.get_by_label("Text").fill("Look at the **toes** first, then at the nails.")
    expect(page.locator("#_note strong")).to_have_text("toes")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("link", name="Back to the module").click()
    page.get_by_label("Plate").select_option("Plate 1: The foot")
    page.get_by_role("button", name="Add the plate").click()
    add_place(page, QUIZ, "Add a quiz")
    expect(page.locator("#_places > li")).to_contain_text(["What to look for", "The foot", QUIZ])
    publish(page)
    page.get_by_role("link", name="Clause by clause").click()
    publish(page)


def add_place(page: Page, title: str, verb: str) -> None:
    adding = page.locator("form").filter(has=page.get_by_role("button", name=verb))
    adding.get_by_label("Title").fill(title)
    adding.get_by_role("button", name=verb).click()


# Studying


def assign_the_mentor(page: Page, *, mentor: str, trainee: str) -> None:
    go_to(page, "Members")
    page.get_by_role("link", name=f"Assign a mentor for {trainee}").click()
    page.get_by_label("Mentor").select_option(mentor)
    page.get_by_role("button", name="Assign the mentor").click()
    expect(page.get_by_role("listitem").filter(has_text=mentor)).to_be_visible()
    go_to(page, "Members")
    row = page.get_by_role("listitem").filter(has_text=trainee)
    expect(row).to_contain_text(f"mentored by {mentor}")


def read_the_module(page: Page) -> None:
    go_to(page, "Study")
    expect(page.get_by_text("Next: Feet")).to_be_visible()
    page.get_by_role("link", name="Begin").click()
    expect_heading(page, "What to look for")
    page.get_by_role("navigation", name="Back and on").get_by_role("link", name="Go on to plate 1").click()
    expect_heading(page, "Plate 1 The foot")
    expect(page.get_by_text("Feet are round and close, the toes well arched.")).to_be_visible()
    expect(page.get_by_role("figure")).to_contain_text(["Clause 2.1", "Toes apart"])
    expect_upright(page.get_by_role("figure").last.locator("img"))
    expect(page.get_by_text("in 1 b daylight shows.")).to_be_visible()
    expect_no_wider_than_the_screen(page)


def expect_no_wider_than_the_screen(page: Page) -> None:
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


# The quiz and its key


def make_the_quiz(page: Page) -> None:
    go_to(page, "Courses")
    page.get_by_role("link", name="Clause by clause").click()
    page.get_by_role("link", name="Feet", exact=True).click()
    page.get_by_role("link", name=QUIZ).click()
    page.get_by_role("link", name="Make its quiz").click()
    expect(page.get_by_label("Title")).to_have_value(QUIZ)
    page.get_by_role("button", name="Make it").click()
    expect_heading(page, QUIZ)
    page.get_by_role("link", name="Add items").click()
    page.get_by_role("checkbox", name="Exhibit 1").check()
    page.get_by_role("button", name="Add those ticked").click()
    expect(page.locator("#lacking li")).to_have_text(["Exhibit 1: publish its key."])


def draw_up_the_key(page: Page) -> None:
    page.get_by_role("link", name="Draw up its key").click()
    expect_ready(page, "#key")
    expect_upright(page.locator(".stage img"))
    page.get_by_role("button", name="rectangle").click()
    drag(page, *TOES)
    expect(page.locator("[data-missing-list] li")).to_have_text(
        ["A: name the fault, say the clause, weigh it."]
    )
    pick(page.get_by_label("Fault from the club’s list"), "splay", "Splayed feet")
    expect(page.locator(".entry-sheet .clause")).to_contain_text("Splayed feet are a")
    expect(page.locator(".ladder label:has(:checked)")).to_have_text("Serious")
    expect(page.locator("[data-state]")).to_contain_text("Draft saved at")
    page.get_by_role("button", name="Publish version 1").click()
    expect(page.get_by_role("status").first).to_contain_text("Version 1 is in use.")


def open_the_quiz(page: Page) -> None:
    go_to(page, "Quizzes")
    page.get_by_role("button", name="Open it").click()
    expect(page.get_by_role("button", name="Close the quiz")).to_be_visible()


def expect_ready(page: Page, part: str) -> None:
    """The script of a page with a picture to mark has begun."""
    expect(page.locator(f"{part}[data-ready]")).to_be_attached()


def on_the_picture(page: Page, x: float, y: float) -> tuple[float, float]:
    """A spot in units of the picture's longer side, as a place on the screen."""
    stage = page.locator(".stage")
    stage.scroll_into_view_if_needed()
    box = stage.bounding_box()
    return box["x"] + x * box["width"], box["y"] + y * box["width"]


def drag(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*on_the_picture(page, *start))
    page.mouse.down()
    page.mouse.move(*on_the_picture(page, *end), steps=4)
    page.mouse.up()


def pick(field: Locator, typed: str, name: str) -> None:
    """From a list that narrows as one types."""
    field.fill(typed)
    field.page.get_by_role("option", name=name).click()


# The answer and its mark


def answer_the_quiz(page: Page) -> None:
    page.get_by_role("link", name="Go on to the quiz").click()
    expect_heading(page, QUIZ)
    page.get_by_role("button", name="Begin the quiz").click()
    expect_ready(page, "#answering")
    expect_heading(page, "Mark the faults. There may be none.")
    expect_upright(page.locator(".stage img"))
    page.touchscreen.tap(*on_the_picture(page, *AMONG_THE_TOES))
    pick(page.get_by_label("Name the fault"), "splay", "Splayed feet")
    page.get_by_role("radio", name="Moderate").check(force=True)
    expect(page.locator("[data-state]").filter(visible=True)).to_contain_text("Saved at")
    expect_no_wider_than_the_screen(page)
    page.get_by_role("button", name="Hand in answer").click()


def see_the_mark_line_by_line(page: Page) -> None:
    """40 for seeing and 35 for naming it; of the 25 for weighing it 1 − 1/3, as Moderate is one of the three
    steps of the ladder from Serious."""
    expect_heading(page, "Your answer scores 92 of 100")
    expect(page.get_by_role("rowheader", name="Splayed feet, 2.1. Key: Serious.")).to_be_visible()
    for line in (
        "Seen: inside the region 40.0 40.0",
        "Named: as the key has it 35.0 35.0",
        "Weighed: Moderate, one level light 25.0 16.7",
        "Mark 100 91.7",
    ):
        expect(page.get_by_role("row", name=line)).to_be_visible()
    expect(page.locator(".region-key")).to_have_count(1)
    expect(page.locator(".pin-tab")).to_have_text(["1"])
    expect(page.get_by_text("who may judge is for the registry")).to_be_visible()
    expect_no_wider_than_the_screen(page)


# The mentor


def review_and_adjust(page: Page) -> None:
    go_to(page, "Reviews")
    expect_heading(page, "1 answer waits for you")
    page.get_by_role("link", name="Una Halcro").click()
    expect_ready(page, "#marked")
    page.mouse.click(*on_the_picture(page, *AMONG_THE_TOES))
    expect(page.get_by_text("Pinned to the spot on the picture.")).to_be_visible()
    page.get_by_label("Comment").fill("Count the gaps here before you weigh it.")
    page.get_by_role("button", name="Add the comment").click()
    expect(page.locator(".thread")).to_contain_text("Count the gaps here")
    page.get_by_label("Adjust").fill("weighing")
    page.get_by_label("Points").fill("5")
    page.get_by_label("Reason").fill("The light hides one of the gaps.")
    page.get_by_role("button", name="Return to Una Halcro at 96.7").click()
    go_to(page, "Reviews")
    expect_heading(page, "0 answers wait for you")


def see_both_marks(page: Page) -> None:
    open_news(page, f"Magnus Flett has looked at {QUIZ}, item 1.")
    expect_heading(page, "Your answer scores 97 of 100")
    expect(page.get_by_role("row", name="Mark by the rules")).to_contain_text("91.7")
    expect(page.get_by_role("row", name="Adjusted mark")).to_contain_text("96.7")
    expect(page.get_by_text("The light hides one of the gaps.")).to_be_visible()
    expect(page.locator(".thread")).to_contain_text("Count the gaps here before you weigh it.")


def open_news(page: Page, words: str) -> None:
    """What has changed, on the trainee's home page."""
    page.get_by_role("link", name=CLUB).click()
    page.get_by_role("listitem").filter(has_text="new").get_by_role("link", name=words).click()


# A new key


def publish_a_second_version(page: Page) -> None:
    go_to(page, "Quizzes")
    page.get_by_role("link", name=QUIZ).click()
    page.get_by_role("link", name="Key version 1").click()
    page.get_by_role("button", name="Start a new draft").click()
    expect_ready(page, "#key")
    expect(page.get_by_text("Publishing re-marks 1 answer")).to_be_visible()
    page.get_by_role("radio", name="Moderate").check(force=True)
    page.get_by_label("Note on this version").fill("The nails hide part of the spread.")
    expect(page.locator("[data-state]")).to_contain_text("Draft saved at")
    page.get_by_role("button", name="Publish version 2").click()
    expect(page.get_by_text("Marked anew: one mark of 1 changed")).to_be_visible()


def hear_of_the_changed_mark(page: Page) -> None:
    open_news(page, "your mark was 91.7 and is now 100.0 of 100.")
    expect_heading(page, "Your answer scores 100 of 100")
