"""What `--help` says of each command, as a page of a manual: what, how, examples, exit codes."""

from __future__ import annotations

from typing import TypedDict

KEPT = "\b\n"  # the paragraph after it keeps its lines


class HelpPage(TypedDict):
    """A command's texts, by the names under which the command line takes them."""

    short_help: str
    help: str
    epilog: str


def _page(short: str, text: str, *examples: str, codes: str) -> HelpPage:
    """Return a page: a line, as in the list of commands, paragraphs, examples, exit codes.

    `text` has its paragraphs divided by empty lines, `codes` a line for each exit code.
    """
    shown = "\n".join(["Examples:", *(f"  drapetemplate {example}" for example in examples)])
    exits = "\n".join(["Exit codes:", *(f"  {line}" for line in codes.splitlines())])
    return {
        "short_help": short,
        "help": f"{short}\n\n{text}",
        "epilog": f"{KEPT}{shown}\n\n{KEPT}{exits}",
    }


_USED = "2  the command, the job file or a target can't be used as it is"
_DONE = f"0  done\n{_USED}"

APP = (
    "Marking templates for eyelet-topped draperies: from a window's measures to a job ticket and "
    "every hole at full size."
)
APP_EPILOG = f"""{KEPT}To begin:
  drapetemplate new              asks for the measures, writes a job file
  drapetemplate make JOB         writes the PDF to print
Then print at actual size and measure the bars on a sheet
before anything is traced.

Every command explains itself: drapetemplate COMMAND --help"""

