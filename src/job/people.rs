//! Who may enter and sign: the persons of a job, their roles, and the hold points that are used.

/// A step that may not be passed until someone signs. They are passed in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Hold {
    /// The tally of record is fixed.
    TallyFrozen,
    /// The string is landed.
    Landed,
    /// The conductor may be cut at its target.
    CutRelease,
    /// The off-cut may be lifted.
    OffCutLift,
    /// The finished top is accepted.
    Final,
}

impl Hold {
    /// All, in their order.
    pub const ALL: [Self; 5] = [
        Self::TallyFrozen,
        Self::Landed,
        Self::CutRelease,
        Self::OffCutLift,
        Self::Final,
    ];

    /// The name in files, options and JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::TallyFrozen => "tally-frozen",
            Self::Landed => "landed",
            Self::CutRelease => "cut-release",
            Self::OffCutLift => "off-cut-lift",
            Self::Final => "final",
        }
    }

    /// The hold point of a name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|hold| hold.name() == name)
    }
}

/// In which role a person signs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Prepared the figures.
    Prepared,
    /// Checked them.
    Checked,
    /// Accepts them.
    Accepted,
}

impl Role {
    /// All, in their order.
    pub const ALL: [Self; 3] = [Self::Prepared, Self::Checked, Self::Accepted];

    /// The name in files, options and JSON.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Prepared => "prepared",
            Self::Checked => "checked",
            Self::Accepted => "accepted",
        }
    }

    /// The role of a name.
    pub fn from_name(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|role| role.name() == name)
    }
}

/// A person.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Person {
    /// The initials that entries and signatures carry.
    pub initials: String,
    /// The name.
    pub name: String,
}

/// Who may enter and sign.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct People {
    /// The persons; nothing where anyone may enter.
    pub persons: Vec<Person>,
    /// The roles with the initials of those who hold them, in the order of [`Role::ALL`].
    pub roles: Vec<(Role, Vec<String>)>,
    /// The hold points that are used, with the roles that sign them; `None` where all are, by all roles.
    pub holds: Option<Vec<(Hold, Vec<Role>)>>,
}

impl People {
    /// Whether these initials may enter.
    pub fn may_enter(&self, initials: &str) -> bool {
        self.persons.is_empty() || self.persons.iter().any(|it| it.initials == initials)
    }

    /// Whether these initials hold a role.
    pub fn holds_role(&self, initials: &str, role: Role) -> bool {
        let mut roles = self.roles.iter();
        roles.any(|(it, who)| *it == role && who.iter().any(|name| name == initials))
    }

    /// The initials of those who hold a role.
    pub fn holders(&self, role: Role) -> Vec<&str> {
        let of_role = self.roles.iter().filter(|(it, _)| *it == role);
        of_role
            .flat_map(|(_, who)| who.iter().map(String::as_str))
            .collect()
    }

    /// The initials of all who may enter or sign: the persons, else those who hold a role.
    pub fn initials(&self) -> Vec<&str> {
        if !self.persons.is_empty() {
            return self.persons.iter().map(|it| it.initials.as_str()).collect();
        }
        let mut all: Vec<&str> = Vec::new();
        for name in self.roles.iter().flat_map(|(_, who)| who) {
            if !all.contains(&name.as_str()) {
                all.push(name);
            }
        }
        all
    }

    /// The hold points that are used, in their order, each with the roles that must sign it. None where
    /// no role is given to anyone.
    pub fn hold_points(&self) -> Vec<(Hold, Vec<Role>)> {
        if self.roles.is_empty() {
            return Vec::new();
        }
        let all = || self.roles.iter().map(|(role, _)| *role).collect();
        match &self.holds {
            Some(holds) => holds.clone(),
            None => Hold::ALL.map(|hold| (hold, all())).to_vec(),
        }
    }
}
