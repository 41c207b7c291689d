"""CP-SAT with a model of its own, its levels one after another within the time.

cp_sat.py FOLDER WHO SECONDS SEED

Reads FOLDER/roster.toml and constraints.toml, writes FOLDER/WHO.json and a rota file
FOLDER/WHO.MS.toml for better solutions, MS being the milliseconds since the start. If
FOLDER/ours.json is there, FOLDER/ours.toml is held in the model and has to come to the same figures.
"""

import json
import resource
import sys
import time
from pathlib import Path

from ortools.sat.python import cp_model

import clean_side
import cover
import levels
import people
import removals
import rota
from night import Night, Unsupported

# More rota files than these of one run say nothing more.
MOST_KEPT = 40


class Model:
    """The night as a constraint program, with places for so many more posts and breaks than full ones need."""

    def __init__(self, night, more=2):
        self.night, self.more = night, more
        self.cp = cp_model.CpModel()
        self.nothing = self.cp.new_constant(0)
        self.entries, self.posts = [], []
        breaks = night.limits["breaks"]
        self.recovery_counts = breaks == "none" or breaks["recovery_counts"]
        self.workers = {person.id: people.Worker(person) for person in night.people}
        people.add_wears(self)
        removals.add_donnings(self)
        removals.add_assists(self)
        removals.add_watches(self)
        removals.add_lanes(self)
        clean_side.add_breaks(self)
        clean_side.add_watch_limit(self)
        clean_side.add_huddles(self)
        clean_side.add_apart(self)
        people.add_person_rules(self)
        cover.add_rooms(self)
        cover.add_tasks(self)
        cover.add_skills(self)
        self.levels = levels.add_levels(self)

    def break_from(self, person):
        """The first slot of a break: after the recovery of a wear before the shift."""
        if person.last is None or self.recovery_counts:
            return person.first
        recovery = self.night.kits[person.last[1]]["recovery_min"]
        return max(person.first, -(-(person.last[0] + recovery) // self.night.grid))

    def add_order_of_alike(self):
        """Of two people who are interchangeable the first enters no less often: a symmetry less."""
        apart = {person for pair in self.night.roster.get("apart", []) for person in pair["people"]}
        before = {}
        for worker in self.workers.values():
            person = worker.person
            if person.id in apart:
                continue
            earlier = before.get(person.key())
            if earlier and worker.entries:
                self.cp.add(sum(e.on for e in earlier.entries) >= sum(e.on for e in worker.entries))
            before[person.key()] = worker


class Better(cp_model.CpSolverSolutionCallback):
    """Keeps every solution that is better, level by level, than what was known."""

    def __init__(self, model, start):
        super().__init__()
        self.model, self.start = model, start
        self.best, self.found = None, []

    def on_solution_callback(self):
        values = [self.value(level) for _, level in self.model.levels]
        if self.best is None or values < self.best:
            self.best = values
            ms = int((time.monotonic() - self.start) * 1000)
            self.found.append((ms, values, rota.write(self.model, self.value)))


def solver_for(seconds, seed):
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = seed
    solver.parameters.max_time_in_seconds = seconds
    # Trying out every literal beforehand takes longer than it saves on programs of this size.
    solver.parameters.cp_model_probing_level = 0
    return solver


def hint(model, value):
    """Starts the next search from what is known."""
    model.cp.clear_hints()
    for place in range(len(model.cp.proto.variables)):
        variable = model.cp.get_int_var_from_proto_index(place)
        model.cp.add_hint(variable, value(variable))


def search(model, seconds, seed):
    """Levels one after another. Returns what was found and what is proven."""
    start = time.monotonic()
    better, bounds = Better(model, start), {}
    for wear in model.entries + model.posts:
        model.cp.add_hint(wear.on, 0)
    for name, level in model.levels:
        left = seconds - (time.monotonic() - start)
        if left <= 0:
            break
        model.cp.minimize(level)
        solver = solver_for(left, seed)
        status = solver.solve(model.cp, better)
        if status == cp_model.INFEASIBLE:
            return better, bounds, [f"no solution at {name}: the rota without entries is one"]
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        bounds[name] = round(solver.best_objective_bound)
        if status != cp_model.OPTIMAL:
            break
        model.cp.add(level <= round(solver.objective_value))
        hint(model, solver.value)
    return better, bounds, []


def held(night, folder, claimed):
    """What is wrong when our rota is held in the model: nothing if it is accepted with the same figures."""
    model = Model(night, more=20)
    try:
        rota.hold(model, folder / "ours.toml")
    except Unsupported as why:
        return [f"our rota has no place in the model: {why}"]
    for name, level in model.levels:
        model.cp.minimize(level)
        solver = solver_for(60, 0)
        # With its presolve this version calls a value of the last level best that its own solution is below.
        solver.parameters.cp_model_presolve = False
        status = solver.solve(model.cp)
        if status == cp_model.INFEASIBLE:
            return [f"our rota is refused at {name}"]
        if status != cp_model.OPTIMAL:
            return [f"our rota could not be judged at {name}"]
        value = round(solver.objective_value)
        if value != claimed[name]:
            return [f"our rota comes to {value} at {name}, the check measures {claimed[name]}"]
        model.cp.add(level <= value)
        hint(model, solver.value)
    return []


def answer(out=None, found=(), bounds=None, disagreements=()):
    return {
        "out": out,
        "found": list(found),
        "bounds": bounds or {},
        "peak_kib": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss,
        "disagreements": list(disagreements),
    }


def run(folder, who, seconds, seed):
    try:
        night = Night(folder)
        model = Model(night)
    except Unsupported as why:
        return answer(out=str(why))
    model.add_order_of_alike()
    better, bounds, wrong = search(model, seconds, seed)
    names = [name for name, _ in model.levels]
    found = []
    step = max(1, -(-len(better.found) // MOST_KEPT))
    for ms, values, text in better.found[::-step][::-1]:
        (folder / f"{who}.{ms}.toml").write_text(text)
        found.append({"ms": ms, "values": dict(zip(names, values))})
    result = answer(found=found, bounds=bounds)
    ours = folder / "ours.json"
    if ours.exists():
        wrong += held(night, folder, json.loads(ours.read_text()))
    return {**result, "disagreements": wrong}


def main():
    folder, who, seconds, seed = Path(sys.argv[1]), sys.argv[2], float(sys.argv[3]), int(sys.argv[4])
    (folder / f"{who}.json").write_text(json.dumps(run(folder, who, seconds, seed)))


if __name__ == "__main__":
    main()
