"""The factors of one-sided tolerance bounds, written anew: k = t'(confidence; n - 1, z √n) / √n, t' noncentral (scipy).

    .venv/bin/python -m tests.rules.make_tolerance_factors
"""

from math import ceil, sqrt
from pathlib import Path

from generator.rules.tolerance_factors import COUNTS, Coverage

MODULE = Path(__file__).parents[2] / "generator/rules/tolerance_factors.py"
BEGIN, END = "# Written by tests/rules/make_tolerance_factors.py from here", "# to here."
A_LINE = 12


def factor(count: int, coverage: int, confidence: float = 0.95) -> float:
    from scipy.stats import nct, norm

    return float(nct.ppf(confidence, count - 1, norm.ppf(coverage / 100) * sqrt(count)) / sqrt(count))


def rounded_up(value: float) -> float:
    """To four decimals, never below."""
    return ceil(value * 1e4 - 1e-6) / 1e4


def written() -> str:
    lines = [BEGIN]
    for coverage in Coverage:
        figures = [f"{rounded_up(factor(count, coverage)):.4f}" for count in COUNTS]
        lines.append(f"_{coverage.name}: Final = (")
        lines += [f"    {', '.join(figures[at : at + A_LINE])}," for at in range(0, len(figures), A_LINE)]
        lines.append(")  # fmt: skip")
    return "\n".join([*lines, END])


if __name__ == "__main__":
    text = MODULE.read_text("utf-8")
    MODULE.write_text(text[: text.index(BEGIN)] + written() + text[text.index(END) + len(END) :], "utf-8")
