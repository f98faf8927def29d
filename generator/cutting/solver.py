"""The one door to HiGHS: whole-number programs of the least cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

MOST_NODES = 20_000
"""Branches looked at before the search stops. A count, not a time: the same plan on a slow machine."""
_GAP = 1e-6


@dataclass(frozen=True, slots=True)
class Row:
    """``Σ part × column ≥ least``."""

    parts: Mapping[int, float]
    least: float


@dataclass(frozen=True, slots=True)
class Solved:
    """What the search found."""

    values: tuple[int, ...]
    cost: float
    bound: float
    """Nothing costs less than this."""

    @property
    def proved(self) -> bool:
        """Nothing costs less than what was found."""
        return self.cost - self.bound < 1e-4


def solve(costs: Sequence[float], rows: Sequence[Row], most: Sequence[float]) -> Solved | None:
    """Whole numbers from 0 to ``most`` that fulfil all rows at the least cost.

    None if there are none, or if none was found in ``MOST_NODES`` branches.
    """
    model = _model(costs, rows, most, whole=True)
    model.run()
    info = model.getInfo()
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    found = tuple(round(value) for value in model.getSolution().col_value)
    return Solved(found, info.objective_function_value, info.mip_dual_bound)


def prices(costs: Sequence[float], rows: Sequence[Row]) -> tuple[float, tuple[float, ...]]:
    """The least cost in parts of a column, and what one more of each row would cost.

    The rows must be fulfilled by some choice of columns, and no cost may be below 0.
    """
    model = _model(costs, rows, [highspy.kHighsInf] * len(costs))
    model.run()
    return model.getInfo().objective_function_value, tuple(model.getSolution().row_dual)


def _model(
    costs: Sequence[float], rows: Sequence[Row], most: Sequence[float], *, whole: bool = False
) -> highspy.Highs:
    model = highspy.Highs()
    model.silent()
    # One thread and a fixed seed: the same program gives the same plan.
    for option, value in (
        ("threads", 1),
        ("random_seed", 0),
        ("mip_rel_gap", _GAP),
        ("mip_max_nodes", MOST_NODES),
    ):
        model.setOptionValue(option, value)
    columns = len(costs)
    starts, places, parts = [0], [], []
    for row in rows:
        places += list(row.parts)
        parts += list(row.parts.values())
        starts.append(len(places))
    program = highspy.HighsLp()
    program.num_col_, program.num_row_ = columns, len(rows)
    program.col_cost_ = np.array(costs, dtype=float)
    program.col_lower_ = np.zeros(columns)
    program.col_upper_ = np.array(most, dtype=float)
    program.row_lower_ = np.array([row.least for row in rows], dtype=float)
    program.row_upper_ = np.full(len(rows), highspy.kHighsInf)
    program.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    program.a_matrix_.start_ = np.array(starts, dtype=np.int32)
    program.a_matrix_.index_ = np.array(places, dtype=np.int32)
    program.a_matrix_.value_ = np.array(parts, dtype=float)
    if whole:
        program.integrality_ = [highspy.HighsVarType.kInteger] * columns
    model.passModel(program)
    return model