MAKE = _page(
    "Write a job's PDF: ticket and 1:1 template.",
    "Each job file becomes one PDF; on roll paper the ticket is one of its own. Of a folder, "
    "every .toml in it is made. One bad job stops no other: what went wrong is said last.\n\n"
    "A stop keeps the template from being made: change the job as it says, or take it on with "
    "--accept, and the ticket has a line to sign for it; the command to type is printed.",
    "make writing_room.toml",
    "make writing_room.toml --out pdfs/",
    'make jobs/ --out "pdfs/{number} {name}.pdf"',
    'make bay.toml --window "Bay, left" --open',
    codes=f"0  made\n1  a stop: a template was not made\n{_USED}",
)
PLAN = _page(
    "Print every figure and finding; no PDF.",
    "What is wrong comes first, and what to do about it; then the strip to scale, eyelets, folds, "
    "seams, drops and what to order.",
    "plan writing_room.toml",
    "plan writing_room.toml --plain",
    "plan writing_room.toml --csv writing_room.csv",
    codes=f"0  nothing keeps the template from being made\n1  a stop does\n{_USED}",
)
COMPARE = _page(
    "Lay the even counts side by side.",
    "How many eyelets, and why: for each count the gaps, folds, stack, wall, rings, and what is "
    "wrong with it.",
    "compare writing_room.toml",
    "compare writing_room.toml --counts 12,14,16 --pdf counts.pdf",
    codes=_DONE,
)
PICTURE = _page(
    "Draw the panels, or a page of the PDF.",
    "Each window's panel from above on its pole, from the front, and its heading laid flat; with "
    "--page one page of the PDF instead. On screen only: print templates from the PDF.\n\n"
    "--page approval draws the page for the client: each window from the front, closed and open, "
    "finished sizes, cloth and eyelets, and a line to sign, but nothing of how it is cut. It isn't "
    "in the job's PDF, and may be written as a PDF of its own.\n\n"
    "Windows that don't fit one picture have one each: NAME-01.png, NAME-02.png and on.",
    "picture writing_room.toml --out writing_room.svg",
    'picture bay.toml --window "Bay, left" --out left.png',
    'picture writing_room.toml --page "ticket 1" --out page.png',
    "picture writing_room.toml --page approval --out approval.pdf",
    codes=_DONE,
)
CUTFILE = _page(
    "Write the strips for a cutting machine.",
    "Each strip of the job whole and at true size, a file a strip, as DXF (release 12) or SVG, in "
    "millimetres from its lower left corner. Where the job has several strips each file has its "
    "letter: bay-A.dxf, bay-C.dxf. Which ones there are and which side is seen is as the job's "
    "[paper] has it, but no strip is stepped: it is never printed. One strip for both panels of a "
    "pair, to mark them from, may be longer than either: where the machine cuts the bands "
    'themselves, have strips = "each" in [paper].\n\n'
    f"{KEPT}Layers, to cut, to draw with a pen, or to turn off:\n"
    "  HOLES    cut: each eyelet's hole\n"
    "  OUTLINE  cut, last of all: the band\n"
    "  PRICK    a small hole at each centre, to prick through\n"
    "  FOLD     return folds\n"
    "  MARKS    flanges and their edges, seams, motifs\n"
    "  TEXT     numbers, measures, letters, what the strip is\n\n"
    "Tell the machine's program: units are millimetres, nothing is scaled or fitted. After "
    "import, OUTLINE must be as wide and high as is printed here. No line is set off for the "
    "width of a blade or a beam: the machine's own settings do that. Blades and beams injure: "
    "keep to the maker's instructions. Cut one strip of paper first and lay a rule on it: holes "
    "as wide as the die, the strip as long as the ticket says.\n\n"
    "A printer's correction is for that printer alone: a job that names one is refused unless "
    "--uncorrected is given. What has no room on the band, as numbers beside large eyelets, is "
    "left out.",
    "cutfile writing_room.toml --out writing_room.dxf",
    'cutfile bay.toml --window "Bay, left" --out left.svg',
    'cutfile bay.toml --out "cut/{number} {name}.dxf"',
    codes=f"0  written\n1  a stop: nothing was written\n{_USED}",
)
ORDER = _page(
    "One order for many jobs: cloth, eyelets, band.",
    "Adds up what jobs take: cloth of one name and width, eyelets of one size, band of one height, "
    "with packs, rolls and spares over all, and says what each job takes of it and when that is "
    "due. Every job's drops and allowance are its own; their sum is rounded up once.\n\n"
    "Give job files, PDFs made from them, or folders. A job file and its PDFs count once; of a PDF "
    "made from another version than a job file of the same number and name the job file counts. "
    "What jobs say differently of one thing is warned of. A job with a stop is ordered too. A job "
    "with faults that is named keeps all from being ordered; one met in a folder is left out, and "
    "the command ends with 1.",
    "order jobs/",
    "order writing_room.toml stair_hall.pdf --out order.pdf",
    "order jobs/ stair_hall.pdf --due-before 2027-03-01",
    codes=f"0  done\n1  a job is left out for its faults, or none is due so soon\n{_USED}",
)
RECALL = _page(
    "Take the job file back out of a PDF.",
    "Byte for byte as it was when the PDF was made. What is there already is never written over: "
    "the very same file stays as it is, which is said; any other is a fault.",
    "recall writing_room.pdf",
    "recall writing_room.pdf --out again.toml",
    codes=_DONE,
)
MEASURE = _page(
    "Check a PDF's marks against its job.",
    "Lays out the job inside the PDF again and holds every line, circle and letter on the pages "
    "against it, to 0.01 mm; fonts, page sizes, hints and all else in the file are held against "
    "what it would write itself. What a printer does with them only the bars on paper tell.",
    "measure writing_room.pdf",
    "measure writing_room.pdf --json",
    codes=f"0  true\n1  something is off, missing or added\n{_USED}",
)
SHELF = _page(
    "Find a job among those that are kept.",
    "Looks through a folder and those in it for job files and PDFs made from them, and lists each "
    "job once, the first due first, those without a day last. A job file and the PDFs made from "
    "it are one job; a PDF whose job file was changed since is told.\n\n"
    "A word is looked for in number, name, client, room and notes, in the names of windows and "
    "cloths, and in files' names. Sheets are those of the PDF. What holds no job is passed over "
    "and counted, what is hidden isn't looked at, and nothing is written.",
    "shelf jobs/",
    "shelf jobs/ stair wool",
    "shelf jobs/ --due-before 2027-03-01",
    codes=_DONE,
)
CALIBRATE = _page(
    "Correct for a printer that is a little off.",
    "First write the check sheet and print it at actual size. Then measure its two heavy bars, "
    'across and down, and save what they read, in mm or as "5 7/8 in", under a name of your '
    "own. Readings that a setting gives, such as a letter file fit to A4 paper, are asked for "
    "again.\n\n"
    "Printers are kept in printers.json in your configuration folder.",
    "calibrate --paper letter",
    'calibrate --across 149.6 --down 150.2 --save "workroom"',
    "calibrate --list",
    codes=_DONE,
)
NEW = _page(
    "Ask for the measures; write a job file.",
    "One question at a time, as a measure sheet has them: window, width, pole, finish, eyelet, "
    "cloth, paper. Enter takes what is offered; dates and measures are taken as people write "
    "them. What can't work is said at once, with the numbers of the answers it rests on. Every "
    "answer is kept at once: after Ctrl-C the same command goes on from there.\n\n"
    "A job file that is there already is gone on with: its answers are listed, and the number of "
    "one asks it again. Only what changes is changed in it; comments stay.\n\n"
    f"{KEPT}At any question:\n"
    "  ?        explains it\n"
    "  list     shows all answers so far, numbered\n"
    "  back     goes to the question before, back 10 to answer 10\n"
    "  rest     is Enter at each question as far as you were,\n"
    "           or else to the end of this heading\n\n"
    "Ends with the plan, the job file, and its schema beside it for editors.",
    "new",
    "new writing_room.toml",
    codes=f"0  written, or nothing to change\n1  ended early, with the answers kept\n{_USED}",
)
DESK = _page(
    "See the panel in the browser as you type.",
    "A page on this computer alone, for which no network is needed: the questions of new, and "
    "beside them the panel from above, from the front and laid flat as each measure is typed. It "
    "is pushed open and closed, counts stand side by side, and job file and PDF are saved from "
    "there. A job file that was opened is changed key by key, its comments kept. Other jobs in its "
    "folder are opened from there too, out of their PDFs as well.\n\n"
    "The address that is printed holds the key to it: whoever has the key can change the job. "
    "What is typed is kept at once, so that the same command goes on from there.\n\n"
    "--starter puts a file on your desktop that starts the desk in this folder, or for the job "
    "named, when it is pressed twice.",
    "desk",
    "desk writing_room.toml",
    "desk writing_room.toml --no-open",
    "desk --starter",
    codes=f"0  ended with Ctrl-C, or the starter is there\n{_USED}",
)
SCHEMA = _page(
    "Print the schema of the job file.",
    "JSON Schema, by which an editor checks a job file as it is written, where the file's first "
    "line is #:schema ./job.schema.json and that lies beside it.",
    "schema --out job.schema.json",
    codes=_DONE,
)
