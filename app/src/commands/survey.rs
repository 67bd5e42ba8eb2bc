//! `pattress survey`: an architect's drawing under a storey of a plan, to scale and straight, and traced if asked.
//!
//! The same as the window does at the table, for many drawings and for tests. What a trace finds enters the plan
//! as it is proposed, for that is what `--trace` says; the answer tells how much there is to look over.

mod building;
mod drawing;
mod storey;
mod wish;

use std::io::Write;
use std::path::PathBuf;

use clap::Args;
use pattress_model::edit::{Change, History};
use pattress_model::project::Project;
use pattress_model::store::Media;

use self::wish::Wish;
use super::{DONE, Stop};
use crate::survey::{Asked, Read, ReadError};

/// Whoever sets out from a drawing must know this.
const CAUTION: &str = "Check a second length on site: what is built goes before what is drawn.";

/// Arguments of `survey`.
#[derive(Clone, Debug, Default, Args)]
pub struct SurveyArguments {
    /// The drawing: PDF, SVG, PNG, JPEG, TIFF, WebP or IFC, whatever its name says
    pub drawing: PathBuf,
    /// The plan to write: NAME.pattress, or a folder; a plan that is there gains a storey named with --storey
    #[arg(long, value_name = "PLAN")]
    pub out: PathBuf,
    /// Page of a PDF, from 1
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..))]
    pub page: u32,
    /// What opens a PDF that is locked
    #[arg(long)]
    pub password: Option<String>,
    /// Drawing scale, 50 for 1:50; a page that states one scale needs none
    #[arg(long, conflicts_with_all = ["length", "corners"], allow_hyphen_values = true)]
    pub scale: Option<String>,
    /// Two points of the drawing and the length between them, such as 210,80,1590,80,11.71m
    #[arg(long, value_name = "X1,Y1,X2,Y2,LENGTH", conflicts_with = "corners", allow_hyphen_values = true)]
    pub length: Option<String>,
    /// Turn the drawing anticlockwise by so many degrees, or straighten it by itself
    #[arg(long, value_name = "auto|DEG", allow_hyphen_values = true)]
    pub turn: Option<String>,
    /// Corners of a rectangle in a photograph (upper left, upper right, lower right, lower left), its width and
    /// its depth
    #[arg(long, value_name = "X1,Y1,..,X4,Y4,W,H", allow_hyphen_values = true)]
    pub corners: Option<String>,
    /// Draw the walls, openings and rooms that the drawing shows
    #[arg(long)]
    pub trace: bool,
    /// Name of the storey; of an IFC model, the storey to take (may be given again)
    #[arg(long, value_name = "NAME")]
    pub storey: Vec<String>,
}

/// A plan while drawings are brought into it.
#[derive(Debug, Default)]
struct Surveyed {
    project: Project,
    media: Media,
    /// What there is to tell, a line each.
    told: Vec<String>,
}

impl Surveyed {
    /// Performs a change on the plan in hand.
    fn take_in(&mut self, change: Change) -> Result<(), Stop> {
        History::default()
            .apply(&mut self.project, change)
            .map_err(|refusal| Stop::not_done(refusal.sentence))
    }

    fn tell(&mut self, line: impl Into<String>) {
        self.told.push(line.into());
    }
}

/// Reads the drawing, brings it into the plan, writes the plan and tells what was found.
///
/// # Errors
/// A command line that makes no sense, a drawing or a plan that cannot be read, a plan that cannot be written.
pub fn survey(arguments: &SurveyArguments, out: &mut dyn Write) -> Result<u8, Stop> {
    let wish = Wish::of(arguments)?;
    let bytes = crate::files::read_drawing(&arguments.drawing).map_err(Stop::unreadable)?;
    let mut plan = storey::plan_to_add_to(arguments)?;
    let name = wish.name.as_str();
    let asked = Asked { page: arguments.page, password: arguments.password.clone() };
    match crate::survey::read(name, bytes.clone(), &asked, &|_| true).map_err(|error| unread(&error))? {
        Read::Building => building::bring_in(&mut plan, &wish, &bytes)?,
        Read::Page(read) => drawing::lay_page(&mut plan, &wish, bytes, read)?,
        Read::Picture(read) => drawing::lay_picture(&mut plan, &wish, read)?,
    }
    crate::files::save(&arguments.out, &plan.project, &plan.media).map_err(Stop::not_done)?;
    for line in &plan.told {
        writeln!(out, "{line}")?;
    }
    writeln!(out, "{CAUTION}")?;
    writeln!(out, "{}", arguments.out.display())?;
    Ok(DONE)
}

fn unread(error: &ReadError) -> Stop {
    match error {
        ReadError::PasswordNeeded { file } => {
            Stop::unreadable(format!("“{file}” is locked with a password: give it with --password"))
        }
        _ => Stop::unreadable(error),
    }
}
