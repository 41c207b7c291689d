"""A night read from its two files into whole slots of the grid, without any code of the program under test."""

import tomllib
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo


class Unsupported(Exception):
    """A rule or a figure of the night that the model does not carry: it takes no part."""


FAR = 10**6

# Tables of the roster that the model carries.
ROSTER = {
    "format", "name", "example", "constraint_set", "unit", "zone", "from", "to", "crew", "person", "room",
    "presence", "skill_cover", "task", "lane", "closure", "kit", "respirator", "apart", "huddle", "break_window",
    "preferred_break", "wear_log_from", "wear_log",
}


class Night:
    """Everything in slots since the start of the shift; `grid` minutes each."""

    def __init__(self, folder):
        self.roster = tomllib.loads((folder / "roster.toml").read_text())
        self.limits = tomllib.loads((folder / "constraints.toml").read_text())
        self._refuse()
        self.zone = ZoneInfo(self.roster["zone"])
        self.grid = self.limits["grid_min"]
        self.start = self._instant(self.roster["from"])
        self.slots = self.at(self.roster["to"])
        self.kits = {e["id"]: e for e in self.limits["ensemble"]}
        self.rest = {(r["after"], r["before"]): self.span(r["min"]) for r in self.limits["rest"]}
        crews = {c["id"]: c for c in self.roster.get("crew", [])}
        self.people = [Person(self, p, crews) for p in self.roster.get("person", [])]
        self.rooms = [r["id"] for r in self.roster.get("room", [])]
        self.lanes = [lane["id"] for lane in self.roster.get("lane", [])]
        self._refuse_figures()

    def _refuse(self):
        """Names the first rule of the night that the model does not carry."""
        for key in ("standby", "early_exit", "low_hours"):
            if self.limits[key] != "none":
                raise Unsupported(f"{key} is not modelled")
        if self.limits.get("rolling_wear"):
            raise Unsupported("wear over days is not modelled")
        if self.limits.get("respirator"):
            raise Unsupported("respirators in turn are not modelled")
        if self.limits["people"]["coordinator"]:
            raise Unsupported("the coordinator is not modelled")
        if self.limits["removal"]["observer_kit"] != "none":
            raise Unsupported("observers in a kit are not modelled")
        if self.limits["donning"]["observer_capacity"] != 1:
            raise Unsupported("two donnings watched at once are not modelled")
        for key in self.roster:
            if key not in ROSTER:
                raise Unsupported(f"{key} is not modelled")
        for pair in self.roster.get("apart", []):
            if set(pair["never"]) != {"room"}:
                raise Unsupported("people apart as helpers are not modelled")

    def _refuse_figures(self):
        limits = self.limits
        if limits["removal"]["observer_reset_min"] < limits["people"]["changeover_min"]:
            raise Unsupported("a changeover longer than the reset is not modelled")
        for kit in self.kits.values():
            if self.rest[kit["id"], kit["id"]] < self.span(limits["people"]["changeover_min"]):
                raise Unsupported("a changeover longer than the rest is not modelled")
        for person in self.people:
            if "supervised-entrant" in person.roles:
                raise Unsupported("supervised entrants are not modelled")

    def _instant(self, text):
        local = datetime.fromisoformat(text)
        return local if local.tzinfo else local.replace(tzinfo=self.zone)

    def minute(self, text):
        """Minutes from the start of the shift to a local time."""
        return round((self._instant(text).timestamp() - self.start.timestamp()) / 60)

    def at(self, text):
        """The slot of a local time, which has to be on the grid."""
        minute = self.minute(text)
        if minute % self.grid:
            raise Unsupported(f"{text} is not on the grid")
        return minute // self.grid

    def span(self, minutes):
        """The slots of a duration, which has to be on the grid."""
        if minutes % self.grid:
            raise Unsupported(f"{minutes} min is not on the grid")
        return minutes // self.grid

    def local(self, slot):
        """The local time of a slot, with its offset."""
        instant = datetime.fromtimestamp(self.start.timestamp() + slot * self.grid * 60, self.zone)
        return instant.isoformat(timespec="minutes")

    def end_of(self, day):
        """The last slot that begins no later than 24:00 of a local day."""
        midnight = datetime.combine(date.fromisoformat(day) + timedelta(days=1), datetime.min.time(), self.zone)
        return int((midnight.timestamp() - self.start.timestamp()) // 60 // self.grid)

    def usable(self, ensemble, size):
        """Kits on the shelf beyond the reserve."""
        rows = [k for k in self.roster.get("kit", []) if (k["ensemble"], k["size"]) == (ensemble, size)]
        return max(0, sum(k["count"] - k["reserve"] for k in rows))

    def kit(self, ensemble):
        """Durations and limits of an ensemble in slots."""
        return Kit(self, self.kits[ensemble])

    def rest_before_watching(self, worn, duty):
        """From last item off to a duty without a kit (B5)."""
        recovery = self.span(self.kits[worn]["recovery_min"])
        listed = duty in self.limits["people"]["inside_rest"]
        return recovery if listed else max(recovery, self.rest[worn, worn])


class Kit:
    """An ensemble in slots."""

    def __init__(self, night, raw):
        self.id = raw["id"]
        self.donning, self.sealed = night.span(raw["donning_min"]), night.span(raw["sealed_min"])
        self.removal = night.span(raw["removal_min"])
        # Limits round down.
        self.wear = (raw["max_wear_min"] - raw["margin_min"]) // night.grid
        self.recovery = night.span(raw["recovery_min"])
        self.percent = raw["cumulative_percent"]
        self.assistant = raw["assistant"]
        self.donning_watched = raw["donning_watched"]
        self.removal_watched = raw["removal_watched"]


class Person:
    """Who may do what, between which slots."""

    def __init__(self, night, raw, crews):
        self.id = raw["id"]
        self.night = night
        duty = raw if "on_duty" in raw else crews[raw["crew"]]
        self.duty = night.at(duty["on_duty"]), night.at(duty["off_duty"])
        self.first = max(0, self.duty[0])
        if raw["last_off_duty"] != "none":
            gap = night.limits["people"]["shift_gap_h"] * 60
            self.first = max(self.first, -(-(night.minute(raw["last_off_duty"]) + gap) // night.grid))
        self.end = min(night.slots, self.duty[1])
        self.roles = {}
        for sign_off in raw["sign_offs"]:
            for role in sign_off["roles"]:
                until = night.end_of(sign_off["valid_through"])
                self.roles[role] = max(until, self.roles.get(role, -FAR))
        self.sizes = raw["kits"]
        self.skills = set(raw["skills"])
        self.worn_before = raw.get("worn_before_min", 0)
        self.last = None
        if raw["last_removal"] != "none":
            self.last = night.minute(raw["last_removal"]), raw["last_kit"]
        self.enters_today, self.helps_today = raw["enter_today"], raw["doffing_area_today"]
        self.fits = raw["fit_tests"]

    def key(self):
        """People with the same key are interchangeable; apart pairs are looked at by the caller."""
        roles = tuple(sorted(self.roles.items()))
        fits = tuple(sorted((f["respirator"], f["size"], f["valid_through"]) for f in self.fits))
        return (self.duty, self.first, roles, tuple(self.sizes.items()), tuple(sorted(self.skills)), self.worn_before,
                self.last, self.enters_today, self.helps_today, fits)

    def _rested(self, rest):
        """The first slot after the rest owed from before the shift."""
        if self.last is None:
            return self.first
        return max(self.first, -(-(self.last[0] + rest * self.night.grid) // self.night.grid))

    def room_kit(self):
        """The first ensemble for rooms among the person's kits."""
        kits = self.night.kits
        return next((kits[e]["id"] for e in self.sizes if kits[e]["worn_in"] == "room"), None)

    def wears(self, role, ensemble):
        """First donning and last `off` in an ensemble as a role, or None."""
        allowed = self.enters_today if role == "entrant" else self.helps_today
        if role not in self.roles or ensemble not in self.sizes or not allowed:
            return None
        fitted = self._fitted(ensemble)
        shower = self.night.span(self.night.limits["people"]["shower_min"])
        first = self._rested(self.night.rest[self.last[1], ensemble]) if self.last else self.first
        return first, min(self.end, self.duty[1] - shower, self.roles[role], fitted)

    def _fitted(self, ensemble):
        """Until when a respirator that is there fits; the first models are as good as any."""
        kit = self.night.kits[ensemble]
        if not kit["respirators"]:
            return FAR
        rows = self.night.roster.get("respirator", [])
        stock = {(r["model"], r["size"]) for r in rows if r["count"] > 0}
        if not kit["fit_test"]:
            return FAR if any(model in kit["respirators"] for model, _ in stock) else -FAR
        good = [f for f in self.fits if f["respirator"] in kit["respirators"] and (f["respirator"], f["size"]) in stock]
        return max((self.night.end_of(f["valid_through"]) for f in good), default=-FAR)

    def watches(self, role):
        """First and last slot of a duty without a kit, and the last slot by which its date runs out."""
        if role not in self.roles or (role == "doffing-observer" and not self.helps_today):
            return None
        rest = self.night.rest_before_watching(self.last[1], role) if self.last else 0
        return self._rested(rest), self.end, self.roles[role]
