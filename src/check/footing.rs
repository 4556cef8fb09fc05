//! Which pages a score is judged on: those that its files record, or a forecast.

use super::CheckError;
use crate::casting_off::{self, Basis, ExpectedErrors, House, Sheet, Staves, Wishes};
use crate::guidelines::{HouseChoices, SilentStaves};
use crate::layout::{Layout, Record};
use crate::metrics::Metrics;
use crate::paper::Paper;
use crate::reference::Reference;
use crate::score::Score;
use crate::units::Mm;

/// What is asked of the pages.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Asked {
    /// Forget the breaks that the files record.
    pub forecast: bool,
    /// Forget where pages begin, keep the systems.
    pub keep_systems: bool,
    /// What becomes of silent staves in a forecast or proposal; the house's choice when `None`.
    pub staves: Option<Staves>,
    /// By name or size; asks for a forecast.
    pub paper: Option<String>,
    /// On all four sides; asks for a forecast.
    pub margins: Option<Mm>,
    /// Of a five-line staff; asks for a forecast.
    pub staff_height: Option<Mm>,
    /// Papers and staff heights side by side.
    pub what_if: bool,
}

/// The pages at hand, and what they rest on.
pub(super) struct Footing {
    pub layout: Layout,
    pub record: Record,
    pub house: House,
    /// The same with the gaps that it fills pages with.
    pub filling: House,
    pub is_forecast: bool,
    /// How far such forecasts were off.
    pub expected: Option<ExpectedErrors>,
}

/// Staves lower or higher than this are a slip of the pen.
pub(super) const STAVES: (Mm, Mm) = (Mm(1.0), Mm(20.0));
/// A margin wider than this is one as well.
pub(super) const WIDEST_MARGIN: Mm = Mm(200.0);

impl Asked {
    /// The sheet that is asked for.
    pub(super) fn sheet(&self) -> Result<Sheet, Vec<CheckError>> {
        let mut errors = Vec::new();
        let paper = self.paper.as_deref().and_then(|name| {
            let paper = Paper::find(name);
            if paper.is_none() {
                errors.push(CheckError::UnknownPaper(name.to_owned()));
            }
            paper.map(|paper| (paper.width, paper.height))
        });
        if let Some(height) = self.staff_height.filter(|height| !(STAVES.0 <= *height && *height <= STAVES.1)) {
            errors.push(CheckError::StaffHeight(height));
        }
        if let Some(margin) = self.margins.filter(|margin| !(Mm::ZERO <= *margin && *margin <= WIDEST_MARGIN)) {
            errors.push(CheckError::Margins(margin));
        }
        if errors.is_empty() {
            Ok(Sheet { paper, margins: self.margins, staff_height: self.staff_height })
        } else {
            Err(errors)
        }
    }

    fn wants_forecast(&self) -> bool {
        self.forecast
            || self.keep_systems
            || self.paper.is_some()
            || self.margins.is_some()
            || self.staff_height.is_some()
    }
}

/// What other pages than the files' own are to be like.
pub(super) struct Wanted<'a> {
    pub like: Option<&'a Reference>,
    pub asked: &'a Asked,
    pub sheet: &'a Sheet,
}

impl Footing {
    /// The printed pages, or the recorded ones, unless a forecast is asked for or no break is recorded at all. A forecast, and what is
    /// proposed, follow the layout that is named with `like`; without one, the score's own recorded pages.
    ///
    /// # Errors
    /// No room for music between the margins that are asked for.
    pub fn find(
        score: &Score,
        metrics: &Metrics,
        record: Record,
        house: House,
        wanted: &Wanted<'_>,
        printed: Option<Layout>,
    ) -> Result<Footing, CheckError> {
        let Wanted { like, asked, sheet } = *wanted;
        let mut layout = printed.unwrap_or_else(|| casting_off::pages(score, metrics, &record, &house));
        let told = layout.tells_pages();
        let own_force = casting_off::natural_force(score, &layout, &metrics.spacing);
        let mut own = House { natural_force: own_force.unwrap_or(house.natural_force), ..house };
        if told {
            own.staves = Staves::by_habit(score, &layout);
        }
        let mut house = like.map_or_else(|| own.clone(), |theirs| theirs.house(&own));
        house.staves = asked.staves.unwrap_or(house.staves);
        // Gaps as the recorded pages are filled with them; the proposal weighs gaps for itself.
        let basis = Basis { score, metrics, record: &record, pages: &layout, house: &house };
        let fills = !told || asked.wants_forecast() || asked.what_if;
        let spread = (fills && like.is_none()).then(|| casting_off::natural_spread(&basis, |_| true)).flatten();
        let spread = spread.unwrap_or(1.0);
        if told && !asked.wants_forecast() {
            casting_off::tell_stretch(&mut layout, &metrics.spacing, own.natural_force);
            let filling = house.clone().spread(spread);
            return Ok(Footing { layout, record, house, filling, is_forecast: false, expected: None });
        }
        let wishes = if asked.keep_systems { Wishes::keeping_systems(&layout) } else { Wishes::default() };
        let record = casting_off::on_sheet(&record, sheet, score);
        if asked.staff_height.is_none() && record.staff_heights.iter().all(Option::is_none) {
            // Nobody chose these staves: an estimate that runs over its pages tells nothing.
            let basis = Basis { score, metrics, record: &record, pages: &layout, house: &house };
            house.staff_height = casting_off::staves_that_fit(&basis).unwrap_or(house.staff_height);
        }
        let filling = house.clone().spread(spread);
        let basis = Basis { score, metrics, record: &record, pages: &layout, house: &filling };
        let layout = match casting_off::forecast(&basis, &wishes) {
            Some(forecast) => forecast,
            None if asked.wants_forecast() && !score.bars.is_empty() => return Err(CheckError::NoRoom),
            None => layout,
        };
        let expected = ExpectedErrors::of_forecast(own_force.is_some() || like.is_some());
        Ok(Footing { layout, record, house, filling, is_forecast: true, expected })
    }
}

/// What the house's choices say of pages that the files do not record; the rest is the casting off's own habit.
pub(super) fn house(choices: &HouseChoices) -> House {
    let habits = House::default();
    let paper = choices.score_paper.value.as_ref().map_or(habits.paper, |paper| (paper.width, paper.height));
    let staves = match choices.silent_staves.value {
        SilentStaves::LeftOut => Staves::Playing,
        SilentStaves::Kept => Staves::Full,
    };
    House { paper, staff_height: choices.score_staff.value, staves, ..habits }
}
