"""Rooms slot by slot: who is inside, what is short, tasks, skills."""

from collections import defaultdict


class Room:
    """Running counts of one room: literals of door-ins and door-outs by each slot."""

    def __init__(self, model, place):
        cp, night = model.cp, model.night
        self.place, self.id = place, night.rooms[place]
        self.came, self.left = {}, {}
        for entry in model.entries:
            self.came[entry.name] = self._by_slot(model, entry, entry.door_in, "in")
            self.left[entry.name] = self._by_slot(model, entry, entry.door_out, "out")
        self.inside = [sum(self.inside_of(e, t) for e in model.entries) for t in range(night.slots)]
        self.required = self._required(night)
        self._numbers(model)
        self._relief(model)

    def _by_slot(self, model, entry, time, what):
        """literal[t]: in this room, and `time <= t`."""
        cp, literals = model.cp, []
        first, end = entry.window
        for slot in range(model.night.slots):
            if not first <= slot < end:
                literals.append(model.nothing if slot < first else entry.room[self.place])
                continue
            literal = cp.new_bool_var(f"{entry.name} {what} by {slot} of {self.id}")
            cp.add(time <= slot).only_enforce_if(literal)
            cp.add(time > slot).only_enforce_if(~literal, entry.room[self.place])
            cp.add_implication(literal, entry.room[self.place])
            if slot > first:
                cp.add_implication(literals[-1], literal)
            literals.append(literal)
        return literals

    def inside_of(self, entry, slot):
        return self.came[entry.name][slot] - self.left[entry.name][slot]

    def _required(self, night):
        """(people, class) by slot, or None."""
        required = [None] * night.slots
        for presence in night.roster.get("presence", []):
            if presence["room"] == self.id:
                for slot in range(night.at(presence["from"]), night.at(presence["to"])):
                    required[slot] = presence["people"], presence["class"]
        return required

    def _numbers(self, model):
        """Nobody or enough inside, and not too many (D1, D2)."""
        cp, least = model.cp, model.night.limits["room"]["min_inside"]
        most = next(r["max_inside"] for r in model.night.roster["room"] if r["id"] == self.id)
        for inside in self.inside:
            if least > 1:
                occupied = cp.new_bool_var("occupied")
                cp.add(inside >= least).only_enforce_if(occupied)
                cp.add(inside == 0).only_enforce_if(~occupied)
            cp.add(inside <= most)

    def _relief(self, model):
        """Whoever leaves while presence goes on is relieved by people inside for the overlap (D3)."""
        cp = model.cp
        overlap = model.night.span(model.night.limits["room"]["overlap_min"])
        if overlap == 0:
            return
        for slot in range(overlap, model.night.slots):
            if self.required[slot] is None:
                continue
            leaving = cp.new_bool_var("somebody leaves")
            for entry in model.entries:
                cp.add(self.left[entry.name][slot] - self.left[entry.name][slot - 1] <= leaving)
            # Of those who stay, as many as are required, or all of them, have been inside for the overlap.
            long_enough = sum(self.came[e.name][slot - overlap] - self.left[e.name][slot] for e in model.entries)
            enough, everybody = cp.new_bool_var("enough stay"), cp.new_bool_var("all who stay")
            cp.add(long_enough >= self.required[slot][0]).only_enforce_if(enough)
            cp.add(long_enough >= self.inside[slot]).only_enforce_if(everybody)
            cp.add_bool_or(~leaving, enough, everybody)


def add_rooms(model):
    model.rooms = [Room(model, place) for place in range(len(model.night.rooms))]
    model.short = defaultdict(list)
    model.runs = defaultdict(list)
    for room in model.rooms:
        _shortages(model, room)


def _shortages(model, room):
    """People missing in each slot, and the running length of each stretch with somebody missing (D4)."""
    cp, run = model.cp, defaultdict(lambda: None)
    for slot, demand in enumerate(room.required):
        if demand is None:
            run.clear()
            continue
        people, of = demand
        short = cp.new_int_var(0, people, "short")
        cp.add(short >= people - room.inside[slot])
        lacking = cp.new_bool_var("lacking")
        cp.add(short == 0).only_enforce_if(~lacking)
        longer = cp.new_int_var(0, model.night.slots, "stretch")
        cp.add(longer >= (run[of] if run[of] is not None else 0) + 1).only_enforce_if(lacking)
        for other in [key for key in run if key != of]:
            run[other] = None
        run[of] = longer
        model.short[of].append(short)
        model.runs[of].append(longer)


def add_tasks(model):
    """Tasks, each done once with its people inside throughout, or missed (D5)."""
    cp, night = model.cp, model.night
    model.tasks = []
    for task in night.roster.get("task", []):
        room = next(r for r in model.rooms if r.id == task["room"])
        length = night.span(task["length_min"])
        first, end = night.at(task["from"]), night.at(task["to"])
        starts = {slot: cp.new_bool_var(f"{task['id']} from {slot}") for slot in range(first, end - length + 1)}
        done = cp.new_bool_var(f"{task['id']} done")
        cp.add(sum(starts.values()) == done)
        able = [e for e in model.entries if task["skill"] in ("none", *e.person.skills)]
        for slot in range(first, end):
            now = sum(literal for start, literal in starts.items() if start <= slot < start + length)
            cp.add(sum(room.inside_of(e, slot) for e in able) >= task["people"] * now)
            if task["extra"]:
                required = room.required[slot][0] if room.required[slot] else 0
                cp.add(room.inside[slot] >= (required + task["people"]) * now)
        if task["same_people"]:
            _same_people(model, room, task, able, starts, done, length)
        late = sum(max(0, slot - night.at(task["wanted"])) * literal for slot, literal in starts.items())
        model.tasks.append((task, starts, done, late))


def _same_people(model, room, task, able, starts, done, length):
    cp, start = model.cp, sum(slot * literal for slot, literal in starts.items())
    throughout = []
    for entry in able:
        literal = cp.new_bool_var(f"{entry.name} throughout {task['id']}")
        cp.add_implication(literal, entry.room[room.place])
        cp.add(entry.door_in <= start).only_enforce_if(literal, done)
        cp.add(entry.door_out >= start + length).only_enforce_if(literal, done)
        throughout.append(literal)
    cp.add(sum(throughout) >= task["people"] * done)


def add_skills(model):
    """People with a skill missing inside (D6)."""
    model.unskilled = []
    for cover in model.night.roster.get("skill_cover", []):
        room = next(r for r in model.rooms if r.id == cover["room"])
        able = [e for e in model.entries if cover["skill"] in e.person.skills]
        for slot in range(model.night.at(cover["from"]), model.night.at(cover["to"])):
            short = model.cp.new_int_var(0, cover["people"], "skill short")
            model.cp.add(short >= cover["people"] - sum(room.inside_of(e, slot) for e in able))
            model.unskilled.append(short)
