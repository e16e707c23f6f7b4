"""Standards as people really keep them: each shape with the clauses that a reader would count."""

import pytest

from shared.prose.cleaning import decode_text
from shared.prose.splitting import join_standard, read_standard, split_standard


def clauses(text: str) -> dict[str, str]:
    return {clause.number: clause.text for section in split_standard(text) for clause in section.clauses}


def titles(text: str) -> list[str]:
    return [f"{section.number} {section.title}" for section in split_standard(text)]


def warnings(text: str) -> list[str]:
    sections = split_standard(text)
    return [
        warning
        for section in sections
        for warning in (*section.warnings, *(w for clause in section.clauses for w in clause.warnings))
    ]


NUMBERED = """# The Skerry Drover

## 5 Forequarters

5.1 The blade slopes to some 35° from plumb. A steep blade is a serious fault.

5.2 Arm and blade measure nearly alike.

## 7 Hindquarters

7.3 Below the hock the leg stands plumb.
"""


def test_numbers_that_agree_are_kept_even_with_gaps():
    standard = read_standard(NUMBERED)
    assert standard.title == "The Skerry Drover"
    assert titles(NUMBERED) == ["5 Forequarters", "7 Hindquarters"]
    assert clauses(NUMBERED) == {
        "5.1": "The blade slopes to some 35° from plumb. A steep blade is a serious fault.",
        "5.2": "Arm and blade measure nearly alike.",
        "7.3": "Below the hock the leg stands plumb.",
    }
    assert warnings(NUMBERED) == []


def test_running_text_under_capitals_gives_one_clause_for_each_sentence():
    text = (
        "GENERAL APPEARANCE\n"
        "A dog of medium size, e.g. for work on\n"
        "steep ground. Sex is plain to see.\n\n"
        "HEAD AND SKULL\nLong and clean. The stop is slight."
    )
    assert titles(text) == ["1 GENERAL APPEARANCE", "2 HEAD AND SKULL"]
    assert clauses(text) == {
        "1.1": "A dog of medium size, e.g. for work on steep ground.",
        "1.2": "Sex is plain to see.",
        "2.1": "Long and clean.",
        "2.2": "The stop is slight.",
    }


@pytest.mark.parametrize(
    "text",
    [
        "HEAD: Long and clean.\nEYES: Dark.",
        "HEAD. Long and clean.\nEYES. Dark.",
        "HEAD – Long and clean.\nEYES – Dark.",
        "Head: Long and clean.\nEyes: Dark.",
        "**Head:** Long and clean.\n\n**Eyes:** Dark.",
        "__Head.__ Long and clean.\n\n__Eyes.__ Dark.",
        "**Head**\n\nLong and clean.\n\n**Eyes**\n\nDark.",
        "Head\nLong and clean.\nEyes\nDark.",
        "Head:\nLong and clean.\nEyes:\nDark.",
        "Head\n====\n\nLong and clean.\n\nEyes\n====\n\nDark.",
        "Head\n----\nLong and clean.\n\nEyes\n----\nDark.",
        "# Head #\nLong and clean.\n# Eyes #\nDark.",
        "1. Head\nLong and clean.\n\n2. Eyes\nDark.",
        "1 Head\nLong and clean.\n\n2 Eyes\nDark.",
        "Section 1: Head\nLong and clean.\n\nSection 2: Eyes\nDark.",
        "1. HEAD\n\n1.1 Long and clean.\n\n2. EYES\n\n2.1 Dark.",
        "Head\n\n- Long and clean.\n\nEyes\n\n- Dark.",
    ],
)
def test_headings_in_every_shape(text):
    assert [title.title() for title in titles(text)] == ["1 Head", "2 Eyes"]
    assert clauses(text) == {"1.1": "Long and clean.", "2.1": "Dark."}
    assert warnings(text) == []


@pytest.mark.parametrize(
    "marks",
    [
        ("5.1 ", "5.2 ", "5.3 "),
        ("5.1. ", "5.2. ", "5.3. "),
        ("5.1) ", "5.2) ", "5.3) "),
        ("(5.1) ", "(5.2) ", "(5.3) "),
        ("5.1:\t", "5.2:\t", "5.3:\t"),
        ("1. ", "2. ", "3. "),
        ("1) ", "2) ", "3) "),
        ("(1) ", "(2) ", "(3) "),
        ("(a) ", "(b) ", "(c) "),
        ("a) ", "b) ", "c) "),
        ("(i) ", "(ii) ", "(iii) "),
        ("i) ", "ii) ", "iii) "),
        ("- ", "- ", "- "),
        ("* ", "* ", "* "),
        ("•\t", "•\t", "•\t"),
        ("– ", "– ", "– "),
        ("5.1\n", "5.2\n", "5.3\n"),
    ],
)
@pytest.mark.parametrize("between", ["\n", "\n\n", "\r\n", "\r"])
@pytest.mark.parametrize("stop", [".", ""])
def test_items_in_every_shape(marks, between, stop):
    texts = ("Blade long, laid well back" + stop, "Arm nearly as long" + stop, "Elbow close" + stop)
    items = between.join(mark + text for mark, text in zip(marks, texts, strict=True))
    assert clauses(f"## 5 Forequarters{between}{items}") == dict(
        zip(("5.1", "5.2", "5.3"), texts, strict=True)
    )


