"""The job file as written: one model a TOML table, every key read into its exact value.

A key not given is None here, and stays so; `build` fills in its default. What pydantic itself
finds is only structure: an unknown key, a missing one, a table or list where it should be; values
are read by `fields`. Validate with the context {"units": "in"} (or mm, cm), the units of bare
numbers.
"""

from datetime import date
from fractions import Fraction
from typing import Annotated, Any

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema
from pydantic.fields import FieldInfo

from drapetemplate.job import defaults
from drapetemplate.job.fields import (
    AREA_WEIGHT,
    DATE,
    FULLNESS,
    LENGTH,
    LETTERS,
    MASS,
    NAME,
    NONE_SCHEMA,
    NUMBER,
    OFF_FLOOR,
    PAPER,
    PAPER_WORDS,
    POSITIVE,
    POSITIVE_OR_NONE,
    SHARE,
    TEXT,
    WIDTHS,
    YES_OR_NO,
    none_for_word,
    whole,
    word,
)
from drapetemplate.job.model import (
    MOST_SUPPORTS,
    Hung,
    Joined,
    Joins,
    Orientation,
    Panels,
    Pattern,
    StripSharing,
    Style,
    View,
)
from drapetemplate.job.paper_sizes import PaperSize
from drapetemplate.measures import Length, Units

MOST_WINDOWS = 1000


def _tidy(schema: dict[str, Any]) -> None:
    """Take null out of a model's JSON Schema: TOML has no such thing, a key is just left out."""
    for key in schema.get("properties", {}).values():
        if key.get("default", ...) is None:
            del key["default"]
        choices = [choice for choice in key.get("anyOf", ()) if choice.get("type") != "null"]
        if len(choices) == 1:
            del key["anyOf"]
            key.update(choices[0])


class _Table(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, json_schema_extra=_tidy)


class DetailsTable(_Table):
    """[job]: who and what the job is for."""

    name: Annotated[str, NAME] = Field(title="Job", description="What the job is called.")
    number: Annotated[str | None, NUMBER] = Field(
        None, title="Number", description="The workroom's number for it."
    )
    client: Annotated[str | None, TEXT] = Field(None, title="Client", description="Who it is for.")
    room: Annotated[str | None, TEXT] = Field(None, title="Room", description="Where it hangs.")
    due: Annotated[date | None, DATE] = Field(
        None, title="Due", description="The day it is due, year-month-day."
    )
    notes: Annotated[str | None, TEXT] = Field(
        None, title="Notes", description="Anything else, printed as is."
    )


class PaperTable(_Table):
    """[paper]: what the template is printed on, and how it is laid out."""

    size: Annotated[PaperSize | None, PAPER] = Field(
        None, title="Paper", description=f"{PAPER_WORDS}. {defaults.SIZE}"
    )
    orientation: Annotated[Orientation | None, word(Orientation)] = Field(
        None,
        title="Orientation",
        description=f"Which way round the sheets of the strip are. {defaults.ORIENTATION}",
    )
    margin: Annotated[Length | None, LENGTH] = Field(
        None,
        title="Paper margin",
        description=f"Paper edge that can't be printed. {defaults.MARGIN}",
    )
    overlap: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Sheet overlap",
        description=f"Paper two neighbouring sheets share, never cloth. {defaults.OVERLAP}",
    )
    joins: Annotated[Joins | None, word(Joins)] = Field(
        None,
        title="Joins",
        description=f"Joins clear of the eyelets, or in even steps. {defaults.JOINS}",
    )
    view: Annotated[View | None, word(View)] = Field(
        None,
        title="Template shows",
        description=f"The side of the panel the template shows. {defaults.VIEW}",
    )
    strips: Annotated[StripSharing | None, word(StripSharing)] = Field(
        None,
        title="Strip",
        description=(
            "A strip for each panel of a pair, or one for both, which takes half the paper; "
            f"a strip to step along is each panel's own. {defaults.STRIPS}"
        ),
    )
    style: Annotated[Style | None, word(Style)] = Field(
        None,
        title="Template",
        description=f"The whole strip, or its ends and a piece to step along. {defaults.STYLE}",
    )
    letters: Annotated[tuple[str, str] | None, LETTERS] = Field(
        None, title="Gap letters", description=f"Marks of front and back gaps. {defaults.LETTERS}"
    )
    printer: Annotated[str | None, NAME] = Field(
        None,
        title="Printer",
        description=f"The calibrated printer to correct for. {defaults.PRINTER}",
    )


