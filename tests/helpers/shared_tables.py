"""Random job files whose windows share the file's tables in any way, with comments everywhere."""

from __future__ import annotations

from collections.abc import Iterator

from hypothesis import strategies as st

from drapetemplate.job.parse import tables_in


def keys(*pairs: tuple[str, tuple[str, ...]]) -> st.SearchStrategy[str]:
    """Some of these keys, each with one of its values."""
    each = [
        st.sampled_from(["", *(f"{key} = {value}\n" for value in values)]) for key, values in pairs
    ]
    return st.tuples(*each).map("".join)


EYELET = (("outside", ('"2 5/8"', "3")), ("opening", ('"1 9/16"', "1.75")), ("pack", ("8",)))
POLE = (("diameter", ("1", '"35 mm"')), ("projection", ("4",)), ("top", ("96", '"100"')),
        ("length", ("80",)), ("wall_clearance", ('"1/2"',)))  # fmt: skip
CLOTH = (("width", ("54", '"137 cm"')), ("repeat_down", ("12", '"none"')),
         ("repeat_across", ("24", '"none"')), ("side_hem", ("1",)),
         ("weight", ('"250 gsm"',)))  # fmt: skip
WINDOW = (("name", ('"North"',)), ("count", ("8", '"auto"')), ("panels", ('"left"', '"pair"')),
          ("length", ("80",)), ("extra_seams", ("1",)), ("stack_each", ('"1/2"',)))  # fmt: skip
WIDTHS = st.sampled_from(
    ["width = 88\n", "covers = 40\nfullness = 2\n", "width = 60\ncovers = 30\n"]
)


@st.composite
def tables(draw: st.DrawFn, prefix: str = "") -> str:
    """Some tables, of the file or of a window."""
    text = ""
    for name, given_keys in (
        ("eyelet", EYELET), ("pole", POLE), ("band", (("height", ("5",)),)),
        ("fabric", CLOTH), ("lining", CLOTH),
    ):  # fmt: skip
        if draw(st.booleans()):
            text += f"# about {name}\n[{prefix}{name}]\n{draw(keys(*given_keys))}\n"
    return text


@st.composite
def jobs(draw: st.DrawFn) -> str:
    """A job file whose windows share tables in any way."""
    text = '[job]\nname = "Heron Point"  # the house\n\n'
    shared = draw(tables())
    if "[eyelet]\n" not in shared:
        shared = f'[eyelet]\noutside = "2 5/8"\nopening = "1 9/16"\n\n{shared}'
    windows = ""
    for _ in range(draw(st.integers(1, 3))):
        own = draw(tables("window."))
        unlined = "[window.lining]" not in own and draw(st.booleans())
        refused = 'lining = "none"\n' if unlined else ""
        windows += f"# a window\n[[window]]\n{draw(WIDTHS)}{draw(keys(*WINDOW))}{refused}\n{own}"
    first, second = (shared, windows) if draw(st.booleans()) else (windows, shared)
    return text + first + second


def unsayable(text: str) -> Iterator[str]:
    """What no questions are for: a lining without a cloth, and what a later window hasn't.

    A later one can't say that it has none of what the first one gives itself.
    """
    raw = tables_in(text.encode(), "")
    for window in raw["window"]:
        if ("lining" in raw or "lining" in window) and not ("fabric" in raw or "fabric" in window):
            yield "lining"
    first, *others = raw["window"]
    for table in ("eyelet", "band", "pole", "fabric", "lining"):
        for key in first.get(table, {}) if isinstance(first.get(table), dict) else ():
            if others and key not in raw.get(table, {}):
                yield f"{table}.{key}"
        if others and table in first and table not in raw:
            yield table
