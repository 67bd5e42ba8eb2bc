//! The finder: type a part of a name, a tag, a room, a rule, a kind or a command; Enter goes there, takes it in
//! hand or runs it.

use std::rc::Rc;

use egui::{Key, Label, Modifiers, RichText, Role, ScrollArea, Sense, Ui, WidgetInfo};
use pattress_model::edit::Subject;
use pattress_model::kit::Kind;
use pattress_model::kit::catalogue::catalogue;

use crate::window::command::{Command, TABLE};
use crate::window::intent::{Intent, Overlay, Selecting, Viewing};
use crate::window::jobs::Figures;
use crate::window::session::Session;
use crate::window::theme::{Theme, medium};
use crate::window::tool_choice::ToolChoice;
use crate::window::widgets::lines;
use crate::window::wording;

/// No more lines than this are shown: who sees more types on.
const MOST: usize = 60;

/// What is typed, and which line is picked.
#[derive(Default)]
pub struct State {
    typed: String,
    picked: usize,
    shipped: Vec<Kind>,
    /// What can be found, and the generations of plan and figures that it is of.
    all: Option<(Generations, Rc<Vec<Found>>)>,
}

/// The generation of the plan, that of its figures, and how many findings these have so far.
type Generations = (u64, Option<u64>, usize);

/// What a line leads to.
#[derive(Clone)]
enum Leads {
    To(Subject),
    Run(Command),
    Place(Box<Kind>),
    Finding(Subject),
}

/// One line of the finder.
#[derive(Clone)]
struct Found {
    sort: &'static str,
    title: String,
    more: String,
    leads: Leads,
}

/// Shows the finder.
pub fn ui(
    ui: &mut Ui,
    session: &Session,
    figures: &Figures,
    state: &mut State,
    fresh: bool,
    theme: &Theme,
) -> Vec<Intent> {
    if fresh {
        state.typed.clear();
        state.picked = 0;
        if state.shipped.is_empty() {
            state.shipped = catalogue().into_iter().map(|entry| entry.kind).collect();
        }
    }
    let step = steps(ui);
    let field = lines::search_field(
        ui,
        &mut state.typed,
        "Find anything",
        "A tag, a name, a room, a rule, a kind or a command",
    );
    let nobody_types = ui.memory(|memory| memory.focused().is_none());
    if fresh || (nobody_types && !field.lost_focus()) {
        field.request_focus();
    }
    if field.changed() {
        state.picked = 0;
    }
    let found = found(session, figures, state);
    let last = found.len().saturating_sub(1);
    state.picked = state.picked.saturating_add_signed(step).min(last);
    let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let mut chosen = if entered { found.get(state.picked) } else { None };
    ui.add_space(6.0);
    lines::thin_rule(ui, theme);
    let tallest = (ui.ctx().content_rect().height() - 200.0).min(440.0);
    ScrollArea::vertical().max_height(tallest).min_scrolled_height(tallest).auto_shrink(false).show(
        ui,
        |ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for (index, each) in found.iter().enumerate() {
                let picked = index == state.picked;
                let response = found_line(ui, each, picked, theme);
                if picked && step != 0 {
                    response.scroll_to_me(None);
                }
                if response.clicked() {
                    chosen = Some(each);
                }
            }
            if found.is_empty() {
                lines::nothing(
                    ui,
                    theme,
                    "Nothing on the plan, in the Kit or among the commands is called that.",
                );
            }
        },
    );
    chosen.map_or_else(Vec::new, |found| follow(found.leads.clone()))
}

/// How far the arrow keys move the pick; they are taken from the text field, which has no use for them.
fn steps(ui: &mut Ui) -> isize {
    ui.input_mut(|input| {
        let down = input.count_and_consume_key(Modifiers::NONE, Key::ArrowDown) as isize;
        let up = input.count_and_consume_key(Modifiers::NONE, Key::ArrowUp) as isize;
        down - up
    })
}

fn follow(leads: Leads) -> Vec<Intent> {
    let mut intents = vec![Intent::CloseOverlay];
    match leads {
        Leads::To(Subject::Level(level)) => intents.push(Intent::View(Viewing::Level(level))),
        Leads::To(subject) => {
            intents.push(Intent::View(Viewing::Bring(subject)));
            intents.push(Intent::Select(Selecting::Only(vec![subject])));
        }
        Leads::Finding(Subject::Site) => intents.push(Intent::Open(Overlay::Site)),
        Leads::Finding(subject) => return follow(Leads::To(subject)),
        Leads::Run(command) => intents.push(Intent::Run(command)),
        Leads::Place(kind) => intents.push(Intent::TakeUp(ToolChoice::Place(kind))),
    }
    intents
}

