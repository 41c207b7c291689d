"""HiGHS, as it comes, on the program of a night: its levels one after another within the time.

highs_levels.py FOLDER WHO SECONDS SEED

Reads FOLDER/program.txt (see benches/nights/program.rs), writes FOLDER/WHO.json and, for people
counted alone, FOLDER/WHO.points: every better solution, its milliseconds first.
"""

import json
import math
import resource
import sys
import time
from pathlib import Path

import highspy
import numpy as np


class Program:
    """Columns, rows and levels, as they stand in the file."""

    def __init__(self, text):
        lines = iter(text.splitlines())
        columns, rows, levels = map(int, next(lines).split())
        self.columns = [tuple(map(int, next(lines).split())) for _ in range(columns)]
        self.rows = [self._row(next(lines).split()) for _ in range(rows)]
        self.levels = [self._level(next(lines)) for _ in range(levels)]

    @staticmethod
    def _row(words):
        least = -highspy.kHighsInf if words[0] == "-" else int(words[0])
        most = highspy.kHighsInf if words[1] == "-" else int(words[1])
        return least, most, words[3::2], words[4::2]

    @staticmethod
    def _level(line):
        words = line.split(" ")
        terms = int(words[1])
        last = 2 + 2 * terms
        columns = np.array(words[2:last:2], dtype=np.int64)
        times = np.array(words[3:last:2], dtype=np.int64)
        return " ".join(words[last:]), int(words[0]), columns, times

    def model(self):
        """The program for HiGHS, without anything to minimise."""
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.columns), len(self.rows)
        lp.col_cost_ = np.zeros(len(self.columns))
        lp.col_lower_ = np.array([c[0] for c in self.columns], dtype=float)
        lp.col_upper_ = np.array([c[1] for c in self.columns], dtype=float)
        whole, real = highspy.HighsVarType.kInteger, highspy.HighsVarType.kContinuous
        lp.integrality_ = [whole if c[2] else real for c in self.columns]
        lp.row_lower_ = np.array([r[0] for r in self.rows], dtype=float)
        lp.row_upper_ = np.array([r[1] for r in self.rows], dtype=float)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.cumsum([0] + [len(r[2]) for r in self.rows])
        lp.a_matrix_.index_ = np.array([c for r in self.rows for c in r[2]], dtype=np.int32)
        lp.a_matrix_.value_ = np.array([t for r in self.rows for t in r[3]], dtype=float)
        return lp

    def values(self, point):
        """What a point of whole numbers comes to at each level."""
        return [constant + int(times @ point[columns]) for _, constant, columns, times in self.levels]


class Search:
    """The levels in order, each held while the next is improved."""

    def __init__(self, program, seconds, seed):
        self.program = program
        self.found = []
        self.bounds = {}
        self.best = None
        self.solver = highspy.Highs()
        self.solver.setOptionValue("output_flag", False)
        self.solver.setOptionValue("threads", 2)
        self.solver.setOptionValue("random_seed", seed)
        self.solver.passModel(program.model())
        self.solver.cbMipImprovingSolution.subscribe(lambda event: self.note(event.data_out.mip_solution))
        self.start = time.monotonic()
        self.until = self.start + seconds

    def note(self, solution):
        """Keeps a solution that is better, level by level, than what was known."""
        point = np.rint(np.array(solution)).astype(np.int64)
        values = self.program.values(point)
        if self.best is None or values < self.best[0]:
            self.best = values, point
            ms = int((time.monotonic() - self.start) * 1000)
            self.found.append((ms, values, point))

    def run(self):
        for level in self.program.levels:
            if not self.settle(*level):
                return

    def settle(self, name, constant, columns, times):
        """Minimises one level and holds it. False where the time ran out before its best was proven."""
        left = self.until - time.monotonic()
        if left <= 0:
            return False
        everything = np.arange(len(self.program.columns), dtype=np.int32)
        price = np.zeros(len(everything))
        price[columns] = times
        self.solver.changeColsCost(len(everything), everything, price)
        # The solver counts the time of all its runs together.
        self.solver.setOptionValue("time_limit", self.solver.getRunTime() + left)
        if self.best is not None:
            start = highspy.HighsSolution()
            start.col_value = self.best[1].astype(float).tolist()
            self.solver.setSolution(start)
        self.solver.run()
        info, status = self.solver.getInfo(), self.solver.getModelStatus()
        if info.primal_solution_status == 2:
            self.note(self.solver.getSolution().col_value)
        proven = status == highspy.HighsModelStatus.kOptimal
        bound = self.bound(info, constant, columns, proven)
        if bound is not None:
            self.bounds[name] = bound
        if not proven or self.best is None:
            return False
        value = constant + int(times @ self.best[1][columns])
        if len(columns):
            self.solver.addRow(-highspy.kHighsInf, value - constant, len(columns), columns.astype(np.int32), times.astype(float))
        return True

    def bound(self, info, constant, columns, proven):
        if not len(columns):
            return constant
        dual = info.objective_function_value if proven and not math.isfinite(info.mip_dual_bound) else info.mip_dual_bound
        # A bound a hair above a whole number is that number.
        return constant + math.ceil(dual - 1e-6) if math.isfinite(dual) else None


def main():
    folder, who, seconds, seed = Path(sys.argv[1]), sys.argv[2], float(sys.argv[3]), int(sys.argv[4])
    program = Program((folder / "program.txt").read_text())
    search = Search(program, seconds, seed)
    search.run()
    names = [name for name, *_ in program.levels]
    answer = {
        "out": None,
        "found": [{"ms": ms, "values": dict(zip(names, values))} for ms, values, _ in search.found],
        "bounds": search.bounds,
        "peak_kib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
        "disagreements": [],
    }
    points = "".join(f"{ms} {' '.join(map(str, point))}\n" for ms, _, point in search.found)
    (folder / f"{who}.points").write_text(points)
    (folder / f"{who}.json").write_text(json.dumps(answer))


if __name__ == "__main__":
    main()
