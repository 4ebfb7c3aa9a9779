"""Every argument and option of the command line: its name and its help.

What a shell may offer for one is in `completion.py`, by the names that they have here; what reads
those that typer can't, days, codes and counts, is in `option_values.py`.
"""

from pathlib import Path
from typing import Annotated

import typer

from drapetemplate.cli.completion_scripts import SHELLS

Version = Annotated[bool, typer.Option("--version", help="Print the version.")]
InstallCompletion = Annotated[
    str | None,
    typer.Option(
        metavar="SHELL", help=f"Let a shell complete this command's words: {', '.join(SHELLS)}."
    ),
]
ShowCompletion = Annotated[
    str | None, typer.Option(metavar="SHELL", help="Print what that would install.")
]

JobPath = Annotated[
    Path,
    typer.Argument(
        metavar="JOB",
        help="A job file (TOML).",
    ),
]
Jobs = Annotated[
    list[Path],
    typer.Argument(
        metavar="JOB",
        help="Job files (TOML), or folders of them.",
    ),
]
PdfPath = Annotated[
    Path,
    typer.Argument(
        metavar="PDF",
        help="A PDF made from a job.",
    ),
]

AsJson = Annotated[bool, typer.Option("--json", help="Print JSON instead of text.")]
Plain = Annotated[
    bool,
    typer.Option("--plain", help="For screen readers: a fact a line, no picture, no columns."),
]
Printer = Annotated[
    str | None,
    typer.Option(
        metavar="NAME",
        help="Correct for this calibrated printer, whatever the job names.",
    ),
]
Windows = Annotated[
    list[str] | None,
    typer.Option(
        "--window",
        metavar="NAME",
        help="Only this window of the job; may be repeated.",
    ),
]

MakeOut = Annotated[
    Path | None,
    typer.Option(
        metavar="PATH",
        help="The PDF to write, or a folder for it. {number}, {name} and {file} in it stand for "
        "the job's. Default: this folder.",
    ),
]
Accept = Annotated[
    list[str] | None,
    typer.Option(
        metavar="CODE",
        help="Make the template despite this stop finding; the ticket says so.",
    ),
]
Workers = Annotated[
    int | None,
    typer.Option(
        min=1, max=64, metavar="NUMBER", help="Processes at once. Default: as many as pay."
    ),
]
OpenIt = Annotated[bool, typer.Option("--open", help="Open the PDF when it is made.")]

Csv = Annotated[
    Path | None,
    typer.Option("--csv", metavar="PATH", help="Also write holes, cut list and order as CSV."),
]
Counts = Annotated[
    str, typer.Option(metavar="6,8,10", help="The counts to compare. Default: those beside.")
]
ComparePdf = Annotated[
    Path | None, typer.Option(metavar="PATH", help="Also draw them, a page a window.")
]

PictureOut = Annotated[Path, typer.Option(metavar="FILE.png|svg", help="The picture to write.")]
PageName = Annotated[
    str | None,
    typer.Option(
        metavar="NAME",
        help='Draw this page of the PDF instead, as PDF viewers name it: "ticket 1", '
        '"strip 1 assembly 1", "strip 1 sheet 2"; or "approval", the page for the client to sign.',
    ),
]

CutOut = Annotated[
    Path,
    typer.Option(
        metavar="FILE.dxf|svg",
        help="The file to write, or a folder for a DXF. {number}, {name} and {file} in it stand "
        "for the job's; strips have their letters added.",
    ),
]
CutAccept = Annotated[
    list[str] | None,
    typer.Option(
        "--accept", metavar="CODE", help="Make the file despite this stop finding; it says so."
    ),
]
Uncorrected = Annotated[
    bool,
    typer.Option(
        "--uncorrected", help="Draw at true size though the job names a calibrated printer."
    ),
]
NoPrinter = Annotated[str | None, typer.Option("--printer", metavar="NAME", hidden=True)]
"""Asked for by whoever knows it from make, and refused in words of its own."""
OrderJobs = Annotated[
    list[Path],
    typer.Argument(
        metavar="JOB|PDF|FOLDER",
        help="Job files (TOML), PDFs made from them, or folders of both, inner ones too.",
    ),
]
OrderOut = Annotated[
    Path | None,
    typer.Option("--out", metavar="FILE.pdf", help="Also write the order as pages to buy by."),
]
OrderCsv = Annotated[
    Path | None,
    typer.Option("--csv", metavar="PATH", help="Also write the order as CSV."),
]

RecallOut = Annotated[
    Path | None,
    typer.Option(metavar="PATH", help="The job file to write. Default: PDF's name, .toml."),
]

NewPath = Annotated[
    Path | None,
    typer.Argument(
        metavar="PATH",
        help="The job file to write, or to go on with; .toml is added. Default: asked at the end, "
        "and offered after the job's name.",
    ),
]

ShelfFolder = Annotated[
    Path, typer.Argument(metavar="FOLDER", help="The folder to look through, inner ones too.")
]
ShelfWords = Annotated[
    list[str] | None,
    typer.Argument(metavar="WORD", help="Only jobs with all these words; capitals don't count."),
]
DueBefore = Annotated[
    str | None,
    typer.Option(metavar="DATE", help="Only jobs due before this day, as in 2027-03-31."),
]

DeskPath = Annotated[
    Path | None,
    typer.Argument(
        metavar="JOB",
        help="A job file (TOML) to open, or a folder for a new one. Default: a new one here.",
    ),
]
NoOpen = Annotated[
    bool, typer.Option("--no-open", help="Leave the browser alone: only print the address.")
]
PutStarter = Annotated[
    bool, typer.Option("--starter", help="Put a file on the desktop that starts it; nothing else.")
]

SchemaOut = Annotated[
    Path | None,
    typer.Option(metavar="PATH", help="The file to write, or a folder for it, instead."),
]

CheckPaper = Annotated[
    str | None,
    typer.Option(
        "--paper",
        metavar="SIZE",
        help="The check sheet's paper, as a job names it. Default: letter.",
    ),
]
CheckOut = Annotated[
    Path | None,
    typer.Option(
        "--out", metavar="PATH", help="The check sheet. Default: calibrate-SIZE.pdf here."
    ),
]
Across = Annotated[
    str | None, typer.Option(metavar="MEASURED", help="What the long bar across reads.")
]
Down = Annotated[str | None, typer.Option(metavar="MEASURED", help="What the long bar down reads.")]
Save = Annotated[
    str | None, typer.Option(metavar="NAME", help="Keep the readings as this printer's.")
]
Sure = Annotated[
    bool, typer.Option("--sure", help="Keep readings that look like a setting's or another bar's.")
]
Listing = Annotated[bool, typer.Option("--list", help="Print the printers kept.")]
Forget = Annotated[
    str | None,
    typer.Option(
        metavar="NAME",
        help="Remove a printer from the list.",
    ),
]
