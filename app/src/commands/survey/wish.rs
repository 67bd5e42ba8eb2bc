//! What the command line asks of a drawing, understood before any file is read.

use kurbo::Point;
use pattress_model::survey::scale::Scale;
use pattress_model::units::{Angle, Length};

use super::SurveyArguments;
use crate::commands::Stop;
use crate::survey::Corners;

/// What the scale is to be taken from.
#[derive(Clone, Debug, PartialEq)]
pub enum ScaleWish {
    /// What the drawing says of itself.
    AsStated,
    /// 1 to so many on paper.
    Drawn(f64),
    /// Two points of the drawing, its own units, and how far they are apart.
    Between(Point, Point, Length),
    /// A rectangle in a photograph.
    Corners(Corners),
}

/// How the drawing is to be turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TurnWish {
    /// Anticlockwise by this.
    By(Angle),
    /// So that most of its lines run level and upright.
    Straight,
}

/// The command line, understood.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// The drawing's file, for people.
    pub name: String,
    /// Which page of it.
    pub page: u32,
    /// What opens it, where it is locked.
    pub password: Option<String>,
    /// Its scale.
    pub scale: ScaleWish,
    /// Its turn.
    pub turn: TurnWish,
    /// Whether walls, openings and rooms are drawn from it.
    pub trace: bool,
    /// Storeys named.
    pub storeys: Vec<String>,
}

impl Wish {
    /// Understands the arguments.
    ///
    /// # Errors
    /// The first that makes no sense, with what would do.
    pub fn of(arguments: &SurveyArguments) -> Result<Self, Stop> {
        let name = arguments.drawing.file_name();
        Ok(Self {
            name: name.map_or_else(String::new, |name| name.to_string_lossy().into_owned()),
            page: arguments.page,
            password: arguments.password.clone(),
            scale: scale_of(arguments)?,
            turn: turn_of(arguments.turn.as_deref())?,
            trace: arguments.trace,
            storeys: arguments.storey.iter().map(|name| name.trim().to_owned()).collect(),
        })
    }
}

fn scale_of(arguments: &SurveyArguments) -> Result<ScaleWish, Stop> {
    if let Some(text) = &arguments.scale {
        let refusal = || Stop::unreadable(format!("--scale {text} is no scale: give 50 for 1:50"));
        let denominator: f64 = text.trim().trim_start_matches("1:").parse().map_err(|_| refusal())?;
        Scale::told(denominator).map_err(|_| refusal())?;
        return Ok(ScaleWish::Drawn(denominator));
    }
    if let Some(text) = &arguments.length {
        let form = "give X1,Y1,X2,Y2,LENGTH, such as 210,80,1590,80,11.71m";
        let (figures, lengths) = listed("--length", text, 4, 1, form)?;
        let (first, second) = (Point::new(figures[0], figures[1]), Point::new(figures[2], figures[3]));
        Scale::between(first, second, lengths[0])
            .map_err(|sentence| Stop::unreadable(format!("--length {text}: {sentence}")))?;
        return Ok(ScaleWish::Between(first, second, lengths[0]));
    }
    if let Some(text) = &arguments.corners {
        let form = "give the upper left, upper right, lower right and lower left corner, width and depth: \
                    X1,Y1,X2,Y2,X3,Y3,X4,Y4,W,H";
        let (figures, lengths) = listed("--corners", text, 8, 2, form)?;
        let at = [0, 2, 4, 6].map(|first| Point::new(figures[first], figures[first + 1]));
        let corners = Corners { at, width: lengths[0], depth: lengths[1] };
        corners.check().map_err(|sentence| Stop::unreadable(format!("--corners {text}: {sentence}")))?;
        return Ok(ScaleWish::Corners(corners));
    }
    Ok(ScaleWish::AsStated)
}

/// So many figures, then so many lengths, with commas between them.
fn listed(
    option: &str,
    text: &str,
    figures: usize,
    lengths: usize,
    form: &str,
) -> Result<(Vec<f64>, Vec<Length>), Stop> {
    let refusal = || Stop::unreadable(format!("{option} {text} can't be read: {form}"));
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    if parts.len() != figures + lengths {
        return Err(refusal());
    }
    let (first, last) = parts.split_at(figures);
    let read = |part: &&str| part.parse::<f64>().ok().filter(|figure| figure.is_finite()).ok_or_else(refusal);
    let figures = first.iter().map(read).collect::<Result<_, _>>()?;
    let lengths = last
        .iter()
        .map(|part| Length::parse(part).map_err(|sentence| Stop::unreadable(format!("{option}: {sentence}"))))
        .collect::<Result<_, _>>()?;
    Ok((figures, lengths))
}

fn turn_of(text: Option<&str>) -> Result<TurnWish, Stop> {
    match text.map(str::trim) {
        None => Ok(TurnWish::By(Angle::ZERO)),
        Some("auto") => Ok(TurnWish::Straight),
        Some(degrees) => match degrees.parse::<f64>() {
            Ok(degrees) if degrees.is_finite() => Ok(TurnWish::By(Angle::degrees(degrees))),
            _ => Err(Stop::unreadable(format!(
                "--turn {degrees} is no turn: give degrees anticlockwise, such as 1.4, or auto"
            ))),
        },
    }
}
