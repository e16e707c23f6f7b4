import pytest

from shared.prose.zones import ZONES, suggest_zone


@pytest.mark.parametrize(
    ("title", "text", "zone"),
    [
        ("Forequarters", "The blade slopes to some 35° from plumb and meets the arm.", "forequarters"),
        ("Body and topline", "The croup falls away moderately, neither level nor abrupt.", "topline"),
        ("Body and topline", "The chest reaches the elbow; the ribs are well sprung.", "body"),
        ("Hindquarters", "Below the hock the leg stands plumb.", "hindquarters"),
        ("Faults", "A straight stifle is a serious fault.", "hindquarters"),
        ("Faults", "Pasterns that give way.", "forequarters"),
        ("Faults", "A rear pastern that slopes.", "hindquarters"),
        ("Head and skull", "The eyes are dark, the teeth meet in a scissor bite.", "head"),
        ("Size", "Height at the withers 54 to 58 cm.", "whole"),
        ("General appearance", "A medium dog that carries its head low and its tail lower.", "whole"),
        ("Coat and colour", "Fawn, with a grey saddle over the back.", "coat"),
        ("FEET", "Oval; toes close, pads thick.", "feet"),
        ("Tail", "Set on in line with the croup.", "tail"),
        ("", "An ewe neck.", "neck"),
        ("", "Nothing of anatomy.", "whole"),
        ("", "", "whole"),
    ],
)
def test_zone_by_the_words_of_anatomy(title, text, zone):
    assert suggest_zone(title, text) == zone


def test_there_are_ten_zones_with_a_label_each():
    assert len(ZONES) == 10
    assert all(label and label[0].isupper() for label in ZONES.values())
