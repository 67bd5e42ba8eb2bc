//! The architect's drawing beneath the plan of a sheet, where the project wants it printed there.
//!
//! It shows what nobody traces (stairs, sanitary ware, kitchens) and is fainter than anything of ours. It ends a
//! little outside the house, so that no frame, title block or dimension of another sheet can be taken for one of
//! this; and the sheet says which drawing it is and how its scale was found.

use kurbo::Rect;

use super::placing::plan_bounds;
use crate::drawing::plan::{building_items, underlay_items};
use crate::drawing::{Item, Shape};
use crate::edit::Subject;
use crate::id::Id;
use crate::plan::{Level, Underlay};
use crate::project::Project;

/// On paper a drawing has this share of its strength on the board. Our own choice: black lines at the strength with
/// which drawings are brought in come to a light grey that a copier still keeps.
const SHARE_OF_STRENGTH: f64 = 0.5;

/// It ends so far outside the walls, mm. Our own choice: steps and window boards show, other dimensions do not.
const AROUND_THE_HOUSE_MM: f64 = 300.0;

/// Drawings beneath a level that are printed on its sheets.
fn printed(project: &Project, level: Id<Level>) -> impl Iterator<Item = (Id<Underlay>, &Underlay)> {
    project
        .underlays
        .iter()
        .filter(move |(_, underlay)| underlay.level == level && underlay.on_sheets && underlay.opacity > 0.0)
}

/// The drawings beneath a level as its sheets show them, within `room`, plan mm. Where no wall stands yet, a drawing
/// shows as far as there is room.
pub(super) fn beneath(project: &Project, level: Id<Level>, room: Rect) -> Vec<Item> {
    let house = plan_bounds(&building_items(project, level), 1.0);
    let around = house.map_or(room, |house| house.inflate(AROUND_THE_HOUSE_MM, AROUND_THE_HOUSE_MM));
    let shown = around.intersect(room);
    let mut items = underlay_items(project, level);
    items.retain(|item| match item.subject {
        Some(Subject::Underlay(id)) => project.underlays.get(id).is_some_and(|underlay| underlay.on_sheets),
        _ => false,
    });
    for item in &mut items {
        if let Shape::Picture { opacity, within, .. } = &mut item.shape {
            *opacity *= SHARE_OF_STRENGTH;
            *within = Some(shown);
        }
    }
    items
}

/// What a sheet says of each drawing beneath it.
pub(super) fn notes_beneath(project: &Project, level: Id<Level>) -> Vec<String> {
    printed(project, level)
        .map(|(_, underlay)| {
            let page = if underlay.page > 1 { format!(", page {}", underlay.page) } else { String::new() };
            let scaled = match &underlay.scale_from {
                Some(from) => format!("scaled {}", from.words()),
                None => "whose scale nobody vouches for".to_owned(),
            };
            format!(
                "The faint drawing beneath is “{}”{page}, {scaled}. Take no measure from it; where it differs from \
                 what is drawn over it, ask before work.",
                underlay.name
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use kurbo::{Point, Rect, Vec2};

    use super::*;
    use crate::drawing::sheets::{Discipline, SheetOptions, level_sheet};
    use crate::drawing::{Layer, Sheet};
    use crate::edit::{Change, History, Op};
    use crate::plan::{MakeUp, ScaleFrom, Wall};
    use crate::units::{Angle, Length};

    /// A drawing of A3 at 1:50, 21 by 14.85 m of house, beneath a level with a wall of that length from 5, 5 m.
    fn project(wall_mm: Option<f64>, change: impl FnOnce(&mut Underlay)) -> (Project, Id<Level>) {
        let mut project = Project::new();
        let level = project.levels.ids().next().unwrap();
        let mut ids = project.fresh_ids();
        let mut underlay = Underlay {
            level,
            name: "ground.pdf".to_owned(),
            media: format!("{}.pdf", "0a".repeat(32)),
            page: 2,
            width: 420.0,
            height: 297.0,
            mm_per_unit: 50.0,
            scale_from: Some(ScaleFrom::Told(50.0)),
            second_length: None,
            position: Point::ORIGIN,
            turn: Angle::ZERO,
            opacity: 0.6,
            on_sheets: true,
        };
        change(&mut underlay);
        let mut ops = vec![Op::put(ids.issue(), underlay)];
        if let Some(length) = wall_mm {
            let start = Point::new(5000.0, 5000.0);
            let wall = Wall {
                level,
                start,
                end: start + Vec2::new(length, 0.0),
                thickness: Length::mm(100.0),
                height: Length::mm(2400.0),
                make_up: MakeUp::Block,
            };
            ops.push(Op::put(ids.issue(), wall));
        }
        History::default().apply(&mut project, Change::new("Draw", ops)).unwrap();
        (project, level)
    }

    fn sheet(project: &Project, level: Id<Level>) -> Sheet {
        level_sheet(project, level, Discipline::Devices, &SheetOptions::default())
    }

    fn shown(sheet: &Sheet) -> Vec<(Option<Rect>, f64)> {
        let pictures = sheet.plan.iter().filter(|item| item.layer == Layer::Underlay);
        pictures
            .filter_map(|item| match item.shape {
                Shape::Picture { within, opacity, .. } => Some((within, opacity)),
                _ => None,
            })
            .collect()
    }

    fn notes(sheet: &Sheet) -> String {
        let words = sheet.frame.iter().filter_map(|item| match &item.shape {
            Shape::Text { text, .. } => Some(text.as_str()),
            _ => None,
        });
        words.collect::<Vec<_>>().join(" ")
    }

    #[test]
    fn a_drawing_shows_faint_about_the_house_and_the_sheet_names_it() {
        let (project, level) = project(Some(4000.0), |_| {});
        let sheet = sheet(&project, level);
        let [(Some(within), opacity)] = shown(&sheet)[..] else { panic!("{:?}", shown(&sheet)) };
        assert!((opacity - 0.3).abs() < 1e-9);
        assert_eq!(within, Rect::new(5000.0, 4950.0, 9000.0, 5050.0).inflate(300.0, 300.0));
        let notes = notes(&sheet);
        assert!(notes.contains("“ground.pdf”, page 2, scaled"), "{notes}");
        assert!(
            sheet.plan.iter().position(|item| item.layer == Layer::Underlay) == Some(0),
            "it lies lowest"
        );
    }

    #[test]
    fn it_never_leaves_the_room_for_the_plan() {
        let (project, level) = project(None, |_| {});
        let sheet = sheet(&project, level);
        let [(Some(within), _)] = shown(&sheet)[..] else { panic!("{:?}", shown(&sheet)) };
        let on_paper = sheet.paper_from_plan.transform_rect_bbox(within);
        let (width, height) = sheet.paper.size_mm();
        assert!(Rect::new(0.0, 0.0, width, height).contains_rect(on_paper), "{on_paper:?}");
        assert!(on_paper.width() < width - 60.0, "the column stays clear: {on_paper:?}");
    }

    #[test]
    fn what_is_hidden_or_not_wanted_is_neither_shown_nor_named() {
        for change in
            [(|underlay| underlay.on_sheets = false) as fn(&mut Underlay), |underlay| underlay.opacity = 0.0]
        {
            let (project, level) = project(Some(4000.0), change);
            let sheet = sheet(&project, level);
            assert!(shown(&sheet).is_empty() && !notes(&sheet).contains("ground.pdf"));
        }
    }

    #[test]
    fn a_scale_that_nobody_vouches_for_is_said() {
        let (project, level) = project(None, |underlay| underlay.scale_from = None);
        assert!(notes_beneath(&project, level)[0].contains("nobody vouches for"));
    }
}
