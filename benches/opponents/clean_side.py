"""Breaks, the limit on watching, huddles, people kept apart."""


def add_breaks(model):
    """Whoever has a duty has breaks, never further apart than the unit allows (F3)."""
    cp, night = model.cp, model.night
    rule = night.limits["breaks"]
    if rule == "none":
        return
    length, work = night.span(rule["length_min"]), rule["work_max_min"] // night.grid
    windows = [(night.at(w["from"]), night.at(w["to"])) for w in night.roster.get("break_window", [])]
    for worker in model.workers.values():
        first, end = max(0, worker.person.duty[0]), min(night.slots, worker.person.duty[1])
        # A few more than are needed give room to place them between duties.
        count = max(0, -(-(end - first - work) // (work + length))) + model.more
        busy = worker.busy = cp.new_bool_var(f"{worker.person.id} has a duty")
        for wear in worker.entries + worker.posts:
            cp.add_implication(wear.on, busy)
        for _, literal in worker.donnings + worker.removals:
            cp.add_implication(literal, busy)
        before, worker.taken = first, []
        earliest = model.break_from(worker.person)
        if end - length < earliest:
            if end - first > work:
                cp.add(busy == 0)
            continue
        for k in range(count):
            on = cp.new_bool_var(f"break {worker.person.id} {k}")
            start = cp.new_int_var(min(earliest, end - length), end - length, f"break starts {worker.person.id} {k}")
            worker.breaks.append(cp.new_optional_fixed_size_interval_var(start, length, on, "break"))
            if worker.taken:
                cp.add_implication(on, worker.taken[-1][0])
                cp.add(start >= before).only_enforce_if(on)
            cp.add(start - before <= work).only_enforce_if(on, busy)
            cp.add(end - before <= work).only_enforce_if(~on, busy)
            if windows:
                _in_one(cp, start, length, windows, on)
            before = start + length
            worker.taken.append((on, start))
        cp.add(end - before <= work).only_enforce_if(worker.taken[-1][0], busy)


def _in_one(cp, start, length, windows, on):
    inside = []
    for first, end in windows:
        literal = cp.new_bool_var("in this window")
        cp.add(start >= first).only_enforce_if(literal)
        cp.add(start + length <= end).only_enforce_if(literal)
        inside.append(literal)
    cp.add_bool_or(inside).only_enforce_if(on)


def add_watch_limit(model):
    """Every watch lies in one stretch of watching; stretches are short enough and a pause apart (C11)."""
    cp, night = model.cp, model.night
    rule = night.limits["watching"]
    if rule == "none":
        return
    longest, pause = rule["max_min"] // night.grid, night.span(rule["pause_min"])
    for worker in model.workers.values():
        watches = worker.donnings + worker.removals
        if not watches:
            continue
        first, end = max(0, worker.person.duty[0]), min(night.slots, worker.person.duty[1])
        shortest = min(interval.size_expr() for interval, _ in watches)
        count = min(len(watches), (end - first + pause) // (shortest + pause), (end - first) // 12 + 2)
        stretches = []
        for k in range(count):
            # Stretches that nothing is watched in may lie past the end of duty.
            start = cp.new_int_var(first, end + count * pause, f"stretch {worker.person.id} {k}")
            length = cp.new_int_var(0, longest, "stretch length")
            if stretches:
                cp.add(start >= stretches[-1][0] + stretches[-1][1] + pause)
            stretches.append((start, length))
        for interval, literal in watches:
            in_it = [cp.new_bool_var("in this stretch") for _ in stretches]
            cp.add(sum(in_it) == literal)
            for (start, length), inside in zip(stretches, in_it):
                cp.add(interval.start_expr() >= start).only_enforce_if(inside)
                cp.add(interval.end_expr() <= start + length).only_enforce_if(inside)


def add_huddles(model):
    """Nobody of a crew has a duty or a break while it is in the huddle (F1)."""
    crews = {p["id"]: p.get("crew") for p in model.night.roster.get("person", [])}
    for huddle in model.night.roster.get("huddle", []):
        first, end = model.night.at(huddle["from"]), model.night.at(huddle["to"])
        for worker in model.workers.values():
            if crews[worker.person.id] == huddle["crew"]:
                fixed = model.cp.new_fixed_size_interval_var(first, end - first, "huddle")
                for interval in worker.cores():
                    model.cp.add_no_overlap([fixed, interval])


def add_apart(model):
    """Two people who are kept apart are not in a room at the same time (A6)."""
    for pair in model.night.roster.get("apart", []):
        one, other = (model.workers[person].entries for person in pair["people"])
        for room in range(len(model.night.rooms)):
            stays = []
            for entry in one + other:
                size = model.cp.new_int_var(0, model.night.slots, "stay")
                stays.append(model.cp.new_optional_interval_var(
                    entry.door_in, size, entry.door_out, entry.room[room], "stay"))
            model.cp.add_no_overlap(stays)