@pytest.mark.parametrize(
    ("text", "sentences"),
    [
        ("Laid at 35°. The arm is long.", ["Laid at 35°.", "The arm is long."]),
        ("Laid at 35°. or so, approx. 2.5 cm wide.", ["Laid at 35°. or so, approx. 2.5 cm wide."]),
        ("Dogs stand approx. 54 cm. Bitches less.", ["Dogs stand approx. 54 cm.", "Bitches less."]),
        ("As drawn by A. Rendall in 1931. See Fig. 3.", ["As drawn by A. Rendall in 1931.", "See Fig. 3."]),
        ("Never heavy, i.e. Never loose.", ["Never heavy, i.e. Never loose."]),
        ("Strong. (Not coarse. Never heavy.) Clean.", ["Strong.", "(Not coarse. Never heavy.)", "Clean."]),
        ("“Dry.” “Clean.” Both are asked.", ["“Dry.”", "“Clean.”", "Both are asked."]),
        ("A **steep blade. A short arm** is bad. So.", ["A **steep blade. A short arm** is bad.", "So."]),
        ("Is it sound? It must be! Élan… 3 paces.", ["Is it sound?", "It must be!", "Élan…", "3 paces."]),
    ],
)
def test_where_sentences_end(text, sentences):
    assert list(clauses("# Body\n" + text).values()) == sentences


def test_what_word_processors_leave_behind_is_cleaned():
    text = "\ufeff# Body\r\n\r\nThe\u00a0loin is “short”, the fi\u00adnest is \ufb01rm\u200b.\x0c"
    text += "It is\u20091.5\u202fcm deep.\r\n"
    assert clauses(text) == {"1.1": "The loin is “short”, the finest is firm.", "1.2": "It is 1.5 cm deep."}


def test_a_word_broken_softly_at_the_end_of_a_line_is_whole_again():
    assert clauses("# Body\nThe shoul\u00ad\nder is long.") == {"1.1": "The shoulder is long."}


def test_a_hard_hyphen_at_the_end_of_a_line_stays_and_is_pointed_out():
    text = "# Body\nA well-\nlaid shoulder. And more."
    assert clauses(text) == {"1.1": "A well-laid shoulder.", "1.2": "And more."}
    assert warnings(text) == ["A hyphen stood at the end of a line: see whether it belongs into “well-laid”."]


def test_short_lines_without_stops_are_clauses_of_their_own():
    assert list(clauses("# Head\nSkull flat\nEyes dark,\nnever pale\nJaws strong").values()) == [
        "Skull flat",
        "Eyes dark, never pale",
        "Jaws strong",
    ]


def test_numbers_that_contradict_one_another_are_given_anew_and_it_is_said():
    text = "# 5 Body\n5.1 Loin short.\n5.3 Ribs long.\n5.2 Belly firm.\n# 4 Tail\n4.1 Low."
    assert titles(text) == ["1 Body", "2 Tail"]
    assert list(clauses(text)) == ["1.1", "1.2", "1.3", "2.1"]
    assert "Numbered 5.3 in the text; it is now 1.2." in warnings(text)
    assert "Numbered 4 in the text; it is now 2." in warnings(text)
    assert "The numbers in the text do not agree; the clauses were numbered anew." in warnings(text)


def test_clauses_counted_through_the_whole_text_are_counted_by_section():
    text = "# Head\n1. Long.\n2. Clean.\n# Neck\n3. Strong."
    assert list(clauses(text)) == ["1.1", "1.2", "2.1"]
    assert warnings(text)[-1] == "Numbered 3 in the text; it is now 2.1."


def test_sections_without_a_number_take_it_from_their_clauses():
    assert titles("HEAD\n2.1 Long.\n2.2 Clean.\nNECK\n4.1 Strong.") == ["2 HEAD", "4 NECK"]


def test_a_smaller_heading_leads_the_clause_below_it():
    text = "## Head\n### Skull\nFlat. Broad.\n### Stop\nModerate.\n## Neck\n### 2.1 Nape\nArched. Firm."
    assert titles(text) == ["1 Head", "2 Neck"]
    assert clauses(text) == {
        "1.1": "Skull: Flat.",
        "1.2": "Broad.",
        "1.3": "Stop: Moderate.",
        "2.1": "Nape: Arched. Firm.",
    }