class EyeletTable(_Table):
    """[eyelet]: the ring set through the heading. `outside` and `opening` are needed."""

    outside: Annotated[Length | None, POSITIVE] = Field(
        None, title="Eyelet outside", description="Across the flange."
    )
    opening: Annotated[Length | None, POSITIVE] = Field(
        None, title="Opening", description="Clear inside."
    )
    hole: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Hole to cut",
        description=f"What the cutting die cuts in the cloth. {defaults.HOLE}",
    )
    thickness: Annotated[Length | None, LENGTH] = Field(
        None,
        title="Ring thickness",
        description=f"How deep the opening is along its axis. {defaults.THICKNESS}",
    )
    hung: Annotated[Hung | None, word(Hung)] = Field(
        None,
        title="Hung on",
        description=f"On a pole, which the cloth weaves round, or on hooks. {defaults.HUNG}",
    )
    weight: Annotated[Fraction | None, MASS] = Field(
        None, title="Eyelet weight", description="One eyelet's weight with its unit, such as 12 g."
    )
    pack: Annotated[int | None, whole(1, 10_000)] = Field(
        None, title="Eyelets a pack", description="How many eyelets come in a pack."
    )
    spares: Annotated[int | None, whole(0, 10_000)] = Field(
        None, title="Spare eyelets", description=f"How many eyelets to buy over. {defaults.SPARES}"
    )


class BandTable(_Table):
    """[band]: the stiffener the eyelets are set through."""

    height: Annotated[Length | None, POSITIVE] = Field(
        None, title="Band height", description=f"How high it is. {defaults.BAND_HEIGHT}"
    )
    above: Annotated[Length | None, LENGTH] = Field(
        None,
        title="Top to eyelet",
        description=f"Panel top to the eyelet's top edge. {defaults.BAND_ABOVE}",
    )
    roll: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Band on a roll",
        description="How long a roll of it is, from which rolls, cuts and splices are worked out.",
    )


class PoleTable(_Table):
    """[pole]: what the panel hangs on, and where."""

    diameter: Annotated[Length | None, POSITIVE] = Field(
        None, title="Pole diameter", description="Across the pole."
    )
    projection: Annotated[Length | None, POSITIVE] = Field(
        None, title="Projection", description="Wall to pole centre."
    )
    wall_clearance: Annotated[Length | None, LENGTH] = Field(
        None,
        title="Kept off the wall",
        description=f"Air between the back folds and the wall. {defaults.WALL_CLEARANCE}",
    )
    top: Annotated[Length | None, POSITIVE] = Field(
        None, title="Floor to pole top", description="Floor to top of pole."
    )
    off_floor: Annotated[Length | None, OFF_FLOOR] = Field(
        None,
        title="Off the floor",
        description="Floor to the panel's bottom edge; negative where it is to break on the "
        f"floor, by so much. {defaults.OFF_FLOOR}",
    )
    length: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Usable pole",
        description="Usable pole, from finial to finial; what the panels cover where nothing else "
        "says that.",
    )
    supports: Annotated[int | None, whole(0, MOST_SUPPORTS)] = Field(
        None,
        title="Brackets between the ends",
        description="How many brackets hold the pole between its ends, evenly apart. Eyelets "
        "can't pass one.",
    )
    span: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Most pole without a bracket",
        description="The most pole that may be left without a bracket, from which the brackets "
        "between the ends are worked out; in place of supports.",
    )


class ClothTable(_Table):
    """What [fabric] and [lining] have alike."""

    name: Annotated[str | None, NAME] = Field(None, description="What the cloth is called.")
    width: Annotated[Length | None, POSITIVE] = Field(
        None, title="width", description="Selvage to selvage."
    )
    seam: Annotated[Length | None, LENGTH] = Field(
        None,
        title="seam allowance",
        description=f"Cloth a seam takes on each side. {defaults.SEAM}",
    )
    side_hem: Annotated[Length | None, LENGTH] = Field(
        None,
        title="side hem",
        description=f"Cloth a side hem takes at each edge. {defaults.SIDE_HEM}",
    )
    heading: Annotated[Length | None, LENGTH] = Field(
        None, title="heading", description=f"Cloth the heading takes. {defaults.HEADING}"
    )
    bottom_hem: Annotated[Length | None, LENGTH] = Field(
        None, title="bottom hem", description=f"Cloth the bottom hem takes. {defaults.BOTTOM_HEM}"
    )
    repeat_down: Annotated[Length | None, POSITIVE_OR_NONE] = Field(
        None,
        title="vertical repeat",
        description="The pattern's repeat along the cloth; none for a window's plain cloth.",
    )
    repeat_across: Annotated[Length | None, POSITIVE_OR_NONE] = Field(
        None,
        title="horizontal repeat",
        description="The pattern's repeat across the cloth; none for a window's plain cloth.",
    )
    railroad: Annotated[bool | None, YES_OR_NO] = Field(
        None,
        title="railroaded",
        description=f"Turn the cloth: its width runs down the panel. {defaults.RAILROAD}",
    )
    weight: Annotated[Fraction | None, AREA_WEIGHT] = Field(
        None, title="weight", description="Cloth weight with its unit, such as 250 gsm or 8 oz/yd2."
    )
    shrinkage: Annotated[Fraction | None, SHARE] = Field(
        None,
        title="shrinkage",
        description=f"A share of 1 or per cent, at most 25 %. {defaults.SHRINKAGE}",
    )
    allowance: Annotated[Length | None, LENGTH] = Field(
        None,
        title="allowance",
        description="Cloth to buy over what is cut, once for the whole job, to square the start "
        f"and cut round a flaw; with repeat_down a repeat more comes to it. {defaults.ALLOWANCE}",
    )


