"""A linear programme that grows column by column, solved warm each time (HiGHS)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import highspy
import numpy as np
from numpy.typing import NDArray

__all__ = ["Master", "Unsolved"]

FEASIBLE = 2
"""What the solver calls a solution that keeps all bounds; 1 is one that does not, whatever its cost says."""
_FINE = (highspy.HighsModelStatus.kOptimal,)


class Unsolved(RuntimeError):
    """The solver gave no solution: time ran out within it, or the numbers were too bad."""


class Master:
    """min cost x, with rows between bounds and columns between bounds."""

    def __init__(self, rows: Iterable[tuple[float, float]]) -> None:
        self.solver = highspy.Highs()  # type: ignore[no-untyped-call]
        # The number of threads stays unset: it must be the same for every solver of one process, or nothing is solved.
        for option, value in (("output_flag", False), ("presolve", "off"), ("solver", "simplex")):
            self.solver.setOptionValue(option, value)
        self.rows = 0
        for low, high in rows:
            self.solver.addRow(low, high, 0, np.zeros(0, dtype=np.int32), np.zeros(0))
            self.rows += 1
        self.columns = 0
        self.values: NDArray[np.float64] = np.zeros(0)
        self.duals: NDArray[np.float64] = np.zeros(self.rows)
        self.objective = 0.0

    def add(self, cost: float, entries: Mapping[int, float], low: float = 0.0, high: float = highspy.kHighsInf) -> int:
        """A column more; its number."""
        index = np.fromiter(entries.keys(), dtype=np.int32, count=len(entries))
        value = np.fromiter(entries.values(), dtype=np.float64, count=len(entries))
        self.solver.addCol(cost, low, high, len(entries), index, value)
        self.columns += 1
        return self.columns - 1

    def bound(self, column: int, low: float, high: float) -> None:
        self.solver.changeColBounds(column, low, high)

    def require(self, row: int, low: float, high: float = highspy.kHighsInf) -> None:
        self.solver.changeRowBounds(row, low, high)

    def cost(self, column: int, cost: float) -> None:
        self.solver.changeColCost(column, cost)

    def whole(self, columns: Sequence[int], seconds: float) -> list[int] | None:
        """Whole numbers for these columns at the least cost found in so many seconds, all the others 0; None if none
        were."""
        model = self.solver.getLp()
        starts, index, value = model.a_matrix_.start_, model.a_matrix_.index_, model.a_matrix_.value_
        low, high, cost = model.row_lower_, model.row_upper_, model.col_cost_
        solver = highspy.Highs()  # type: ignore[no-untyped-call]
        for option, setting in (("output_flag", False), ("time_limit", seconds), ("mip_abs_gap", 0.99)):
            solver.setOptionValue(option, setting)
        for row in range(self.rows):
            solver.addRow(low[row], high[row], 0, np.zeros(0, dtype=np.int32), np.zeros(0))
        for column in columns:
            own = slice(starts[column], starts[column + 1])
            entries, values = np.array(index[own], dtype=np.int32), np.array(value[own])
            solver.addCol(cost[column], 0.0, highspy.kHighsInf, len(entries), entries, values)
        kinds = np.array([highspy.HighsVarType.kInteger] * len(columns))
        solver.changeColsIntegrality(len(columns), np.arange(len(columns), dtype=np.int32), kinds)
        solver.run()
        if solver.getInfo().primal_solution_status != FEASIBLE:
            return None
        return [round(each) for each in solver.getSolution().col_value]

    def solve(self) -> float:
        """The least cost; `values` and `duals` are those of the solution.  Raises Unsolved."""
        self.solver.run()
        if self.solver.getModelStatus() not in _FINE:
            self.solver.clearSolver()
            self.solver.run()
            if self.solver.getModelStatus() not in _FINE:
                raise Unsolved(str(self.solver.getModelStatus()))
        solution = self.solver.getSolution()
        self.values = np.array(solution.col_value)
        self.duals = np.array(solution.row_dual)
        self.objective = float(self.solver.getInfo().objective_function_value)
        return self.objective
