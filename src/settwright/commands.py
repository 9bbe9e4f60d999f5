"""The command line: reads words, calls the program, prints. Nothing is decided here.

Every import of the program stands inside the command that needs it, so that `verify` never loads the planner.
"""

from __future__ import annotations

import gc
import os
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from rich.console import Console

    from settwright.planner.progress import Progress

app = typer.Typer(
    add_completion=False,
    pretty_exceptions_enable=False,
    help="From measurements, a design and a length of striped or plaid cloth to a cut-ready plan.",
)


@cache
def _out() -> Console:
    from rich.console import Console  # noqa: PLC0415  the page opens without it

    return Console(highlight=False)


@cache
def _err() -> Console:
    from rich.console import Console  # noqa: PLC0415

    return Console(stderr=True, highlight=False)


def _escape(text: str) -> str:
    from rich.markup import escape  # noqa: PLC0415

    return escape(text)


@app.callback(invoke_without_command=True)
def page(
    context: typer.Context,
    data: Annotated[
        Path | None, typer.Option(help="Where the workroom's book is kept; else where such things are kept.")
    ] = None,
    port: Annotated[int | None, typer.Option(help="The port of the page; else any that is free.")] = None,
    browser: Annotated[bool, typer.Option(help="Whether to open the browser.")] = True,
) -> None:
    """Opens the page in the browser, where no command is given."""
    if context.invoked_subcommand is not None:
        return
    from settwright.web.serve import open_or_say  # noqa: PLC0415

    raise typer.Exit(open_or_say(data, port=port, browse=browser))


@app.command()
def plan(
    commission: Annotated[Path, typer.Argument(help="The commission, a .toml file (docs/commission.md).")],
    to: Annotated[Path, typer.Option(help="The folder for the plan and its sheets; made if it isn't there.")],
    search_longer: Annotated[
        bool,
        typer.Option(
            "--search-longer",
            help="Look longer for a shorter layout and keep it in the commission; Ctrl-C keeps the best so far.",
        ),
    ] = False,
    compare: Annotated[
        bool,
        typer.Option(
            "--compare",
            help="Also tell in the workbook where else the centre front may lie, and what other ways of cutting and a "
            "hem moved on to a bar would give; some seconds more.",
        ),
    ] = False,
) -> None:
    """Plans a commission and writes workbook, full-size sheets, drawings and plan.json."""
    gc.disable()  # a short run whose values hold no rings: looking for them would cost a tenth of the time
    from settwright.planner import plan_to_folder  # noqa: PLC0415
    from settwright.planner.progress import Progress  # noqa: PLC0415
    from settwright.planner.summary import print_summary  # noqa: PLC0415

    text = _read(commission)
    with _telling(commission, f"The plan can't be written to {to}"), Progress(_err()) as progress:
        if search_longer:
            text = _searched(commission, text, progress)
        made = plan_to_folder(text, commission.name, to, progress.stage, compare=compare)
    print_summary(_out(), made, to)


@app.command()
def cut(
    commission: Annotated[Path, typer.Argument(help="The commission, a .toml file (docs/commission.md).")],
    pieces: Annotated[list[str], typer.Argument(help="What was cut: body, or pieces by name (front, back.right).")],
) -> None:
    """Marks pieces as cut, as the plan lays them: they keep their place, bars and outline from then on."""
    from settwright.planner.marking import mark_cut  # noqa: PLC0415
    from settwright.planner.progress import Progress  # noqa: PLC0415

    text = _read(commission)
    with _telling(commission, f"{commission} can't be written"), Progress(_err()) as progress:
        text, marked = mark_cut(text, commission.name, pieces, progress.stage)
        _write(commission, text)
    _out().print(f"Marked as cut in {_escape(commission.name)}: {_escape(', '.join(marked))}.")


@app.command()
def advise(
    commission: Annotated[Path, typer.Argument(help="The commission, a .toml file (docs/commission.md).")],
    to: Annotated[Path | None, typer.Option(help="A PDF to write the advice to as well.")] = None,
) -> None:
    """Tells what each constraint costs in cloth, and what would make the plan fit the length in hand."""
    from settwright.commission.reading import read_commission  # noqa: PLC0415
    from settwright.planner.advice import advice_pdf, print_advice  # noqa: PLC0415
    from settwright.planner.advice import advise as work_out  # noqa: PLC0415

    text = _read(commission)
    with _telling(commission, f"The advice can't be written to {to}"):
        advice = work_out(read_commission(text, commission.name))
        if to:
            to.write_bytes(advice_pdf(advice))
    print_advice(_out(), advice)