class FabricTable(ClothTable):
    """[fabric]: the face cloth, its hems and its pattern; no cloth is planned without it."""

    motif: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="motif",
        description="Left selvage to the centre of the first whole motif, or stripe: where a "
        'window\'s pattern is "folds", that stands in the middle of every front fold.',
    )
    mirrored: Annotated[bool | None, YES_OR_NO] = Field(
        None,
        title="mirrored",
        description="The right selvage is as far from a motif's centre as the left one, so that a "
        f"pair's panels are cut as mirror images. {defaults.MIRRORED}",
    )
    motif_down: Annotated[Length | None, LENGTH] = Field(
        None,
        title="motif down",
        description="Along the cloth, from its squared start to the first motif's centre; for a "
        "window's motif_below.",
    )


class LiningTable(ClothTable):
    """[lining]: the lining's cloth, its own hems, and how it is joined to the face."""

    side_hem: Annotated[Length | None, LENGTH] = Field(
        None,
        title="side hem",
        description=f"Cloth a side hem takes at each edge. {defaults.LINING_SIDE_HEM}",
    )
    heading: Annotated[Length | None, LENGTH] = Field(
        None,
        title="heading",
        description="Cloth a top turn of its own takes; none where it is caught under the face's "
        f"heading. {defaults.LINING_HEADING}",
    )
    bottom_hem: Annotated[Length | None, LENGTH] = Field(
        None,
        title="bottom hem",
        description=f"Cloth the bottom hem takes. {defaults.LINING_BOTTOM_HEM}",
    )
    joined: Annotated[Joined | None, word(Joined)] = Field(
        None,
        title="joined",
        description="Loose: hemmed by itself, set in from the face's side edges and short of its "
        "foot. Bagged: sewn to the face's edges and turned out, as wide and as long. "
        f"{defaults.JOINED}",
    )
    set_in: Annotated[Length | None, LENGTH] = Field(
        None,
        title="set in",
        description=f"Each of the face's side edges to the lining's, finished. {defaults.SET_IN}",
    )
    short: Annotated[Length | None, LENGTH] = Field(
        None,
        title="short of the face",
        description=f"How far it hangs above the face's finished foot. {defaults.SHORT}",
    )


TABLE_OR_NONE = BeforeValidator(
    none_for_word,
    json_schema_input_type=LiningTable | Annotated[str, WithJsonSchema(NONE_SCHEMA)],
)
"""A window's own table of a cloth, or the word by which it has none of what the file has."""


