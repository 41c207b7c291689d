"""Duties of people as optional intervals: entries, spells on post, watches, breaks."""

from collections import defaultdict

from night import Unsupported


class Wear:
    """One optional wear of one person: an entry, or a spell on post as assistant."""

    def __init__(self, model, person, kit, window, name):
        cp = model.cp
        first, last = window
        self.person, self.kit, self.name, self.window = person, kit, name, window
        self.on = cp.new_bool_var(f"on {name}")
        self.don = cp.new_int_var(first, last, f"don {name}")
        self.removal = cp.new_int_var(first, last, f"removal {name}")
        self.off = self.removal + kit.removal
        self.length = cp.new_int_var(0, last - first, f"length {name}")
        self.dressed = cp.new_optional_interval_var(self.don, self.length, self.off, self.on, f"dressed {name}")
        cp.add(self.off <= last).only_enforce_if(self.on)
        self.lane = [cp.new_bool_var(f"lane {lane} {name}") for lane in model.night.lanes]
        cp.add(sum(self.lane) == self.on)
        self.worn = cp.new_int_var(0, kit.wear, f"worn {name}")

    def count_wear(self, cp, begin):
        """Wear from its first minute to the last item off; nothing where it is not on."""
        cp.add(self.worn == self.off - begin).only_enforce_if(self.on)
        cp.add(self.worn == 0).only_enforce_if(~self.on)

    def meets(self, first, end):
        """Whether any of it can lie between two slots."""
        return first < self.window[1] and end > self.window[0]

    def pad(self, model, slots):
        """The slots straight after the last item off."""
        return model.cp.new_optional_fixed_size_interval_var(self.off, slots, self.on, f"pad {self.name}")


class Entry(Wear):
    def __init__(self, model, person, kit, window, name):
        super().__init__(model, person, kit, window, name)
        cp, night = model.cp, model.night
        self.door_in = cp.new_int_var(*window, f"in {name}")
        self.door_out = cp.new_int_var(*window, f"out {name}")
        self.room = [cp.new_bool_var(f"room {room} {name}") for room in night.rooms]
        cp.add(sum(self.room) == self.on)
        stay = night.span(night.limits["room"]["min_stay_min"])
        cp.add(self.door_in >= self.don + kit.donning)
        cp.add(self.door_out >= self.door_in + max(1, stay)).only_enforce_if(self.on)
        cp.add(self.removal >= self.door_out)
        begin = night.limits["wear"]["from"]
        sealed = self.don + kit.donning - kit.sealed
        self.count_wear(cp, {"sealed": sealed, "donning-start": self.don, "door-in": self.door_in}[begin])


class Post(Wear):
    def __init__(self, model, person, kit, window, name):
        super().__init__(model, person, kit, window, name)
        cp, night = model.cp, model.night
        cp.add(self.removal >= self.don + kit.donning)
        start = night.limits["wear"]["from"] == "donning-start"
        self.count_wear(cp, self.don if start else self.don + kit.donning - kit.sealed)


class Worker:
    """What one person is busy with, to be kept apart."""

    def __init__(self, person):
        self.person = person
        self.entries, self.posts = [], []
        self.donnings, self.removals, self.breaks = [], [], []
        # Minutes of help for the load: sizes with their literals.
        self.load = []

    def cores(self):
        wears = [w.dressed for w in self.entries + self.posts]
        return wears + [i for i, _ in self.donnings] + [i for i, _ in self.removals] + self.breaks


