"""Between the model and rota files."""

import tomllib
from datetime import datetime

from night import Unsupported


def write(model, value):
    """The rota that a solution stands for. `value` gives that of a variable or an expression."""
    night = model.night
    out = [f'format = 1\nroster = "{night.roster["name"]}"\nconstraint_set = "{night.limits["name"]}"\nissue = 1\n']
    for entry in sorted((e for e in model.entries if value(e.on)), key=lambda e: value(e.don)):
        assistant = next((p for p in model.posts if p.name in entry.at and value(entry.at[p.name])), None)
        out.append(_table("entry", night, value, entry, {
            "room": _chosen(entry.room, night.rooms, value),
            "in": night.local(value(entry.door_in)),
            "out": night.local(value(entry.door_out)),
            "observer": _who({**entry.alone}, value) or _who(entry.both, value),
            "assistant": assistant.person.id if assistant else "none",
        }))
    for post in sorted((p for p in model.posts if value(p.on)), key=lambda p: value(p.don)):
        observer = _who(post.alone, value) or _chained(model, post, value)
        out.append(_table("post", night, value, post, {"as": "assistant", "observer": observer}))
    for worker in model.workers.values():
        for on, start in getattr(worker, "taken", []):
            if value(on):
                length = night.span(night.limits["breaks"]["length_min"])
                times = night.local(value(start)), night.local(value(start) + length)
                out.append(f'\n[[break]]\nperson = "{worker.person.id}"\nfrom = "{times[0]}"\nto = "{times[1]}"\n')
    for task, starts, _, _ in model.tasks:
        start = next((slot for slot, literal in starts.items() if value(literal)), None)
        if start is not None:
            out.append(f'\n[[task]]\ntask = "{task["id"]}"\nstart = "{night.local(start)}"\n')
    return "".join(out)


def _table(kind, night, value, wear, more):
    donning_observer = _who(getattr(wear, "donning_observer", {}), value) or "none"
    rows = {
        "person": wear.person.id,
        "don": night.local(value(wear.don)),
        **more,
        "removal": night.local(value(wear.removal)),
        "off": night.local(value(wear.off)),
        "lane": _chosen(wear.lane, night.lanes, value),
        "donning_observer": donning_observer,
    }
    return f"\n[[{kind}]]\n" + "".join(f'{key} = "{text}"\n' for key, text in rows.items())


def _chosen(literals, names, value):
    return next(name for literal, name in zip(literals, names) if value(literal))


def _who(literals, value):
    return next((person for person, literal in literals.items() if value(literal)), None)


def _chained(model, post, value):
    """Who watched the removal before and this one."""
    entry = next(e for e in model.entries if post.name in e.once and value(e.once[post.name]))
    return _who(entry.both, value)


def hold(model, path):
    """Holds everything that a rota file says. Fails where the model has no place for it."""
    cp, night = model.cp, model.night
    rota = tomllib.loads(path.read_text())
    if rota.get("shower"):
        raise Unsupported("showers are not modelled")
    for worker in model.workers.values():
        _hold_wears(model, rota, worker, worker.entries, "entry")
        _hold_wears(model, rota, worker, worker.posts, "post")
        _hold_breaks(model, rota, worker)
    listed = {row["task"]: row["start"] for row in rota.get("task", [])}
    for task, starts, done, _ in model.tasks:
        cp.add(done == (task["id"] in listed))
        if task["id"] in listed:
            cp.add(starts[_slot(night, listed[task["id"]])] == 1)


def _slot(night, text):
    """A time may be a bare time of day: the first such time at or after the start of the shift."""
    if "T" in text:
        return night.at(text)
    start = night.start
    hour, minute = map(int, text.split(":"))
    local = datetime(start.year, start.month, start.day, hour, minute, tzinfo=night.zone)
    later = int((local.timestamp() - start.timestamp()) // 60) % (24 * 60)
    return later // night.grid


def _hold_wears(model, rota, worker, wears, kind):
    cp, night = model.cp, model.night
    rows = [row for row in rota.get(kind, []) if row["person"] == worker.person.id]
    rows.sort(key=lambda row: _slot(night, row["don"]))
    if len(rows) > len(wears):
        raise Unsupported(f"{worker.person.id} has {len(rows)} of {kind}, the model has places for {len(wears)}")
    for wear in wears[len(rows):]:
        cp.add(wear.on == 0)
    for wear, row in zip(wears, rows):
        cp.add(wear.on == 1)
        cp.add(wear.don == _slot(night, row["don"]))
        cp.add(wear.removal == _slot(night, row["removal"]))
        cp.add(wear.off == _slot(night, row["off"]))
        cp.add(wear.lane[night.lanes.index(row["lane"])] == 1)
        if row.get("donning_observer", "none") != "none":
            cp.add(wear.donning_observer[row["donning_observer"]] == 1)
        if kind == "entry":
            _hold_entry(model, wear, row)
        elif row["observer"] in wear.alone:
            # Watched alone, or with the removal before by the same observer.
            cp.add(wear.alone[row["observer"]] == 1).only_enforce_if(~wear.chained)
            if not _watched_before(rota, row):
                cp.add(wear.chained == 0)


def _watched_before(rota, post):
    """Whether its observer also watched the removal that it follows at once, in the same lane."""
    return any(
        (entry["off"], entry["lane"], entry["observer"]) == (post["removal"], post["lane"], post["observer"])
        and entry.get("assistant") == post["person"]
        for entry in rota.get("entry", [])
    )


def _hold_entry(model, entry, row):
    cp, night = model.cp, model.night
    cp.add(entry.door_in == _slot(night, row["in"]))
    cp.add(entry.door_out == _slot(night, row["out"]))
    cp.add(entry.room[night.rooms.index(row["room"])] == 1)
    watched = [w[row["observer"]] for w in (entry.alone, entry.both) if row["observer"] in w]
    cp.add(sum(watched) == 1)
    if row.get("assistant", "none") != "none":
        helped = [entry.at[p.name] for p in model.posts if p.person.id == row["assistant"] and p.name in entry.at]
        cp.add(sum(helped) == 1)


def _hold_breaks(model, rota, worker):
    rows = [row for row in rota.get("break", []) if row["person"] == worker.person.id]
    rows.sort(key=lambda row: _slot(model.night, row["from"]))
    taken = getattr(worker, "taken", [])
    # Somebody without a duty needs no break: those listed for such a person are held where there is a place for them.
    if len(rows) > len(taken) and taken:
        raise Unsupported(f"{worker.person.id} has {len(rows)} breaks, the model has places for {len(taken)}")
    for (on, start), row in zip(taken, rows):
        model.cp.add(on == 1)
        model.cp.add(start == _slot(model.night, row["from"]))
    for on, _ in taken[len(rows):]:
        model.cp.add(on == 0)
