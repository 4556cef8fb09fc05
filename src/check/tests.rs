use super::*;
use crate::layout::Origin;
use crate::units::Mm;

/// One player, two bars, nothing said of pages.
const SOLO: &str = "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Flute</part-name>\
    </score-part></part-list><part id=\"P1\"><measure number=\"1\"><attributes><divisions>1</divisions></attributes>\
    <note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration></note></measure><measure number=\"2\">\
    <note><rest/><duration>4</duration></note></measure></part></score-partwise>";

struct Heard(Vec<Stage>);

impl Watch for Heard {
    fn begins(&mut self, stage: Stage) {
        self.0.push(stage);
    }
}

fn inputs() -> [Input<'static>; 1] {
    [Input { name: "solo.musicxml", bytes: SOLO.as_bytes() }]
}

fn changed(change: &str) -> Options {
    let guidelines = Request { changes: vec![change.to_owned()], ..Request::default() };
    Options { guidelines, ..Options::default() }
}

#[test]
fn each_stage_is_told_once_and_in_order() {
    let mut heard = Heard(Vec::new());
    let checked = check(&inputs(), &Options::default(), &mut heard).unwrap();
    assert_eq!(
        heard.0,
        [Stage::Reading, Stage::CastingOff, Stage::Comparing, Stage::Surveying, Stage::Proposing, Stage::Judging]
    );
    assert_eq!(checked.score.bars.len(), 2);
    assert!(!checked.ran.is_empty());
}

#[test]
fn pages_that_are_not_recorded_are_estimated_on_the_houses_paper() {
    let checked = check(&inputs(), &changed("house.score-paper=A4"), &mut Unwatched).unwrap();
    let size = checked.layout.pages[0].size;
    assert_eq!((size.value, size.origin), ((Mm(210.0), Mm(297.0)), Origin::Estimated));
}

#[test]
fn the_paper_named_for_printing_counts_before_the_houses() {
    let mut options = changed("house.print-scores-on=A3");
    let paper = |options: &Options| check(&inputs(), options, &mut Unwatched).unwrap().print_on.map(|paper| paper.name);
    assert_eq!(paper(&options).as_deref(), Some("A3"));
    options.print_on = Some("letter".to_owned());
    assert_eq!(paper(&options).as_deref(), Some("8.5 x 11 in"));
    assert_eq!(paper(&Options::default()), None);
}

#[test]
fn troubles_of_options_and_files_are_told_together() {
    let options = Options {
        print_on: Some("foolscap".to_owned()),
        accepted: Some(AcceptedFile { name: "a.toml".to_owned(), text: "[[accepted]]\n".to_owned() }),
        ..changed("nothing=1")
    };
    let errors = check(&[Input { name: "letter", bytes: b"Dear" }], &options, &mut Unwatched).unwrap_err();
    let kinds = |error: &CheckError| match error {
        CheckError::Guidelines(_) => 'g',
        CheckError::UnknownPaper(_) | CheckError::StaffHeight(_) | CheckError::Margins(_) | CheckError::NoRoom => 'p',
        CheckError::Accepted { .. } => 'a',
        CheckError::Read(_)
        | CheckError::Pages { .. }
        | CheckError::PagesAmongScores
        | CheckError::NoParts
        | CheckError::UnknownPart { .. }
        | CheckError::UnknownFile { .. }
        | CheckError::EmptyDraft(_)
        | CheckError::PartsWithoutMusic(_)
        | CheckError::PagesAgainstMusic => 'r',
    };
    assert_eq!(errors.iter().map(kinds).collect::<String>(), "gpar");
    assert!(errors.iter().all(|error| error.hint().is_some()), "{errors:?}");
}