@app.command()
def moved(
    commission: Annotated[Path, typer.Argument(help="The commission, a .toml file (docs/commission.md).")],
    change: Annotated[str, typer.Option(help='A field and its new value: "waist_girth 78", "jacket.lapel_width 9".')],
    to: Annotated[Path | None, typer.Option(help="A PDF to draw it in as well.")] = None,
) -> None:
    """Tells what one change of a measurement or a choice would move in the drafts; the commission stays as it is."""
    from settwright.planner.changing import change as work_out  # noqa: PLC0415
    from settwright.planner.changing import change_pdf, print_change  # noqa: PLC0415

    text = _read(commission)
    with _telling(commission, f"{to} can't be written"):
        found = work_out(text, commission.name, change)
        if to:
            to.write_bytes(change_pdf(found))
    print_change(_out(), found)


@app.command()
def sizes(
    commission: Annotated[Path, typer.Argument(help="The commission whose design is graded, a .toml file.")],
    to: Annotated[Path, typer.Option(help="The folder for the nests; made if it isn't there.")],
    table: Annotated[str, typer.Option(help="The size table: european or american.")] = "european",
    smallest: Annotated[str | None, typer.Option(help="The smallest size, by its name in the table.")] = None,
    largest: Annotated[str | None, typer.Option(help="The largest size.")] = None,
) -> None:
    """Drafts the design for a range of sizes and draws the nest of every piece; the client's measures aren't used."""
    from settwright.body.sizes import table_of  # noqa: PLC0415
    from settwright.commission.reading import read_commission  # noqa: PLC0415
    from settwright.planner.folder import put_in_place  # noqa: PLC0415
    from settwright.planner.grading import grade, graded_files, print_graded  # noqa: PLC0415

    text = _read(commission)
    with _telling(commission, f"The nests can't be written to {to}"):
        graded = grade(read_commission(text, commission.name), table_of(table), smallest, largest)
        written = put_in_place(graded_files(graded), to)
    print_graded(_out(), graded)
    for file in written:
        _out().print(f"  {_escape(str(to / file.name))}  {_escape(file.shows)}")


@app.command()
def verify(
    plan: Annotated[Path, typer.Argument(help="A plan.json.")],
) -> None:
    """Checks a plan.json from its geometry alone, without the planner."""
    from settwright.verify import verify as verify_plan  # noqa: PLC0415

    try:
        report = verify_plan(plan.read_bytes())
    except OSError as error:
        _err().print(f"{_escape(str(plan))} can't be read: {_escape(error.strerror or str(error))}.")
        raise typer.Exit(2) from None
    for fault in report.faults:
        _out().print(_escape(str(fault)))
    if not report.is_sound:
        if any(fault.check != "format" for fault in report.faults):
            count = len(report.faults)
            _out().print("One of its claims doesn't hold." if count == 1 else f"{count} of its claims don't hold.")
        raise typer.Exit(1)
    over = [j for j in report.joins if j.worst_level is not None and j.worst_level > j.floor + 1.0]
    _out().print(
        "The plan holds. Worked out again from its outlines alone: the pieces, the layout, the places in the repeat, "
        f"and how the bars meet at {len(report.joins)} places (seams, a piece lying on another or hanging over it, "
        f"right and left halves). At {len(over)} of them level bars miss by over 1 mm more than the shape of the two "
        "edges asks."
    )


@contextmanager
def _telling(commission: Path, unwritten: str) -> Iterator[None]:
    """Tells what stands in the way of a plan, or that a file can't be written, and ends the command."""
    from settwright.findings import Refusal  # noqa: PLC0415

    try:
        yield
    except Refusal as refusal:
        _err().print(f"[bold]{_escape(commission.name)} can't be planned yet.[/]")
        for finding in refusal.findings:
            _err().print(f"  • {_escape(str(finding))}")
        raise typer.Exit(1) from None
    except OSError as error:
        _err().print(f"{_escape(unwritten)}: {_escape(error.strerror or str(error))}.")
        raise typer.Exit(1) from None


def _searched(path: Path, text: str, progress: Progress) -> str:
    """Searches longer, until it is done or Ctrl-C is pressed, and writes what was found into the commission."""
    import signal  # noqa: PLC0415

    from settwright.planner.longer import search_longer  # noqa: PLC0415

    stopped: list[int] = []

    def told(cloth: str, part: float, length: float) -> bool:
        progress.length(cloth, part, length)
        return bool(stopped)

    before = signal.signal(signal.SIGINT, lambda number, frame: stopped.append(number))
    try:
        text = search_longer(text, path.name, progress.stage, told)
    finally:
        signal.signal(signal.SIGINT, before)
    _write(path, text)
    return text


def _write(path: Path, text: str) -> None:
    """Writes a commission whole or not at all."""
    part = path.with_name(path.name + ".part")
    part.write_text(text, encoding="utf-8")
    os.replace(part, path)


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except UnicodeDecodeError:
        _err().print(f"{_escape(path.name)} is not a text file in UTF-8; save it as plain text and try again.")
    except OSError as error:
        _err().print(f"{_escape(str(path))} can't be read: {_escape(error.strerror or str(error))}.")
    raise typer.Exit(1)
