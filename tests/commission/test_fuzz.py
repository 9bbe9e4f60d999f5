"""Whatever is done to a commission's text, reading it gives a Commission or a Refusal that says something."""

from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from settwright.commission import Commission, read_commission
from settwright.findings import Finding, Refusal

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXTS = tuple((EXAMPLES / f"{name}.toml").read_text() for name in ("plaid-suit", "even-plaid-suit"))

PIECES = (
    *(
        "=",
        "[",
        "]",
        "[[",
        "]]",
        "{",
        "}",
        '"',
        "'",
        '"""',
        "#",
        ",",
        ".",
        "-",
        "\n",
        "\r\n",
        "\t",
        "\x00",
        "\ufeff",
        " ",
    ),
    *("true", "nan", "inf", "-inf", "1e400", "9" * 400, "9" * 5000, "0", "-1", "1/0", "½", "38 1/2", "1_000", "0x10"),
    *("2026-03-02", "12:00:00", '"navy 1"', '"٣"', "[pins]", "[[cut]]", "[[found]]", "[cloths]", "[cloths.shell.warp]"),
    *("format = 0", "format = 2", "units = 3", "é", "“", "a.b.c = 1", "importance = 3", "[[jacket]]", "[fittings.x]"),
)

mutation = st.tuples(
    st.sampled_from(["delete", "insert", "replace", "repeat", "swap value"]),
    st.floats(0, 1, exclude_max=True),
    st.integers(0, 40),
    st.one_of(st.sampled_from(PIECES), st.text(max_size=6)),
)


def mutate(text: str, kind: str, where: float, size: int, piece: str) -> str:
    at = int(where * (len(text) + 1))
    if kind == "delete":
        return text[:at] + text[at + size :]
    if kind == "insert":
        return text[:at] + piece + text[at:]
    if kind == "repeat":
        return text[: at + size] + text[at:]
    if kind == "replace":
        return text[:at] + piece + text[at + len(piece) :]
    lines = text.split("\n")
    row = int(where * len(lines))
    field, equals, _ = lines[row].partition("=")
    lines[row] = f"{field}{equals} {piece}"
    return "\n".join(lines)


def read_or_refused(text: str) -> tuple[Finding, ...]:
    """Returns what a text is refused for, nothing if it reads; any other end is an error of the program."""
    try:
        assert isinstance(read_commission(text, "suit.toml"), Commission)
    except Refusal as refusal:
        return refusal.findings
    return ()


@settings(max_examples=120, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(TEXTS), st.lists(mutation, min_size=1, max_size=4))
def test_a_mutilated_commission_is_read_or_refused(text: str, mutations: list[tuple[str, float, int, str]]) -> None:
    for kind, where, size, piece in mutations:
        text = mutate(text, kind, where, size, piece)
    for finding in read_or_refused(text):
        assert finding.where.startswith("suit.toml")
        assert finding.what
        assert finding.remedy


values = st.recursive(
    st.one_of(
        st.none(),
        st.booleans(),
        st.integers(),
        st.floats(),
        st.text(max_size=8),
        st.sampled_from(["as warp", "navy 1"]),
    ),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text("abc", max_size=3), inner, max_size=3)
    ),
    max_leaves=5,
)


def written(value: object) -> str:
    if value is None:
        return '""'
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return (
            '"'
            + "".join(
                c if c.isalnum() or c == " " else f"\\U{ord(c):08X}" for c in value if not 0xD800 <= ord(c) < 0xE000
            )
            + '"'
        )
    if isinstance(value, list):
        return "[" + ", ".join(written(v) for v in value) + "]"
    if isinstance(value, dict):
        return "{" + ", ".join(f'"{k}" = {written(v)}' for k, v in value.items()) + "}"
    return repr(value)


@settings(max_examples=120, deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
@given(st.sampled_from(TEXTS), st.floats(0, 1, exclude_max=True), values)
def test_any_value_in_any_field_is_read_or_refused(text: str, where: float, value: object) -> None:
    lines = text.split("\n")
    rows = [i for i, line in enumerate(lines) if "=" in line and not line.startswith("#")]
    row = rows[int(where * len(rows))]
    lines[row] = f"{lines[row].partition('=')[0]} = {written(value)}"
    assert all(finding.what and finding.remedy for finding in read_or_refused("\n".join(lines)))
