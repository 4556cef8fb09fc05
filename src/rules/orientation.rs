//! What eyes find their way by: names, numbers, running heads, rehearsal marks, tempo marks, the front page.

pub(super) mod bar_numbers_missing;
pub(super) mod front_page_incomplete;
pub(super) mod names_missing;
pub(super) mod page_number_misplaced;
pub(super) mod rehearsal_marks_by_the_ruler;
pub(super) mod rehearsal_marks_far_apart;
pub(super) mod rehearsal_marks_out_of_order;
pub(super) mod running_head_missing;
pub(super) mod tempo_mark_not_repeated;
pub(super) mod transposition_not_stated;
