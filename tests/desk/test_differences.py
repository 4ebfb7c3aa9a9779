"""Where a draft and its file differ: each answer that counts, and no way of writing the same."""

from __future__ import annotations

from drapetemplate.desk.differences import Difference, differences

FILE = {
    "job.name": "Heron Point, hall",
    "window[1].width": "88",
    "window[1].panels": "left",
    "eyelet.outside": "2 5/8",
    "eyelet.opening": "1 9/16",
    "window[2].width": "60",
}


def told(draft: dict[str, str]) -> list[tuple[str, str, str]]:
    """Each difference: its path, the file's answer and the draft's."""
    found = differences(FILE, FILE | draft)
    return [(each.path, each.file, each.draft) for each in found]


def test_what_counts_and_differs() -> None:
    """In the order of asking, a later window's with its number; "" where one has no answer."""
    draft = {"window[2].width": "61", "window[1].panels": "", "window[2].gap": "5"}
    panels, width = differences(FILE, FILE | draft)
    assert panels == Difference("window[1].panels", panels.label, "left", "")
    assert width == Difference("window[2].width", width.label, "60", "61")
    assert width.label == "Window 2: Finished width of one panel, laid flat?"
    assert not panels.label.startswith("Window 1: ")
    # The gap counts once its question is opened.
    opened = told(draft | {"window[2].?eyelet": "yes"})
    assert ("window[2].gap", "", "5") in opened


def test_the_same_in_other_words() -> None:
    """What takes the default, or isn't asked any more, is no difference."""
    assert told({}) == []
    assert told({"window[2].gap": "5", "window[1].?pole": "no", "pole.length": "2"}) == []
    assert told({"window[1].?pole": " NO "}) == []


def test_what_cant_be_kept_is_shown_as_typed() -> None:
    """Else nobody would see that it is there."""
    assert told({"window[1].?pole": "perhaps"}) == [("window[1].?pole", "", "perhaps")]
