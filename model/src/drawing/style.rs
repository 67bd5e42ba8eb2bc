//! Line weights, hatches and lettering by role: the draughtsman's table.
//!
//! Widths come from the ISO 128 series (0.13, 0.18, 0.25, 0.35, 0.5, 0.7 mm); which is used where is common
//! practice, no published source. Colours of paper are given here, those of the screen in the window's theme,
//! by the same roles.

use super::Role;

/// An sRGB colour with opacity, 0 to 255 each.
pub type Rgba = [u8; 4];

/// Lines drawn across a filled area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hatch {
    /// Direction of the lines from +x, degrees.
    pub degrees: f64,
    /// Distance between lines, mm on paper.
    pub spacing_mm: f64,
    /// Width of the lines, mm on paper.
    pub width_mm: f64,
}

/// How a role is drawn on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Colour of lines, hatch and text.
    pub ink: Rgba,
    /// Width of lines, mm on paper; zero for none.
    pub width_mm: f64,
    /// Dash and gap, mm on paper; `None` for a continuous line.
    pub dash_mm: Option<[f64; 2]>,
    /// Colour of the area; `None` for none.
    pub fill: Option<Rgba>,
    /// Hatch of the area.
    pub hatch: Option<Hatch>,
}

const BLACK: Rgba = [24, 26, 28, 255];
const GREY: Rgba = [96, 100, 104, 255];
const PALE: Rgba = [168, 172, 176, 255];
const WHITE: Rgba = [255, 255, 255, 255];
const RED: Rgba = [176, 32, 24, 255];
/// What is so only now, while the rules are played.
const LIVE: Rgba = [14, 84, 104, 255];

const fn line(ink: Rgba, width_mm: f64) -> Style {
    Style { ink, width_mm, dash_mm: None, fill: None, hatch: None }
}

const fn lettering(ink: Rgba) -> Style {
    line(ink, 0.0)
}

const fn area(ink: Rgba, width_mm: f64, fill: Rgba, hatch: Option<Hatch>) -> Style {
    Style { ink, width_mm, dash_mm: None, fill: Some(fill), hatch }
}

const fn hatched(ink: Rgba, hatch: Option<Hatch>) -> Style {
    Style { ink, width_mm: 0.0, dash_mm: None, fill: None, hatch }
}

const fn dashed(style: Style, dash_mm: [f64; 2]) -> Style {
    Style { dash_mm: Some(dash_mm), ..style }
}

const fn hatch(degrees: f64, spacing_mm: f64, width_mm: f64) -> Option<Hatch> {
    Some(Hatch { degrees, spacing_mm, width_mm })
}

/// The style of a role on paper.
///
/// Coverage hues are from the Okabe–Ito set, which people with any common colour vision can tell apart; the
/// hatch direction says the same again without colour.
pub const fn style_of(role: Role) -> Style {
    match role {
        Role::WallMasonry => area(BLACK, 0.5, [214, 214, 212, 255], hatch(45.0, 1.2, 0.13)),
        Role::WallBlock => area(BLACK, 0.5, [224, 224, 222, 255], hatch(135.0, 1.8, 0.13)),
        Role::WallStud => area(BLACK, 0.35, [236, 236, 234, 255], None),
        Role::WallGlazed => area(GREY, 0.25, [226, 238, 244, 255], None),
        Role::WindowLine => line(BLACK, 0.18),
        Role::DoorLeaf => area(BLACK, 0.25, WHITE, None),
        Role::DoorSwing => line(GREY, 0.13),
        Role::RoomLine => dashed(line(GREY, 0.18), [5.0, 1.5]),
        Role::JoineryLow => area(GREY, 0.18, [248, 247, 244, 255], None),
        Role::JoineryHigh => dashed(line(GREY, 0.18), [1.5, 0.8]),
        Role::Ghost => line([188, 192, 200, 255], 0.13),
        Role::RoomName => lettering([70, 74, 78, 255]),
        Role::RoomNote => lettering(GREY),
        Role::Spot => area([86, 60, 110, 255], 0.25, WHITE, None),
        Role::SpotName => lettering([86, 60, 110, 255]),
        Role::Walk => dashed(line([86, 60, 110, 255], 0.25), [2.5, 1.2]),
        Role::WalkHead => area([86, 60, 110, 255], 0.13, [86, 60, 110, 255], None),
        Role::SiteBoundary => dashed(line(GREY, 0.35), [4.0, 1.2]),
        Role::CoverageHeat => area([0, 114, 178, 230], 0.25, [0, 114, 178, 26], hatch(60.0, 4.0, 0.13)),
        Role::CoverageMicrowave => {
            area([148, 70, 124, 230], 0.25, [204, 121, 167, 30], hatch(90.0, 4.0, 0.13))
        }
        Role::CoverageCamera => area([0, 118, 86, 230], 0.25, [0, 158, 115, 26], hatch(0.0, 4.0, 0.13)),
        Role::CoverageSound => area([128, 100, 0, 230], 0.25, [230, 159, 0, 30], hatch(30.0, 4.0, 0.13)),
        Role::CoverageFire => dashed(area([170, 66, 0, 230], 0.25, [213, 94, 0, 18], None), [2.0, 1.0]),
        // The hatch of a camera's coverage with more lines between its own: on the same grid, closer with detail.
        Role::CameraBandMiddle => hatched([0, 118, 86, 230], hatch(0.0, 2.0, 0.13)),
        Role::CameraBandFine => hatched([0, 118, 86, 230], hatch(0.0, 1.0, 0.13)),
        Role::CameraLevelLine => line([0, 84, 62, 255], 0.35),
        Role::CameraLevelName => lettering([0, 84, 62, 255]),
        Role::ZoneLighting => dashed(area([138, 104, 0, 255], 0.25, [240, 200, 60, 46], None), [3.0, 1.2]),
        Role::ZoneOther => dashed(area([86, 90, 110, 255], 0.25, [120, 130, 170, 30], None), [1.2, 1.2]),
        Role::ZoneTie => line([138, 104, 0, 200], 0.18),
        Role::Symbol => area(BLACK, 0.35, WHITE, None),
        Role::SymbolSolid => area(BLACK, 0.18, BLACK, None),
        Role::SymbolCode => lettering(BLACK),
        Role::SymbolFire => area(RED, 0.35, WHITE, None),
        Role::Tag => lettering(BLACK),
        Role::TagNote => lettering(GREY),
        Role::Leader => line(GREY, 0.13),
        Role::Missing => line(RED, 0.25),
        Role::Dimension => line([60, 64, 68, 255], 0.13),
        Role::DimensionText => lettering(BLACK),
        Role::PaperEdge => line(PALE, 0.13),
        Role::FrameLine => line(BLACK, 0.7),
        Role::TableLine => line(BLACK, 0.18),
        Role::Heading => lettering(BLACK),
        Role::Body => lettering(BLACK),
        Role::SmallPrint => lettering(GREY),
        Role::Caution => lettering(RED),
        Role::Solid => area(BLACK, 0.18, BLACK, None),
        Role::FineLine => line(BLACK, 0.18),
        Role::Halo => area(WHITE, 0.0, WHITE, None),
        Role::Picture => lettering(BLACK),
        Role::Glow(light) => area(light, 0.0, light, None),
        Role::AtWork => line(LIVE, 0.35),
        Role::InAlarm => line(RED, 0.7),
        Role::NowWords => lettering(LIVE),
        Role::Travel => area(LIVE, 0.18, WHITE, None),
        Role::TravelShut => area(LIVE, 0.18, LIVE, None),
        Role::NowOpen => area(LIVE, 0.35, WHITE, None),
    }
}
