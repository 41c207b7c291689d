//! What a night is made of before it is written down.
//!
//! Times are minutes from the start of the shift, 19:00 on 4 March 2031.

/// The rules and the heat of a night.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Family {
    /// Long wear, a handful of entries for each person.
    Temperate,
    /// An hour of wear at most, many short entries.
    Hot,
    /// Every rule that the program knows.
    FullRule,
    /// The example rosters of the project.
    Example,
}

/// How the demand compares with what the crew could cover.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub enum Tightness {
    /// About half of it.
    Loose,
    /// Nearly all of it.
    Tight,
    /// More than all of it: gaps whatever is done.
    Impossible,
}

impl Family {
    /// Its word on the command line and in the table.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Temperate => "temperate",
            Self::Hot => "hot",
            Self::FullRule => "full-rule",
            Self::Example => "example",
        }
    }
}

impl Tightness {
    /// Its word in the table.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Loose => "loose",
            Self::Tight => "tight",
            Self::Impossible => "impossible",
        }
    }

    /// Demanded person-minutes per hundred that the entrants could be inside.
    pub const fn percent(self) -> i64 {
        match self {
            Self::Loose => 50,
            Self::Tight => 90,
            Self::Impossible => 140,
        }
    }
}

/// The figures of the constraint set, in minutes unless said otherwise.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Figures {
    pub name: &'static str,
    pub family: Family,
    pub donning: i64,
    pub sealed: i64,
    pub removal: i64,
    pub wear: i64,
    /// From when wear counts, in the word of the constraint set.
    pub wear_from: &'static str,
    pub margin: i64,
    pub recovery: i64,
    pub rest: i64,
    pub rest_before_kit: i64,
    pub cumulative: i64,
    /// The assistants' kit.
    pub kit_wear: i64,
    pub kit_recovery: i64,
    pub kit_rest: i64,
    pub kit_percent: i64,
    /// People.
    pub min_inside: i64,
    pub overlap: i64,
    /// Donnings one observer watches at once.
    pub donning_capacity: i64,
    /// Places.
    pub waiting_places: i64,
    pub ready: i64,
    pub reset: i64,
    pub cleaning: i64,
    pub changeover: i64,
    pub shower: i64,
    /// Whether both kinds of watching are allowed between recovery and the end of rest.
    pub both_inside_rest: bool,
}

impl Figures {
    /// The figures of a family.
    pub fn of(family: Family) -> Self {
        let temperate = Self {
            name: "temperate, benchmark",
            family,
            donning: 20,
            sealed: 10,
            removal: 25,
            wear: 180,
            wear_from: "sealed",
            margin: 10,
            recovery: 30,
            rest: 120,
            rest_before_kit: 60,
            cumulative: 360,
            kit_wear: 120,
            kit_recovery: 15,
            kit_rest: 30,
            kit_percent: 50,
            min_inside: 2,
            overlap: 10,
            donning_capacity: 1,
            waiting_places: 2,
            ready: 5,
            reset: 5,
            cleaning: 10,
            changeover: 5,
            shower: 15,
            both_inside_rest: false,
        };
        match family {
            Family::Temperate | Family::Example => temperate,
            Family::FullRule => Self { name: "every rule, benchmark", ..temperate },
            Family::Hot => Self {
                name: "hot, benchmark",
                donning: 15,
                sealed: 5,
                removal: 15,
                wear: 60,
                margin: 0,
                rest: 60,
                rest_before_kit: 30,
                cumulative: 240,
                kit_wear: 90,
                overlap: 5,
                ready: 0,
                cleaning: 5,
                ..temperate
            },
        }
    }

    /// The longest stay in a room.
    pub const fn longest_stay(&self) -> i64 {
        self.wear - self.margin - self.sealed - self.removal
    }

    /// Person-minutes that one entrant on duty for so long could be inside beside the overlaps.
    pub fn net_of_one(&self, on_duty: i64) -> i64 {
        let turn = self.longest_stay() + self.removal + self.rest + self.donning;
        let turns = ((on_duty + self.rest - self.shower) / turn).min(self.cumulative / (self.wear - self.margin));
        turns.max(1) * (self.longest_stay() - self.overlap)
    }
}

/// One person.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Member {
    pub id: String,
    pub on_duty: (i64, i64),
    /// The words of the roster file.
    pub roles: Vec<&'static str>,
    pub size: &'static str,
    pub skilled: bool,
    /// The last removal before the shift, as minutes before it, with the wear carried in.
    pub carried_in: Option<(i64, i64)>,
}

/// People inside all the time.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Demand {
    pub room: usize,
    pub span: (i64, i64),
    pub people: i64,
    pub class: usize,
}

/// Something to be done inside.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Job {
    pub room: usize,
    pub window: (i64, i64),
    pub wanted: i64,
    pub length: i64,
    pub skilled: bool,
    pub must: bool,
    pub same_people: bool,
}

/// Everything a roster says.
#[derive(Clone, PartialEq, Eq, Debug)]
pub struct Unit {
    pub name: &'static str,
    pub figures: Figures,
    pub length: i64,
    pub people: Vec<Member>,
    pub rooms: usize,
    pub max_inside: i64,
    pub lanes: usize,
    pub presence: Vec<Demand>,
    pub jobs: Vec<Job>,
    /// Kits of each size, by ensemble.
    pub kits: [i64; 2],
    pub respirators: i64,
    /// People, by place, who are not in a room together.
    pub apart: Vec<(usize, usize)>,
    /// A person inside throughout a job.
    pub pin: Option<(usize, usize)>,
    /// A person who may not enter for a while.
    pub forbid: Option<(usize, (i64, i64))>,
}