def most_wears(window, least, rest, full, more):
    """How many wears of `least` slots fit into a window, and at most so many more than full ones need."""
    first, last = window
    fit = (last - first + rest) // (least + rest)
    needed = -(-(last - first) // (full + rest))
    return max(0, min(fit, needed + more))


def add_wears(model):
    """Entries and posts of everybody, each person's in order."""
    night = model.night
    stay = max(1, night.span(night.limits["room"]["min_stay_min"]))
    post_kit = night.limits["removal"]["assistant_kit"]
    for person in night.people:
        worker = model.workers[person.id]
        ensemble = person.room_kit()
        window = ensemble and person.wears("entrant", ensemble)
        if window:
            kit = night.kit(ensemble)
            rest = night.rest[ensemble, ensemble]
            least = kit.donning + stay + kit.removal
            # Wears that are all as short as may be are thinkable here: each entry counts at an early level.
            count = most_wears(window, least, rest, least, model.more)
            worker.entries = [Entry(model, person, kit, window, f"entry {person.id} {k}") for k in range(count)]
        window = post_kit != "none" and person.wears("assistant", post_kit)
        if window:
            kit = night.kit(post_kit)
            rest = night.rest[post_kit, post_kit]
            count = most_wears(window, kit.donning + kit.removal + 1, rest, kit.wear, model.more)
            worker.posts = [Post(model, person, kit, window, f"post {person.id} {k}") for k in range(count)]
        for wears in (worker.entries, worker.posts):
            for one, other in zip(wears, wears[1:]):
                model.cp.add_implication(other.on, one.on)
                rest = night.rest[one.kit.id, one.kit.id]
                model.cp.add(other.don >= one.off + rest).only_enforce_if(other.on)
        model.entries += worker.entries
        model.posts += worker.posts


def add_person_rules(model):
    """One duty at a time, rest, recovery, changeover, cumulative wear."""
    cp, night = model.cp, model.night
    changeover = night.span(night.limits["people"]["changeover_min"])
    most = night.limits["wear"]["cumulative_max_min"] * 100
    for worker in model.workers.values():
        cp.add_no_overlap(worker.cores())
        donnings, removals = [i for i, _ in worker.donnings], [i for i, _ in worker.removals]
        for wears, other in ((worker.entries, worker.posts), (worker.posts, worker.entries)):
            if not wears:
                continue
            kit = wears[0].kit
            targets = [(other and max(night.rest[kit.id, other[0].kit.id], changeover), [w.dressed for w in other])]
            targets.append((max(night.rest_before_watching(kit.id, "donning-observer"), changeover), donnings))
            targets.append((max(night.rest_before_watching(kit.id, "doffing-observer"), changeover), removals))
            if not model.recovery_counts:
                targets.append((kit.recovery, worker.breaks))
            for slots, intervals in targets:
                if slots and intervals:
                    _pads_apart(model, wears, slots, intervals)
        if changeover and worker.donnings:
            _changeover_after_donnings(model, worker, changeover)
        worn = sum(w.worn * (w.kit.percent * night.grid) for w in worker.entries + worker.posts)
        cp.add(worn + worker.person.worn_before * 100 <= most)
        if night.limits["people"]["entries_max"] != "none":
            cp.add(sum(e.on for e in worker.entries) <= night.limits["people"]["entries_max"])
    _kits(model)


def _pads_apart(model, wears, slots, intervals):
    kit = wears[0].kit
    if slots > model.night.rest[kit.id, kit.id] + kit.donning + kit.removal:
        raise Unsupported("a rest longer than the way to the next one is not modelled")
    model.cp.add_no_overlap([w.pad(model, slots) for w in wears] + intervals)


def _changeover_after_donnings(model, worker, changeover):
    """Other duties stay clear of the slots after a donning watched; the next donning may be in them."""
    others = [w.dressed for w in worker.entries + worker.posts] + [i for i, _ in worker.removals]
    if not others:
        return
    pads = []
    for interval, literal in worker.donnings:
        pads.append(model.cp.new_optional_fixed_size_interval_var(interval.end_expr(), changeover, literal, "changeover"))
    demands = [1] * len(pads) + [len(pads)] * len(others)
    model.cp.add_cumulative(pads + others, demands, len(pads))


def _kits(model):
    taken = defaultdict(list)
    for wear in model.entries + model.posts:
        taken[wear.kit.id, wear.person.sizes[wear.kit.id]].append(wear.on)
    for (ensemble, size), wears in taken.items():
        model.cp.add(sum(wears) <= model.night.usable(ensemble, size))