class WindowTable(_Table):
    """[[window]]: one window, with its own tables overriding the file's key by key."""

    name: Annotated[str | None, NAME] = Field(
        None, title="Window", description=f"What it is called. {defaults.NAME}"
    )
    quantity: Annotated[int | None, whole(1, 1000)] = Field(
        None, title="Windows alike", description=f"How many alike. {defaults.QUANTITY}"
    )
    panels: Annotated[Panels | None, word(Panels)] = Field(
        None, title="Panels", description=f"As seen from the room. {defaults.PANELS}"
    )
    width: Annotated[Length | None, POSITIVE] = Field(
        None, title="Finished width", description="One panel, finished, flat."
    )
    covers: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Pole covered",
        description="Pole between one panel's end eyelet centres, closed. Width and fullness say "
        "it too, and else pole.length does, half of it for each of a pair.",
    )
    glass: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Glass",
        description="The width to be seen through: how much of it the panels cover when they are "
        "drawn open, and the pole that would clear it.",
    )
    fullness: Annotated[Fraction | None, FULLNESS] = Field(
        None,
        title="Fullness",
        description="Flat cloth for the pole it covers, a multiplier: 2 means twice.",
    )
    widths: Annotated[Fraction | None, WIDTHS] = Field(
        None, title="Widths a panel", description="Cloth widths a panel, in halves."
    )
    length: Annotated[Length | None, POSITIVE] = Field(
        None, title="Finished length", description=f"Finished length. {defaults.LENGTH}"
    )
    leading: Annotated[Length | None, LENGTH] = Field(
        None,
        title="Leading",
        description=f"Leading edge to the first eyelet's edge. {defaults.LEADING}",
    )
    return_: Annotated[Length | None, LENGTH] = Field(
        None,
        alias="return",
        title="Return",
        description=f"Return edge to the nearest eyelet's edge. {defaults.RETURN}",
    )
    count: Annotated[int | None, whole(2, 2000, instead="auto")] = Field(
        None,
        title="Eyelets a panel",
        description=f"Eyelets a panel, an even number on a pole. {defaults.COUNT}",
    )
    gap: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Gap aimed at",
        description=f"Target for the cloth between two eyelets' edges. {defaults.GAP}",
    )
    stack_each: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Stack, each eyelet",
        description=f"Pole each eyelet takes with the panel open. {defaults.STACK_EACH}",
    )
    extra_seams: Annotated[int | None, whole(0, 10)] = Field(
        None,
        title="Extra seams",
        description="Seams a panel may have over those it needs, where each saves a drop. "
        f"{defaults.EXTRA_SEAMS}",
    )
    pattern: Annotated[Pattern | None, word(Pattern)] = Field(
        None,
        title="Pattern",
        description="Seams: it matches at every seam. Folds: every front fold shows the same place "
        "of it too, for which the panel's width and its eyelets follow repeat_across. "
        f"{defaults.PATTERN}",
    )
    motif_below: Annotated[Length | None, POSITIVE] = Field(
        None,
        title="Motif below the top",
        description="Finished top to a motif's centre: every drop is cut so that one hangs there. "
        "Takes repeat_down and motif_down of the cloth.",
    )
    eyelet: EyeletTable = Field(
        default_factory=EyeletTable,
        description="The ring set through the heading: this window's own keys.",
    )
    band: BandTable = Field(
        default_factory=BandTable,
        description="The stiffener the eyelets are set through: this window's own keys.",
    )
    pole: PoleTable = Field(
        default_factory=PoleTable,
        description="What the panel hangs on, and where: this window's own keys.",
    )
    fabric: FabricTable | None = Field(None, description="The face cloth: this window's own keys.")
    lining: Annotated[LiningTable | None, TABLE_OR_NONE] = Field(
        None, description="The lining's cloth: this window's own keys; none for no lining."
    )


class JobFile(_Table):
    """A whole job file."""

    units: Annotated[Units | None, word(Units)] = Field(
        None, title="Units", description=f"The units of every bare number. {defaults.UNITS}"
    )
    job: DetailsTable = Field(description="Who and what the job is for.")
    paper: PaperTable = Field(
        default_factory=PaperTable, description="What the template is printed on, and how."
    )
    eyelet: EyeletTable = Field(
        default_factory=EyeletTable, description="The ring set through the heading."
    )
    band: BandTable = Field(
        default_factory=BandTable, description="The stiffener the eyelets are set through."
    )
    pole: PoleTable = Field(
        default_factory=PoleTable, description="What the panel hangs on, and where."
    )
    fabric: FabricTable | None = Field(None, description="The face cloth; none if left out.")
    lining: LiningTable | None = Field(None, description="The lining's cloth; none if left out.")
    window: list[WindowTable] = Field(
        min_length=1, max_length=MOST_WINDOWS, description="The windows, each below a [[window]]."
    )


TABLES: dict[str, type[BaseModel]] = {
    "": JobFile,
    "job": DetailsTable,
    "paper": PaperTable,
    "eyelet": EyeletTable,
    "band": BandTable,
    "pole": PoleTable,
    "fabric": FabricTable,
    "lining": LiningTable,
    "window": WindowTable,
}
"""Every table of a job file by its name; "" is the top level."""


def keys_of(table: str) -> list[str]:
    """Return the keys a table may have, as the file spells them."""
    return [field.alias or name for name, field in TABLES[table].model_fields.items()]


def field_of(table: str, key: str) -> FieldInfo:
    """Return what a table says of a key: its title and its description; KeyError if unknown."""
    fields = TABLES[table].model_fields
    return fields[f"{key}_"] if f"{key}_" in fields else fields[key]


def path_in_file(table: str, key: str) -> str:
    """Return a key's path without its window: "paper.margin", but "units" and "width"."""
    return key if table in {"", "window"} else f"{table}.{key}"
