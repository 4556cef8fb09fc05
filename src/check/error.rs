//! Why a check could not work.

use thiserror::Error;

use crate::accepted::AcceptedError;
use crate::engraved::EngravedError;
use crate::guidelines::GuidelineError;
use crate::paper::PAPERS;
use crate::read::ReadError;
use crate::units::Mm;

/// One trouble; its text begins with the file it is about where there is one.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum CheckError {
    #[error("{0}")]
    Read(ReadError),
    #[error("{file}: {error}")]
    Pages { file: String, error: EngravedError },
    #[error("a PDF holds pages, not music")]
    PagesAmongScores,
    #[error("{0}")]
    Guidelines(GuidelineError),
    #[error("no paper is called \"{0}\"")]
    UnknownPaper(String),
    #[error("a staff {0} high cannot be printed")]
    StaffHeight(Mm),
    #[error("margins of {0} leave no room")]
    Margins(Mm),
    #[error("no room is left for music between the margins")]
    NoRoom,
    #[error("an outline has no parts yet")]
    NoParts,
    #[error("{0}: no bars, so there is nothing to compare")]
    EmptyDraft(String),
    #[error("{0}: no notes that parts could be held against")]
    PartsWithoutMusic(String),
    #[error("one draft has music, of another there are only pages")]
    PagesAgainstMusic,
    #[error("--map names the file {name}, which is not among the parts")]
    UnknownFile { name: String, names: Vec<String> },
    #[error("no part is called \"{name}\"")]
    UnknownPart { name: String, names: Vec<String> },
    #[error("{file}:{}: {}", error.line, error.what)]
    Accepted { file: String, error: AcceptedError },
}

impl CheckError {
    /// What to do about it, where there is something.
    #[must_use]
    pub fn hint(&self) -> Option<String> {
        match self {
            CheckError::Read(error) => error.kind.hint().map(str::to_owned),
            CheckError::Pages { error, .. } => Some(error.hint().to_owned()),
            CheckError::PagesAmongScores => Some("name the score, and the PDF behind --pages".to_owned()),
            CheckError::Guidelines(error) => error.hint.clone(),
            CheckError::UnknownPaper(_) => {
                let names: Vec<&str> = PAPERS.iter().map(|paper| paper.name.as_ref()).collect();
                Some(format!("one of {}, or a size such as 270 x 360 mm", names.join(", ")))
            }
            CheckError::StaffHeight(_) => Some("the height of five lines, from 1 to 20 mm, such as 4.5 mm".to_owned()),
            CheckError::NoRoom => Some("ask for larger paper or smaller margins".to_owned()),
            CheckError::EmptyDraft(_) => Some("look whether this is the file that was meant".to_owned()),
            CheckError::PartsWithoutMusic(_) => Some("parts are named beside the music of their draft".to_owned()),
            CheckError::PagesAgainstMusic => {
                Some("name the music of both, and the PDF behind --old-pages or --new-pages; or two PDFs".to_owned())
            }
            CheckError::NoParts => Some("rastrum check shows its pages; parts need notes".to_owned()),
            CheckError::UnknownFile { names, .. } if names.is_empty() => {
                Some("name files of parts after the score".to_owned())
            }
            CheckError::UnknownPart { names, .. } | CheckError::UnknownFile { names, .. } => {
                Some(format!("one of {}", names.join(", ")))
            }
            CheckError::Margins(_) => Some("the width of all four margins, such as 15 mm".to_owned()),
            CheckError::Accepted { .. } => {
                Some("mend that entry or take it out; a finding without its entry comes back".to_owned())
            }
        }
    }
}