fn found_line(ui: &mut Ui, found: &Found, picked: bool, theme: &Theme) -> egui::Response {
    let line = lines::line(ui, theme, picked, |ui| {
        ui.horizontal(|ui| {
            ui.set_min_height(18.0);
            lines::cell(ui, theme, found.sort, 11.0, 64.0);
            ui.label(RichText::new(&found.title).family(medium()));
            if !found.title.contains(&found.more) {
                ui.add(Label::new(RichText::new(&found.more).size(12.0).color(theme.quiet)).truncate());
            }
        });
    });
    let id = ui.scope_id().with(("found", found.sort, &found.title));
    let response = ui.interact(line.response.rect, id, Sense::CLICK);
    let name = format!("{} {}", found.sort, found.title);
    response.widget_info(|| WidgetInfo::selected(Role::ListBoxOption, true, picked, &name));
    response
}

/// Everything that answers to what is typed, the best first.
fn found(session: &Session, figures: &Figures, state: &mut State) -> Vec<Found> {
    let wanted = state.typed.trim().to_lowercase();
    let now = (session.generation(), figures.generation, figures.findings.len());
    let known = state.all.as_ref().filter(|(of, _)| *of == now).map(|(_, all)| Rc::clone(all));
    // A house has rules by the thousand: they are put into words once, not in every frame.
    let everything = known.unwrap_or_else(|| {
        let all = Rc::new(everything(session, figures, &state.shipped));
        state.all = Some((now, Rc::clone(&all)));
        all
    });
    let mut all: Vec<(u8, &Found)> =
        everything.iter().filter_map(|found| Some((rank(found, &wanted)?, found))).collect();
    all.sort_by_key(|(rank, _)| *rank);
    all.truncate(MOST);
    all.into_iter().map(|(_, found)| found.clone()).collect()
}

/// How well a line answers: 0 is best, `None` not at all.
fn rank(found: &Found, wanted: &str) -> Option<u8> {
    if wanted.is_empty() {
        return matches!(found.leads, Leads::Run(_)).then_some(0);
    }
    let title = found.title.to_lowercase();
    if title.starts_with(wanted) {
        return Some(0);
    }
    if title.contains(wanted) {
        return Some(1);
    }
    let all = format!("{} {title} {}", found.sort, found.more.to_lowercase());
    wanted.split_whitespace().all(|part| all.contains(part)).then_some(2)
}

fn everything(session: &Session, figures: &Figures, shipped: &[Kind]) -> Vec<Found> {
    let project = session.project();
    let subjects = project
        .devices
        .ids()
        .map(Subject::Device)
        .chain(project.rooms.ids().map(Subject::Room))
        .chain(project.zones.ids().map(Subject::Zone))
        .chain(project.rules.ids().map(Subject::Rule))
        .chain(project.levels.ids().map(Subject::Level));
    let mut all: Vec<Found> = subjects
        .map(|subject| Found {
            sort: subject.sort(),
            title: match subject {
                Subject::Level(id) => {
                    project.levels.get(id).map_or(String::new(), |level| level.name.clone())
                }
                _ => wording::title(project, subject),
            },
            more: match subject {
                Subject::Level(_) => String::new(),
                _ => wording::more(project, subject),
            },
            leads: Leads::To(subject),
        })
        .collect();
    all.extend(TABLE.iter().map(|row| Found {
        sort: "command",
        title: row.label.to_owned(),
        more: row.tip.to_owned(),
        leads: Leads::Run(row.command),
    }));
    let own = project.kinds.iter().map(|(_, kind)| kind);
    let others = shipped.iter().filter(|kind| project.kinds.iter().all(|(_, own)| own.name != kind.name));
    all.extend(own.chain(others).map(|kind| Found {
        sort: "kind",
        title: kind.name.clone(),
        more: format!("{} · {}", kind.code, kind.family.name()),
        leads: Leads::Place(Box::new(kind.clone())),
    }));
    all.extend(figures.findings.iter().map(|finding| Found {
        sort: "finding",
        title: finding.severity.name().to_owned(),
        more: finding.sentence.clone(),
        leads: Leads::Finding(finding.subject),
    }));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_starts_so_comes_before_what_only_holds_it() {
        let line = |title: &str, more: &str| Found {
            sort: "device",
            title: title.to_owned(),
            more: more.to_owned(),
            leads: Leads::To(Subject::Site),
        };
        for (title, more, wanted, rank_wanted) in [
            ("PL-02  Hall", "Plate", "pl-02", Some(0)),
            ("PL-02  Hall", "Plate", "hall", Some(1)),
            ("PL-02  Hall", "Plate", "plate device", Some(2)),
            ("PL-02  Hall", "Plate", "kitchen", None),
            ("PL-02  Hall", "Plate", "", None),
        ] {
            assert_eq!(rank(&line(title, more), wanted), rank_wanted, "{wanted}");
        }
    }
}
