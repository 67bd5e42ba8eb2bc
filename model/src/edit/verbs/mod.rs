//! What people do to a plan, one verb a file: each takes the project as it is and returns the change.
//!
//! A verb never alters the project it is given. It works on a draft, checks the draft against the invariants
//! and hands back the change, so that [`super::History::apply`] accepts whatever a verb returns; what can't
//! be done is refused in one sentence.

mod accept_proposal;
mod align_things;
mod align_underlay;
mod bring_in;
mod chosen_parts;
mod close_joints;
mod copy_things;
mod draft;
mod draw_walls;
mod edit_devices;
mod edit_plan;
mod edit_wall;
mod kinds;
mod legends;
mod levels;
mod mirror_things;
mod move_things;
mod open_sides;
mod openings;
mod part_rooms;
mod place_device;
mod place_many;
mod remove_things;
mod rules;
mod scenes;
mod scripts;
mod site;
mod spots;
mod standing_parts;
#[cfg(test)]
pub(super) mod tests;
#[cfg(test)]
mod tests_any_order;
mod turn_things;
mod wall_ends;
mod words;
mod zones;

pub use accept_proposal::{Defaults, accept_proposal};
pub use align_things::{Axis, Edge, align, distribute};
pub use align_underlay::{Aligned, align_underlay, lay_squared};
pub use bring_in::{bring_in_building, bring_in_drawing};
pub use chosen_parts::parts_within;
pub use copy_things::{copy_things, copy_to_level};
pub use draft::new_things;
pub use draw_walls::{WallSpec, draw_room, draw_wall_joined, draw_walls};
pub use edit_devices::{rename_device, set_height, set_note, set_tilt, set_turn};
pub use edit_plan::{
    add_joinery, add_room, add_underlay, edit_joinery, edit_underlay, name_room, print_underlay,
    set_underlay_opacity, slope_ceiling,
};
pub use edit_wall::{edit_walls, move_wall_end, set_wall_length};
pub use kinds::{copy_kind, edit_kind, import_kind, with_kind};
pub use legends::{mark_legend_final, set_legend, take_legend_back};
pub use levels::{
    CopiedOpenings, FLOOR_BUILD_UP, add_level, copy_walls_to, copy_walls_up, edit_level, level_named,
    level_on_top, lone_empty_level, remove_level, same_storey,
};
pub use mirror_things::{MirrorLine, mirror_things};
pub use move_things::{move_things, rehost_device};
pub use openings::{add_opening, edit_opening, flip_hinge, flip_swing, nearest_room, slide_opening};
pub use part_rooms::draw_room_lines;
pub use place_device::{Placing, place_aimed, place_device};
pub use place_many::{MOST_IN_AN_ARRAY, array_points, array_points_in, place_many};
pub use remove_things::remove_things;
pub use rules::{add_rule, edit_rule, remove_rule, switch_rule};
pub use scenes::{add_mode, add_scene, edit_scene, remove_mode, remove_scene, rename_mode};
pub use scripts::{add_script, edit_script, remove_script};
pub use site::edit_site;
pub use spots::{draw_boundary, draw_walk, edit_spot, edit_walk, mark_spot};
pub use standing_parts::standing_parts;
pub use turn_things::turn_things;
pub use zones::{add_to_zone, make_zone, rename_zone, set_zone_purpose, take_from_zone, zone_points_of};
