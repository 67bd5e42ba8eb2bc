//! The two operations, and the things they work on.

use std::sync::Arc;

use super::{Project, Site};
use crate::id::Id;
use crate::kit::{Device, Kind};
use crate::plan::{Joinery, Level, Opening, Room, RoomLine, Spot, Underlay, Walk, Wall};
use crate::systems::{Mode, Rule, Scene, Script, Zone};

/// One operation on a project.
#[derive(Clone, Debug, PartialEq)]
pub enum Op {
    /// Put a thing in, in place of the one that had its id, if any.
    Put(Entity),
    /// Take a thing out.
    Remove(Subject),
}

impl Op {
    /// Puts a thing under an id.
    pub fn put<T: Kept>(id: Id<T>, thing: T) -> Self {
        Self::Put(T::entity(id, Arc::new(thing)))
    }

    /// Takes a thing out.
    pub fn remove<T: Kept>(id: Id<T>) -> Self {
        Self::Remove(T::subject(id))
    }

    /// What it works on.
    pub fn subject(&self) -> Subject {
        match self {
            Self::Put(entity) => entity.subject(),
            Self::Remove(subject) => *subject,
        }
    }
}

/// A thing that a project keeps in a table.
pub trait Kept: Sized {
    /// The thing as an entity.
    fn entity(id: Id<Self>, thing: Arc<Self>) -> Entity;
    /// The name of the thing among all things.
    fn subject(id: Id<Self>) -> Subject;
}

macro_rules! kept_things {
    ($($name:ident in $table:ident: $words:literal),+ $(,)?) => {
        /// A thing with its id, ready to be put into a project.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Entity {
            /// Title block data and site facts, of which there is one.
            Site(Arc<Site>),
            $(#[doc = concat!("A ", $words, ".")] $name(Id<$name>, Arc<$name>)),+
        }

        /// The name of any one thing of a project: what a selection, a finding or a line of a list speaks of.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Subject {
            /// Title block data and site facts.
            Site,
            $(#[doc = concat!("A ", $words, ".")] $name(Id<$name>)),+
        }

        $(impl Kept for $name {
            fn entity(id: Id<Self>, thing: Arc<Self>) -> Entity {
                Entity::$name(id, thing)
            }
            fn subject(id: Id<Self>) -> Subject {
                Subject::$name(id)
            }
        })+

        impl Entity {
            /// The name of the thing.
            pub fn subject(&self) -> Subject {
                match self {
                    Self::Site(_) => Subject::Site,
                    $(Self::$name(id, _) => Subject::$name(*id)),+
                }
            }

            /// Puts it in and returns the op that takes it back.
            pub(crate) fn put_into(self, project: &mut Project) -> Op {
                match self {
                    Self::Site(site) => Op::Put(Self::Site(std::mem::replace(&mut project.site, site))),
                    $(Self::$name(id, thing) => match project.$table.put(id, thing) {
                        Some(former) => Op::Put(Self::$name(id, former)),
                        None => Op::Remove(Subject::$name(id)),
                    }),+
                }
            }
        }

        impl Subject {
            /// The word for the sort of thing.
            pub const fn sort(self) -> &'static str {
                match self {
                    Self::Site => "site",
                    $(Self::$name(_) => $words),+
                }
            }

            /// Its number; the site has none.
            pub const fn number(self) -> Option<u32> {
                match self {
                    Self::Site => None,
                    $(Self::$name(id) => Some(id.number())),+
                }
            }

            /// Whether the project has it.
            pub fn is_in(self, project: &Project) -> bool {
                match self {
                    Self::Site => true,
                    $(Self::$name(id) => project.$table.contains(id)),+
                }
            }

            /// The thing as it is now.
            pub fn entity_in(self, project: &Project) -> Option<Entity> {
                match self {
                    Self::Site => Some(Entity::Site(Arc::clone(&project.site))),
                    $(Self::$name(id) => Some(Entity::$name(id, project.$table.get_shared(id)?))),+
                }
            }

            /// Takes it out and returns the op that puts it back. Removing what is not there is no change.
            pub(crate) fn remove_from(self, project: &mut Project) -> Op {
                match self {
                    Self::Site => Op::Put(Entity::Site(Arc::clone(&project.site))),
                    $(Self::$name(id) => match project.$table.remove(id) {
                        Some(former) => Op::Put(Entity::$name(id, former)),
                        None => Op::Remove(self),
                    }),+
                }
            }
        }

        impl Project {
            /// Everything in the project, sort by sort, each by id: site, levels, walls, and so on.
            pub fn entities(&self) -> Vec<Entity> {
                let mut all = vec![Entity::Site(Arc::clone(&self.site))];
                $(all.extend(self.$table.ids().filter_map(|id| Subject::$name(id).entity_in(self)));)+
                all
            }
        }
    };
}

kept_things! {
    Level in levels: "level",
    Wall in walls: "wall",
    Opening in openings: "opening",
    Room in rooms: "room",
    RoomLine in room_lines: "room line",
    Joinery in joinery: "piece of joinery",
    Underlay in underlays: "underlay",
    Spot in spots: "spot",
    Walk in walks: "walk",
    Kind in kinds: "kind",
    Device in devices: "device",
    Zone in zones: "zone",
    Mode in modes: "mode",
    Scene in scenes: "scene",
    Script in scripts: "script",
    Rule in rules: "rule",
}
