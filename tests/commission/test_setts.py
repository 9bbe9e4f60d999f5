"""Bars as written: mirrored setts, threads, places in a bar."""

import csv
import re
from pathlib import Path

import pytest

from settwright.commission import read_commission
from settwright.commission.lines import Lines

ROOT = Path(__file__).parents[2]
START = """
format = 1
units = "cm"
[measurements]
height = 170
bust_girth = 92
waist_girth = 74
hip_girth = 98
[skirt]
[cloths.shell]
width = 150
"""


def shell(body: str):
    return read_commission(START + body, "sett.toml").cloth("shell")


def test_the_page_s_section_of_bars_reads() -> None:
    page = (ROOT / "docs" / "commission.md").read_text()
    section = re.search(r"```toml\n(\[cloths.shell.warp\].*?)```", page, re.DOTALL)
    assert section
    cloth = shell(f'colours = {{ navy = "#112233", ivory = "#eeeedd", rust = "#aa5533" }}\nweft = "navy"\n{section[1]}')
    assert [(bar.name, bar.width) for bar in cloth.warp.bars] == [
        *(("navy 1", 12), ("ivory 1", 3), ("rust 1", 6), ("ivory 2", 3)),
    ]


# Threads of the whole repeat of counts that turn at their first and last stripe, each woven once: repeat =
# 2 × sum − first − last. Single facts from the public table thetartan/tartan-database (snapshot of 2017-01-10), where
# the slash marks the turning stripes.
COUNTS = [
    ("R/72 RB8 K12 Y4 K4 W4 K4 G16 R8 K4 R4 W/4", 144, 212),
    ("DB/22 K2 DB2 K2 DB2 K16 DG16 K2 DG16 K16 DB16 K2 DB/2", 116, 208),
    ("B/24 K4 B4 K4 B4 K24 G24 Y4 G24 K24 B24 K4 B/4", 172, 316),
    ("R/4 G4 R36 B4 R4 G36 R4 B36 R4 G4 R36 G4 R/4", 180, 352),
    ("R/72 G36 R8 G12 K2 W/4", 134, 192),
]


@pytest.mark.parametrize(("count", "listed", "full"), COUNTS)
def test_a_mirrored_count_turns_at_bars_woven_once(count: str, listed: int, full: int) -> None:
    stripes = re.findall(r"([A-Z]+)/?(\d+)", count)
    assert sum(int(n) for _, n in stripes) == listed
    colours = ", ".join(f'{c} = "#{i:06x}"' for i, c in enumerate(dict(stripes)))
    bars = ", ".join(f'"{c} {n}"' for c, n in stripes)
    cloth = shell(f"colours = {{ {colours} }}\nweft = 'as warp'\n[cloths.shell.warp]\nmirrored = true\n"
                  f"threads_per_cm = 20\nbars = [{bars}]\n")  # fmt: skip
    assert cloth.warp.repeat == pytest.approx(full * 0.5)
    assert cloth.warp == cloth.weft
    first, last = (int(n) * 0.5 for n in (stripes[0][1], stripes[-1][1]))
    turning = sorted((first / 2, listed * 0.5 - last / 2))
    assert [round(p, 6) for p in cloth.warp.pivots] == [pytest.approx(p) for p in turning]


@pytest.mark.parametrize(
    ("bars", "widths"),
    [
        ('warp = ["navy 12 mm", "light rust 0,3"]', (12, 3)),
        ('warp = ["navy 1/2 in", "light rust ½ in"]', (12.7, 12.7)),
        ('warp.bars = ["navy 12", "light  rust 3.5"]\nwarp.bars_in = "mm"', (12, 3.5)),
        ('warp.bars = ["navy 2", "light rust 4 mm"]\nwarp.bars_in = "inches"', (50.8, 4)),
        ('warp.bars = ["navy: 24", "light rust 12"]\nwarp.threads_per_inch = 24', (25.4, 12.7)),
    ],
)
def test_widths_in_every_unit(bars: str, widths: tuple[float, ...]) -> None:
    cloth = shell('colours = { navy = "#112233", "light rust" = "#AA5533" }\nweft = "navy"\n' + bars)
    assert tuple(bar.width for bar in cloth.warp.bars) == pytest.approx(widths)
    assert [bar.name for bar in cloth.warp.bars] == ["navy 1", "light rust 1"]
    assert dict(cloth.colours)["light rust"] == "#aa5533"


