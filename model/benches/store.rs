//! How long a plan of 1,000 walls and 2,000 devices takes to be written and read.
//!
//! The plan is drawn here: forty rows of walls, two devices on each wall, all of one kind. The target is
//! 100 ms each way in a release build.

use divan::{Bencher, black_box};
use kurbo::Point;
use pattress_model::edit::{Change, History, Op};
use pattress_model::id::Id;
use pattress_model::kit::{Device, Family, Kind, Mount, MountKind, Supply, Symbol, Tag};
use pattress_model::plan::{MakeUp, Side, Wall};
use pattress_model::project::Project;
use pattress_model::store::{read_project, write_project};
use pattress_model::units::{Angle, Length, Money};

fn main() {
    divan::main();
}

fn large_house() -> Project {
    let mut project = Project::new();
    let Some(level) = project.levels.ids().next() else { return project };
    let mut ids = project.fresh_ids();
    let kind: Id<Kind> = ids.issue();
    let mut ops = vec![Op::put(kind, detector())];
    for row in 0..1000_u32 {
        let wall: Id<Wall> = ids.issue();
        let start = Point::new(f64::from(row % 25) * 4000.3, f64::from(row / 25) * 3000.7);
        ops.push(Op::put(
            wall,
            Wall {
                level,
                start,
                end: Point::new(start.x + 3600.1, start.y + 0.4),
                thickness: Length::mm(102.5),
                height: Length::mm(2400.0),
                make_up: MakeUp::Stud,
            },
        ));
        for (number, side) in [(2 * row + 1, Side::Left), (2 * row + 2, Side::Right)] {
            let device = Device {
                kind,
                level,
                tag: Tag { code: "PIR".to_owned(), number },
                name: String::new(),
                mount: Mount::WallFace { wall, side, along: Length::mm(1200.5) },
                height_affl: Some(Length::mm(2300.0)),
                turn: Angle::degrees(-12.5),
                tilt: Angle::ZERO,
                note: String::new(),
                legend: Default::default(),
            };
            ops.push(Op::put(ids.issue(), device));
        }
    }
    if let Err(refusal) = History::default().apply(&mut project, Change::new("Draw", ops)) {
        println!("the large house is not sound: {refusal}");
    }
    project
}

fn detector() -> Kind {
    Kind {
        default_height: Some(Length::mm(2300.0)),
        supply: Supply::Battery,
        price: Money::whole(40),
        minutes: 20,
        ..Kind::bare(
            "Wall motion detector",
            Family::Intrusion,
            "PIR",
            Symbol::CodeInHalfCircle,
            MountKind::Wall,
        )
    }
}

#[divan::bench]
fn write(bencher: Bencher<'_, '_>) {
    let house = large_house();
    assert_eq!((house.walls.len(), house.devices.len()), (1000, 2000));
    bencher.bench_local(|| write_project(black_box(&house)));
}

#[divan::bench]
fn read(bencher: Bencher<'_, '_>) {
    let text = write_project(&large_house());
    bencher.bench_local(|| read_project(black_box(&text)));
}