def test_a_list_inside_a_numbered_clause_stays_in_it():
    text = "# 1 Feet\n1.1 The feet:\n- oval\n- firm\n(b) dark of nail\n1.2 Pads hard."
    assert clauses(text) == {"1.1": "The feet: oval firm (b) dark of nail", "1.2": "Pads hard."}
    assert warnings(text) == ["A list inside this clause was run together."]


def test_a_line_that_introduces_a_list_is_pointed_out():
    text = "# Ears\nThe ears:\n(a) stand up;\n(b) are small."
    assert list(clauses(text).values()) == ["The ears:", "stand up;", "are small."]
    assert "This line introduces the clauses below it; they may belong together." in warnings(text)


def test_a_paragraph_after_a_numbered_clause_belongs_to_it():
    text = "# Body\n1.1 Ribs long.\n\nThey reach well back.\n\n1.2 Loin short."
    assert clauses(text) == {"1.1": "Ribs long. They reach well back.", "1.2": "Loin short."}
    assert warnings(text) == ["A paragraph without a number was joined to this clause."]


def test_numbers_inside_the_text_begin_no_clause():
    text = "# Size\nThe best height of a dog is\n54. Bitches stand\n2.5 cm lower, in a ratio of\n1.1 to one."
    assert list(clauses(text).values()) == [
        "The best height of a dog is 54.",
        "Bitches stand 2.5 cm lower, in a ratio of 1.1 to one.",
    ]


def test_text_without_any_heading_still_splits():
    sections = split_standard("A sound dog. It works.")
    assert [(section.number, section.title) for section in sections] == [("1", "General")]
    assert sections[0].warnings
    assert [clause.text for clause in sections[0].clauses] == ["A sound dog.", "It works."]


def test_a_heading_without_text_is_a_section_without_clauses():
    sections = split_standard("# Head\n\n# Tail\n\nLow.")
    assert [(section.title, len(section.clauses)) for section in sections] == [("Head", 0), ("Tail", 1)]


def test_a_text_all_in_capitals_is_not_all_headings():
    assert clauses("THE DOG IS SOUND. IT MUST WORK ALL DAY LONG WITHOUT TIRING.\nIT IS LOW.") == {
        "1.1": "THE DOG IS SOUND.",
        "1.2": "IT MUST WORK ALL DAY LONG WITHOUT TIRING.",
        "1.3": "IT IS LOW.",
    }


@pytest.mark.parametrize("text", ["", "  \n\r\n ", "---", "…", "\0\x07"])
def test_nothing_gives_nothing(text):
    assert split_standard(text) == []


def test_joining_gives_markdown_that_splits_alike():
    standard = read_standard(NUMBERED)
    assert join_standard(standard) == NUMBERED.replace("5.1 T", "5.1. T").replace("5.2 A", "5.2. A").replace(
        "7.3 B", "7.3. B"
    )
    assert read_standard(join_standard(standard)) == standard


def test_too_much_text_is_refused_with_the_limit():
    with pytest.raises(ValueError, match="200,001 characters; at most 200,000"):
        split_standard("x" * 200_001)
    with pytest.raises(ValueError, match="601 clauses; at most 600"):
        split_standard("Yes. " * 601)
    assert len(split_standard("Yes. " * 600)[0].clauses) == 600


@pytest.mark.parametrize(
    "filler", [".", "[", "(", "*", "` ", "- ", "A. ", "1.", "> ", "a\n", "# \n", "\u00ad\n", "x-\n"]
)
def test_the_longest_text_of_any_one_mark_ends(filler):
    text = (filler * 200_000)[:200_000]
    try:
        split_standard(text)
    except ValueError as error:
        assert "clauses" in str(error)  # noqa: PT017


@pytest.mark.parametrize(
    "data",
    [
        "Löin “short”".encode(),
        "Löin “short”".encode("utf-8-sig"),
        "Löin “short”".encode("utf-16"),
        "\ufeffLöin “short”".encode("utf-16-be"),
        "Löin “short”".encode("cp1252"),
    ],
)
def test_files_in_the_usual_encodings_are_read(data):
    assert decode_text(data) == "Löin “short”"


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"PK\x03\x04\x00\x00", "not plain text"),
        (b"\xff\xfe\x00", "UTF-16 text but cannot be read"),
        (b"\x81\x8d", "not text in UTF-8, UTF-16 or Windows-1252"),
        (b"\x89PNG\x1a\n\x05", "not plain text"),
        (b"x" * 800_001, "too long"),
        (b"x" * 200_001, "too long"),
    ],
)
def test_what_is_not_text_is_refused(data, message):
    with pytest.raises(ValueError, match=message):
        decode_text(data)
