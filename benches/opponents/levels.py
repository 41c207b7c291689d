"""The levels of the objective, by the names the benchmark uses, in their order."""


def add_levels(model):
    """(name, expression) of every level that matters tonight."""
    night, grid = model.night, model.night.grid
    needs = {need: [t for t in model.tasks if t[0]["need"] == need] for need in ("must", "wanted")}
    levels = [(f"uncovered {of}", grid * sum(model.short[of])) for of in sorted(model.short)]
    levels += [(f"longest {of}", grid * _largest(model, model.runs[of])) for of in sorted(model.runs)]
    if needs["must"]:
        levels.append(("must missed", len(needs["must"]) - sum(done for _, _, done, _ in needs["must"])))
    if model.unskilled:
        levels.append(("skill missing", grid * sum(model.unskilled)))
    if needs["must"]:
        levels.append(("must late", grid * sum(late for *_, late in needs["must"])))
    if needs["wanted"]:
        levels.append(("wanted missed", len(needs["wanted"]) - sum(done for _, _, done, _ in needs["wanted"])))
    levels.append(("removals", sum(e.on for e in model.entries)))
    levels.append(("helper removals", sum(p.on for p in model.posts)))
    if night.limits["removal"]["spare_min"] > 0:
        levels.append(("spare short", _spare_short(model)))
    levels.append(("waits", grid * sum(_hold(model, e) + e.wait for e in model.entries)))
    if night.limits["breaks"] != "none" and night.roster.get("preferred_break"):
        levels.append(("breaks outside", grid * _breaks_outside(model)))
    levels.append(("largest wear", _largest_wear(model)))
    levels.append(("largest load", grid * _largest(model, [_load(model, w) for w in model.workers.values()])))
    return [(name, level + model.nothing) for name, level in levels]


def _largest(model, figures):
    top = model.cp.new_int_var(0, 10**6, "largest")
    for figure in figures:
        model.cp.add(top >= figure)
    return top


def _hold(model, entry):
    hold = model.cp.new_int_var(0, model.night.slots, f"hold {entry.name}")
    model.cp.add(hold == entry.door_in - entry.don - entry.kit.donning).only_enforce_if(entry.on)
    model.cp.add(hold == 0).only_enforce_if(~entry.on)
    return hold


def _spare_short(model):
    shorts = []
    for entry in model.entries:
        kit = model.night.kits[entry.kit.id]
        longest, spare = kit["max_wear_min"] - kit["margin_min"], model.night.limits["removal"]["spare_min"]
        short = model.cp.new_int_var(0, spare, f"spare short {entry.name}")
        model.cp.add(short >= model.night.grid * entry.worn - longest + spare).only_enforce_if(entry.on)
        shorts.append(short)
    return sum(shorts)


def _breaks_outside(model):
    night, windows = model.night, []
    for window in night.roster["preferred_break"]:
        windows.append((night.at(window["from"]), night.at(window["to"])))
    length = night.span(night.limits["breaks"]["length_min"])
    wanted = [any(first <= slot < end for first, end in windows) for slot in range(night.slots + length)]
    outside = [sum(not wanted[slot + k] for k in range(length)) for slot in range(night.slots)]
    minutes = []
    for worker in model.workers.values():
        for on, start in getattr(worker, "taken", []):
            here = model.cp.new_int_var(0, length, "outside preferred times")
            model.cp.add_element(start, outside, here)
            counted = model.cp.new_int_var(0, length, "outside, if taken")
            model.cp.add(counted >= here).only_enforce_if(on)
            minutes.append(counted)
    return sum(minutes)


def _largest_wear(model):
    """In minutes, rounded up; wear carried in included."""
    top = model.cp.new_int_var(0, 10**6, "largest wear")
    for worker in model.workers.values():
        wears = worker.entries + worker.posts
        worn = sum(w.worn * (w.kit.percent * model.night.grid) for w in wears) + 100 * worker.person.worn_before
        model.cp.add(100 * top >= worn)
    return top


def _load(model, worker):
    """Slots on post and slots helping outside a post."""
    load = sum(size * literal for size, literal in worker.load)
    for post in worker.posts:
        length = model.cp.new_int_var(0, model.night.slots, f"dressed {post.name}")
        model.cp.add(length == post.length).only_enforce_if(post.on)
        model.cp.add(length == 0).only_enforce_if(~post.on)
        load += length
    return load
