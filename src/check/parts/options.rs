//! What is asked of the players' parts.

use crate::casting_off::part::{Binding, Stand};
use crate::check::footing::{STAVES, WIDEST_MARGIN};
use crate::check::{AcceptedFile, CheckError, PagesFile};
use crate::geometry::Margins;
use crate::guidelines::{HouseChoices, Request};
use crate::layout::Side;
use crate::limits::Limits;
use crate::paper::Paper;
use crate::players::{Hands, Player};
use crate::reference::Reference;
use crate::units::Mm;

/// What the parts are held against, and how they shall lie on the stand.
#[derive(Clone, Debug, Default)]
pub struct PartsOptions {
    pub guidelines: Request,
    /// Which staves make which part, where that is not left to the score.
    pub list: Option<PartsListFile>,
    /// Parts to look at, by name; all when empty.
    pub only: Vec<String>,
    pub bound: Binding,
    /// The side that the music starts on; the better one when `None`.
    pub starts: Option<Side>,
    /// By name or size; the house's choice when `None`.
    pub paper: Option<String>,
    /// On all four sides.
    pub margins: Option<Mm>,
    /// Of a five-line staff; the house's choice when `None`.
    pub staff_height: Option<Mm>,
    /// A layout whose paper, margins, staves and spacing they follow where nothing else is asked for.
    pub like: Option<Reference>,
    /// Findings that may stay.
    pub accepted: Option<AcceptedFile>,
    /// Printed pages of parts, each with the name of its part; they are looked at in place of recorded ones.
    pub pages: Vec<(String, PagesFile)>,
    pub limits: Limits,
}

/// A parts list as its file has it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PartsListFile {
    /// As messages shall name it.
    pub name: String,
    pub text: String,
}

/// Parts have wider margins than scores: Major Orchestra Librarians' Association, Guidelines for Music Preparation
/// (2017), as quoted.
const MARGINS: Mm = Mm(20.0);
/// Of two players at one desk, and of those who stand away from it: Kriterien für Orchester-Notenmaterial, section 5
/// (strings, harp, timpani and percussion 8 to 8.5 mm).
const SHARED_STAFF: Mm = Mm(8.0);

/// The options, understood.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::check) struct Stands {
    bound: Binding,
    starts: Option<Side>,
    paper: Option<(Mm, Mm)>,
    margins: Margins,
    staff_height: Option<Mm>,
    natural_force: f64,
}

impl Stands {
    /// # Errors
    /// Everything that cannot be.
    pub fn of(options: &PartsOptions) -> Result<Stands, Vec<CheckError>> {
        let mut errors = Vec::new();
        let paper = options.paper.as_deref().and_then(|name| {
            let paper = Paper::find(name);
            if paper.is_none() {
                errors.push(CheckError::UnknownPaper(name.to_owned()));
            }
            paper.map(|paper| (paper.width, paper.height))
        });
        if let Some(height) = options.staff_height.filter(|height| !(STAVES.0 <= *height && *height <= STAVES.1)) {
            errors.push(CheckError::StaffHeight(height));
        }
        if let Some(margin) = options.margins.filter(|margin| !(Mm::ZERO <= *margin && *margin <= WIDEST_MARGIN)) {
            errors.push(CheckError::Margins(margin));
        }
        if !errors.is_empty() {
            return Err(errors);
        }
        let like = options.like.as_ref();
        let even = |side| Margins { left: side, right: side, top: side, bottom: side };
        let margins = options.margins.map(even).or(like.and_then(|like| like.recto.or(like.verso)));
        Ok(Stands {
            bound: options.bound,
            starts: options.starts,
            paper: paper.or(like.and_then(|like| like.page)),
            margins: margins.unwrap_or_else(|| even(MARGINS)),
            staff_height: options.staff_height.or(like.and_then(|like| like.staff_height)),
            natural_force: like.and_then(Reference::natural_force).unwrap_or(NATURAL_FORCE),
        })
    }

    /// For one player.
    pub fn stand(&self, player: &Player, house: &HouseChoices) -> Stand {
        let chosen = house.part_paper.value.as_ref().map(|paper| (paper.width, paper.height));
        let shares = matches!(player.hands, Hands::Section | Hands::Timpani | Hands::Percussion | Hands::Harp);
        let usual = if shares { house.part_staff.value.max(SHARED_STAFF) } else { house.part_staff.value };
        Stand {
            binding: self.bound,
            paper: self.paper.or(chosen).unwrap_or(JIS_B4),
            margins: self.margins,
            staff_height: self.staff_height.unwrap_or(usual),
            natural_force: self.natural_force,
            starts: self.starts,
            headed: true,
        }
    }
}

/// Parts are set closer than scores, whose columns many staves widen: with this force 28 engraved parts of quartets come
/// out as long as they are (accuracy program).
const NATURAL_FORCE: f64 = 0.73;
/// JIS P 0138.
const JIS_B4: (Mm, Mm) = (Mm(257.0), Mm(364.0));
