"""Programs in whole numbers, solved by HiGHS: what is least, and whether that is proven."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

Row = tuple[list[tuple[int, float]], float, float]

_FEASIBLE = 2


@dataclass
class IntegerProgram:
    """Integer columns from 0 to their greatest value, and rows of (column, factor) between two limits."""

    most: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)

    def column(self, most: int) -> int:
        """A new integer from 0 to `most`."""
        self.most.append(most)
        return len(self.most) - 1

    def limit(self, measure: Mapping[int, int], most: int) -> None:
        """From now on `measure` may come to `most` at the most."""
        self.rows.append(([*measure.items()], float("-inf"), most))


@dataclass(frozen=True, slots=True)
class Solution:
    """The best values found, None where none were; whether they are proven, and whether there can be none at all."""

    values: list[int] | None = None
    is_proven: bool = False
    is_impossible: bool = False


def least(program: IntegerProgram, measure: Mapping[int, int], *, seconds: float) -> Solution:
    """The values that make `measure`, whole factors by column, least, looked for no longer than `seconds`.

    No start is handed over: the solver may give it back as its answer where it solves everything before its search.
    An answer is only believed after it was added up again in whole numbers.
    """
    if seconds <= 0:
        return Solution()
    # The class beneath `Highs`: the one above it prints a banner, and this must not write to anybody's output.
    from highspy import HighsModelStatus
    from highspy._core import _Highs

    solver = _Highs()
    # Every measure is a whole number, so whoever is within less than one of the best is the best.
    options = {"output_flag": False, "time_limit": seconds, "mip_rel_gap": 0.0, "mip_abs_gap": 0.99}
    for name, value in options.items():
        solver.setOptionValue(name, value)
    solver.passModel(_as_solved(program, measure))
    solver.run()
    status, info = solver.getModelStatus(), solver.getInfo()
    if status in (HighsModelStatus.kInfeasible, HighsModelStatus.kUnboundedOrInfeasible):
        return Solution(is_impossible=True)
    if info.primal_solution_status != _FEASIBLE:
        return Solution()
    values = [round(value) for value in solver.getSolution().col_value]
    claimed = round(info.objective_function_value)
    if sum(factor * values[column] for column, factor in measure.items()) != claimed:
        return Solution()
    return Solution(values, status == HighsModelStatus.kOptimal)


def _as_solved(program: IntegerProgram, measure: Mapping[int, int]) -> Any:
    """The program as the solver takes it."""
    from highspy import HighsLp, HighsVarType, MatrixFormat

    model = HighsLp()
    model.num_col_, model.num_row_ = len(program.most), len(program.rows)
    model.col_cost_ = [float(measure.get(column, 0)) for column in range(len(program.most))]
    model.col_lower_ = [0.0] * len(program.most)
    model.col_upper_ = [float(most) for most in program.most]
    model.row_lower_ = [float(low) for _, low, _ in program.rows]
    model.row_upper_ = [float(high) for _, _, high in program.rows]
    matrix = model.a_matrix_
    matrix.format_ = MatrixFormat.kRowwise
    matrix.num_col_, matrix.num_row_ = len(program.most), len(program.rows)
    starts, columns, factors = [0], [], []
    for row, _, _ in program.rows:
        columns += [column for column, _ in row]
        factors += [float(factor) for _, factor in row]
        starts.append(len(columns))
    matrix.start_, matrix.index_, matrix.value_ = starts, columns, factors
    model.integrality_ = [HighsVarType.kInteger] * len(program.most)
    return model
