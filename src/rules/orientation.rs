//! What eyes find their way by: names, numbers, running heads, rehearsal marks, tempo marks, the front page.

mod bar_numbers_missing;
mod front_page_incomplete;
mod marks;
mod names_missing;
mod page_number_misplaced;
mod rehearsal_marks_by_the_ruler;
mod rehearsal_marks_far_apart;
mod rehearsal_marks_out_of_order;
mod running_head_missing;
mod tempo_mark_not_repeated;
mod transposition_not_stated;

pub(super) use bar_numbers_missing::BarNumbersMissing;
pub(super) use front_page_incomplete::FrontPageIncomplete;
pub(super) use names_missing::NamesMissing;
pub(super) use page_number_misplaced::PageNumberMisplaced;
pub(super) use rehearsal_marks_by_the_ruler::RehearsalMarksByTheRuler;
pub(super) use rehearsal_marks_far_apart::RehearsalMarksFarApart;
pub(super) use rehearsal_marks_out_of_order::RehearsalMarksOutOfOrder;
pub(super) use running_head_missing::RunningHeadMissing;
pub(super) use tempo_mark_not_repeated::TempoMarkNotRepeated;
pub(super) use transposition_not_stated::TranspositionNotStated;
