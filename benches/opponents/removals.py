"""Donnings and removals: lanes, those who watch, those who assist."""

from collections import defaultdict


def _may_watch(model, wear, role):
    """Everyone else who may watch in that role while the wear lasts, with first, end and date of it."""
    for worker in model.workers.values():
        window = worker.person.watches(role)
        if window is not None and worker.person is not wear.person and wear.meets(*window[:2]):
            yield worker, window


def add_donnings(model):
    """One observer for each donning that is watched (C6)."""
    cp = model.cp
    for wear in model.entries + model.posts:
        if not wear.kit.donning_watched:
            continue
        wear.donning_observer = {}
        for worker, (first, end, date) in _may_watch(model, wear, "donning-observer"):
            literal = cp.new_bool_var(f"{worker.person.id} watches {wear.name}")
            cp.add(wear.don >= first).only_enforce_if(literal)
            cp.add(wear.don + wear.kit.donning <= min(end, date)).only_enforce_if(literal)
            interval = cp.new_optional_fixed_size_interval_var(wear.don, wear.kit.donning, literal, "donning watched")
            worker.donnings.append((interval, literal))
            worker.load.append((wear.kit.donning, literal))
            wear.donning_observer[worker.person.id] = literal
        cp.add(sum(wear.donning_observer.values()) == wear.on)


def add_assists(model):
    """Which spell on post an entry's removal is assisted from, and whether that spell ends straight after it (C3)."""
    cp, night = model.cp, model.night
    cleaning = night.span(night.limits["removal"]["cleaning_min"])
    cleans = cleaning if night.limits["removal"]["cleaned_by"] == "assistant" else 0
    changeover = night.span(night.limits["people"]["changeover_min"])
    by_assistant = defaultdict(list)
    for entry in model.entries:
        entry.at = {}
        entry.once = {}
        if not entry.kit.assistant:
            continue
        for post in model.posts:
            if post.person is entry.person or not entry.meets(*post.window):
                continue
            at = cp.new_bool_var(f"{entry.name} at {post.name}")
            once = cp.new_bool_var(f"{post.name} straight after {entry.name}")
            entry.at[post.name], entry.once[post.name] = at, once
            cp.add_implication(at, post.on)
            cp.add_implication(once, at)
            cp.add(entry.removal >= post.don + post.kit.donning).only_enforce_if(at)
            cp.add(post.removal >= entry.off + cleans).only_enforce_if(at, ~once)
            cp.add(post.removal == entry.off).only_enforce_if(once)
            for mine, theirs in zip(entry.lane, post.lane):
                cp.add(mine == theirs).only_enforce_if(once)
            by_assistant[post.person.id].append((entry, post, at))
        cp.add(sum(entry.at.values()) == entry.on)
    for post in model.posts:
        post.once = cp.new_bool_var(f"{post.name} ends straight after a removal")
        cp.add(sum(entry.once[post.name] for entry in model.entries if post.name in entry.once) == post.once)
    for rows in by_assistant.values():
        _one_at_a_time(model, rows, cleans, changeover)


def _one_at_a_time(model, rows, cleans, changeover):
    """An assistant helps one person at a time, and moves to another lane in no less than the changeover."""
    cp = model.cp

    def interval(entry, literal):
        return cp.new_optional_fixed_size_interval_var(entry.removal, entry.kit.removal + cleans, literal, "assist")

    cp.add_no_overlap([interval(entry, at) for entry, _, at in rows])
    if len(model.night.lanes) < 2 or not changeover:
        return
    for lane in range(len(model.night.lanes)):
        # Straight after helping in this lane, no help in any other. The slots after it may overlap one another.
        pads, others = [], []
        for entry, post, at in rows:
            here = cp.new_bool_var(f"{entry.name} {post.name} in lane {lane}")
            cp.add_bool_and(at, entry.lane[lane]).only_enforce_if(here)
            cp.add_bool_or(~at, ~entry.lane[lane], here)
            there = cp.new_bool_var(f"{entry.name} {post.name} in another lane than {lane}")
            cp.add(there + here == at)
            end = entry.removal + entry.kit.removal + cleans
            pads.append(cp.new_optional_fixed_size_interval_var(end, changeover, here, "to another lane"))
            others.append(interval(entry, there))
        cp.add_cumulative(pads + others, [1] * len(pads) + [len(pads)] * len(others), len(pads))