@pytest.mark.parametrize(
    ("at", "ox"),
    [
        ('bar = "rust 1"', (15 - 30) % 40),
        ('bar = "rust 1", at = "middle"', (15 - 35) % 40),
        ('bar = "rust 1", at = "right edge"', 15),
        ('bar = "rust 1", at = "4 mm"', (15 - 34) % 40),
        ("at = 3.2", (15 - 32) % 40),
    ],
)
def test_the_bar_named_stands_where_the_left_selvedge_ends(at: str, ox: float) -> None:
    cloth = shell(
        'colours = { navy = "#112233", rust = "#AA5533" }\nweft = "navy"\nwarp = ["navy 3", "rust 1"]\n'
        f"selvedge = 1.5\nat_left_selvedge = {{ {at} }}\n"
    )
    assert cloth.sett_at_left == pytest.approx(ox)
    # what lies just inside the selvedge is the place that was named
    place = (cloth.selvedge - cloth.sett_at_left) % cloth.warp.repeat
    assert cloth.warp.bar_at(place + 1e-3).name == ("navy 1" if "right" in at else "rust 1")


def test_lines_of_fields_in_lists_strings_and_sections() -> None:
    text = '''# a note = 1
a.b = 1
"side-front.left" = """
[no] = 3
"""
[[pins]]
x = [ # note ]
  "one", "two [",

  { three = 3 },
] # end
[[pins]]
x = 2
[pins.deep]
y = 3
'''
    lines = Lines(text)
    assert lines.of(("a", "b")) == 2
    assert lines.of(("side-front.left",)) == 3
    assert lines.of(("no",)) is None
    assert lines.of(("pins", 0, "x")) == 7
    assert [lines.of(("pins", 0, "x", i)) for i in range(3)] == [8, 8, 10]
    assert lines.of(("pins", 1)) == 12
    assert lines.of(("pins", 1, "z")) == 12
    assert lines.of(("pins", 1, "deep", "y")) == 15


PUBLISHED = list(csv.DictReader((ROOT / "tests" / "data" / "published-setts.csv").read_text().splitlines()))


@pytest.mark.parametrize("row", PUBLISHED, ids=lambda row: f"{row['name']}, {row['dataset']}")
def test_a_published_count_is_a_cloth_even_or_uneven_as_published(row: dict[str, str]) -> None:
    """Origin of the counts, of their totals and of what they are: beside the table."""
    stripes = [re.fullmatch(r"([A-Z]+)/?(\d+)", word) for word in row["count"].split()]
    bars = [f"{stripe[1].lower()} {stripe[2]}" for stripe in stripes if stripe]
    assert len(bars) == len(stripes)
    colours = ", ".join(f'{name} = "#{i + 1:06x}"' for i, name in enumerate(sorted({bar.split()[0] for bar in bars})))
    turns = "true" if "/" in row["count"] else "false"
    cloth = shell(
        f"colours = {{ {colours} }}\nweft = 'as warp'\n[cloths.shell.warp]\nbars_in = 'threads'\n"
        f"threads_per_cm = 20\nmirrored = {turns}\nbars = {bars}\n"
    )
    assert cloth.warp.repeat == pytest.approx(float(row["threads"]) * 0.5)
    assert cloth.warp.is_even == (row["reads"] == "even")
    assert cloth.weft.is_even == cloth.warp.is_even