def add_watches(model):
    """Who watches a removal alone, or an entrant's and the assistant's own straight after (C1, C4)."""
    cp, night = model.cp, model.night
    ready = night.span(night.limits["removal"]["observer_ready_min"])
    reset = night.span(night.limits["removal"]["observer_reset_min"])
    for post in model.posts:
        post.chained = cp.new_bool_var(f"{post.name} watched with the removal before")
        cp.add_implication(post.chained, post.once)
    for entry in model.entries:
        entry.chained = cp.new_bool_var(f"{entry.name} watched with the assistant's own")
        if entry.once:
            for post in model.posts:
                if post.name in entry.once:
                    cp.add(post.chained == entry.chained).only_enforce_if(entry.once[post.name])
            cp.add(sum(entry.once.values()) >= entry.chained)
        else:
            cp.add(entry.chained == 0)
    own = model.posts[0].kit.removal if model.posts else 0
    for entry in model.entries:
        alone = _watch(model, entry, entry.kit.removal, ready, reset, "alone")
        both = _watch(model, entry, entry.kit.removal + own, ready, reset, "both") if entry.once else {}
        cp.add(sum(both.values()) == entry.chained)
        cp.add(sum(alone.values()) + entry.chained == entry.on)
        entry.alone, entry.both = alone, both
        for name in both:
            cp.add_at_most_one(alone[name], both[name])
    for post in model.posts:
        post.alone = _watch(model, post, post.kit.removal, ready, reset, "alone")
        cp.add(sum(post.alone.values()) + post.chained == post.on)


def _watch(model, wear, length, ready, reset, how):
    """For everyone who may: a literal, with the minutes before and after it that belong to it."""
    cp = model.cp
    literals = {}
    for worker, (first, end, date) in _may_watch(model, wear, "doffing-observer"):
        literal = cp.new_bool_var(f"{worker.person.id} watches {wear.name} {how}")
        cp.add(wear.removal - ready >= first).only_enforce_if(literal)
        cp.add(wear.removal + length + reset <= end).only_enforce_if(literal)
        cp.add(wear.removal + length <= date).only_enforce_if(literal)
        size = ready + length + reset
        interval = cp.new_optional_fixed_size_interval_var(wear.removal - ready, size, literal, "removal watched")
        worker.removals.append((interval, literal))
        worker.load.append((size, literal))
        literals[worker.person.id] = literal
    return literals


def add_lanes(model):
    """One person to a lane, cleaned between people; closures; waiting places (C9)."""
    cp, night = model.cp, model.night
    cleaning = night.span(night.limits["removal"]["cleaning_min"])
    for lane, name in enumerate(night.lanes):
        held, used = [], []
        for wear in model.entries + model.posts:
            used.append(cp.new_optional_fixed_size_interval_var(wear.removal, wear.kit.removal, wear.lane[lane], "used"))
        for entry in model.entries:
            size = entry.kit.removal + cleaning
            held.append(cp.new_optional_fixed_size_interval_var(entry.removal, size, entry.lane[lane], "held"))
        for post in model.posts:
            later, straight = cp.new_bool_var("held later"), cp.new_bool_var("held straight after")
            cp.add(later + straight == post.lane[lane])
            cp.add_implication(straight, post.once)
            cp.add_implication(later, ~post.once)
            size = post.kit.removal
            held.append(cp.new_optional_fixed_size_interval_var(post.removal, size + cleaning, later, "held"))
            # The removal before holds the lane through its cleaning time already.
            held.append(cp.new_optional_fixed_size_interval_var(post.removal + cleaning, size, straight, "held"))
        cp.add_no_overlap(held)
        shut = [c for c in night.roster.get("closure", []) if c["lane"] == name]
        if shut:
            closed = [_fixed(model, night.at(c["from"]), night.at(c["to"])) for c in shut]
            for interval in closed:
                for use in used:
                    cp.add_no_overlap([interval, use])
    _waiting(model)


def _fixed(model, first, end):
    return model.cp.new_fixed_size_interval_var(first, end - first, "fixed")


def _waiting(model):
    cp, places = model.cp, model.night.limits["removal"]["waiting_places"]
    waits = []
    for entry in model.entries:
        wait = cp.new_int_var(0, model.night.slots, f"wait {entry.name}")
        cp.add(wait == entry.removal - entry.door_out).only_enforce_if(entry.on)
        cp.add(wait == 0).only_enforce_if(~entry.on)
        entry.wait = wait
        if places == 0:
            cp.add(wait == 0)
            continue
        waits.append(cp.new_optional_interval_var(entry.door_out, wait, entry.removal, entry.on, f"waits {entry.name}"))
    if waits:
        cp.add_cumulative(waits, [1] * len(waits), places)
