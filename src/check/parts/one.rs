//! One part: its pages as they could be, as they would be without a thought, and as its own files have them.

use super::files::PartFiles;
use super::options::Stands;
use super::printed::PrintedPart;
use super::{PartChecked, PartsChecked, RecordedPart, SetAside, SheetChecked, Turned};
use crate::accepted::{self, Applied, Entry};
use crate::casting_off::part::{self, PartBasis, PartPages, Stand};
use crate::casting_off::{self, House};
use crate::guidelines::Guidelines;
use crate::join::Fit;
use crate::layout::Layout;
use crate::metrics::Metrics;
use crate::players::blocks::{Block, blocks};
use crate::players::changes::changes;
use crate::players::end_to_end::{EndToEnd, Everyone, end_to_end};
use crate::players::turning::{self, Around, TurnClass, TurnPoint};
use crate::players::{self, Player};
use crate::rules::{self, Case, Finding, Judged, PartCase, PrintOn};
use crate::score::Score;
use crate::survey::{self, turns};
use crate::words::all_listed;

/// What all parts have in common.
pub(in crate::check) struct Whole<'a> {
    score: &'a Score,
    guidelines: &'a Guidelines,
    accepted: &'a [Entry],
    around: Around,
    everyone: Everyone<'a>,
    /// Pages filled one after the other, and better places for bad turns, are wanted.
    beside: bool,
}

impl<'a> Whole<'a> {
    pub fn of(score: &'a Score, guidelines: &'a Guidelines, accepted: &'a [Entry]) -> Whole<'a> {
        Whole { score, guidelines, accepted, around: Around::of(score), everyone: Everyone::new(score), beside: true }
    }

    /// The same without pages that are only shown beside, which the proposed ones stand in for, and without better places to turn.
    pub fn plain(self) -> Whole<'a> {
        Whole { beside: false, ..self }
    }

    /// Bars of the work.
    pub fn bars(&self) -> usize {
        self.score.bars.len()
    }

    /// The same guidelines for music by itself.
    pub fn of_other<'b>(&'b self, music: &'b Score) -> Whole<'b> {
        Whole::of(music, self.guidelines, self.accepted)
    }

    /// Lays one part out and judges it; what ran is told to `checked`. `None` where the score has no bars.
    pub fn part(&self, player: Player, stands: &Stands, own: Own, checked: &mut PartsChecked) -> Option<PartChecked> {
        let stand = stands.stand(&player, self.guidelines.house());
        self.on_stand(player, stand, own, checked)
    }

    /// The same on a stand that is known.
    pub fn on_stand(&self, player: Player, stand: Stand, own: Own, checked: &mut PartsChecked) -> Option<PartChecked> {
        let blocks = blocks(&player.music);
        let changes = changes(&player);
        let points = turning::points(&player, &self.around, &changes);
        let whole = end_to_end(&player, &self.everyone, changes);
        let metrics = Metrics::of(&player.music);
        let basis = PartBasis { player: &player, metrics: &metrics, blocks: &blocks, points: &points, stand: &stand };
        let (proposed, filled) = if self.beside {
            let (best, filled) = part::propose_and_fill(&basis)?;
            (turned(&basis, best), beside(&basis, filled))
        } else {
            let proposed = beside(&basis, part::propose(&basis)?);
            (proposed.clone(), proposed)
        };
        let recorded = match own {
            Own::Nothing => None,
            Own::Pages(pages) => Some(printed(&basis, &whole, pages)),
            Own::Kept(layout) => Some(own_line(&basis, &whole, Vec::new(), layout, None)),
            Own::Files(files) => {
                self.recorded(&player, &stand, *files).map_err(|aside| checked.set_aside.push(aside)).ok()
            }
        };
        let judged = match &recorded {
            Some(own) => self.judge_own(own, &stand),
            None => {
                let case = PartCase {
                    player: &player,
                    orchestra: self.score,
                    blocks: &blocks,
                    turns: &proposed.turns,
                    backward: &proposed.backward,
                    points: &points,
                    whole: &whole,
                    stand: &stand,
                };
                self.judge(case, &player.music, &proposed.pages.layout, &metrics, None)
            }
        };
        let findings = checked.take(judged);
        let of_player: Vec<Entry> =
            self.accepted.iter().filter(|entry| is_of(&entry.staff, &player)).cloned().collect();
        let music = recorded.as_ref().map_or(&player.music, |own| &own.player.music);
        let Applied { kept: findings, accepted, lapsed } = accepted::apply(findings, &of_player, music);
        let recorded = recorded.map(|own| own.part);
        Some(PartChecked {
            blocks,
            points,
            whole,
            stand,
            recorded,
            proposed,
            filled,
            findings,
            accepted,
            lapsed,
            player,
        })
    }

    /// The pages that a part's own files have, where they hold the whole work: bars are then those of the score.
    fn recorded(&self, player: &Player, stand: &Stand, files: PartFiles) -> Result<Recorded, SetAside> {
        let (names, record) = (files.names, files.record);
        let aside = |why: &str| SetAside { name: all_listed(&names), why: why.to_owned() };
        // Its hands are those of the player, and its staves in the score, too.
        let own = Player {
            name: player.name.clone(),
            hands: player.hands,
            staves: player.staves.clone(),
            ..players::alone(files.score)
        };
        if own.music.bars.len() != self.score.bars.len() {
            return Err(aside("not all movements are there, so its pages were not looked at"));
        }
        let metrics = Metrics::of(&own.music);
        let house = House { paper: stand.paper, staff_height: stand.staff_height, ..House::default() };
        let layout = casting_off::pages(&own.music, &metrics, &record, &house);
        if !layout.tells_pages() {
            return Err(aside("no systems or pages are recorded, so it is laid out as proposed"));
        }
        let blocks = blocks(&own.music);
        let changes = changes(&own);
        let points = turning::points(&own, &self.around, &changes);
        let whole = end_to_end(&own, &self.everyone, changes);
        let basis = PartBasis { player: &own, metrics: &metrics, blocks: &blocks, points: &points, stand };
        let layout = begun(&basis, layout);
        let (turns, backward) = (turns::turns_on(&basis, &layout), turns::backward(&basis, &layout));
        let part = RecordedPart { files: names, layout, turns, backward, fit: None };
        Ok(Recorded { player: own, metrics, blocks, points, whole, part })
    }

    fn judge_own(&self, own: &Recorded, stand: &Stand) -> Judged {
        let fit = own.part.fit.as_ref();
        self.judge(own.case(self.score, stand), &own.player.music, &own.part.layout, &own.metrics, fit)
    }

    fn judge(
        &self,
        part: PartCase<'_>,
        music: &Score,
        layout: &Layout,
        metrics: &Metrics,
        fit: Option<&Fit>,
    ) -> Judged {
        let survey = survey::survey(music, layout, &metrics.extents);
        let case = Case {
            score: music,
            layout,
            survey: &survey,
            proposal: None,
            part: Some(part),
            fit,
            print_on: self.print_on(),
        };
        let mut judged = if layout.tells_pages() {
            rules::judge(&case, self.guidelines)
        } else {
            rules::judge_drawn_part(&case, self.guidelines)
        };
        let findings = &mut judged.findings;
        for finding in findings.iter_mut().filter(|finding| !is_of(&finding.key.staff, part.player)) {
            let place = std::mem::take(&mut finding.key.staff);
            finding.key.staff = [&part.player.name, ", ", &place].concat().trim_end_matches(", ").to_owned();
        }
        judged
    }

    /// What is to be said of a part's own pages, and nothing else; bars need not be those of the score.
    ///
    /// # Errors
    /// Its files tell nothing of pages.
    pub fn sheet(&self, player: &Player, stands: &Stands, files: PartFiles) -> Result<SheetChecked, SetAside> {
        let stand = stands.stand(player, self.guidelines.house());
        let own = self.recorded(player, &stand, files)?;
        let judged = self.judge_own(&own, &stand);
        let of_player: Vec<Entry> = self.accepted.iter().filter(|entry| is_of(&entry.staff, player)).cloned().collect();
        let Applied { kept, accepted, .. } = accepted::apply(judged.findings, &of_player, &own.player.music);
        Ok(SheetChecked { music: own.player.music, recorded: own.part, findings: kept, accepted: accepted.len() })
    }

    fn print_on(&self) -> Option<PrintOn<'_>> {
        let paper = self.guidelines.house().print_parts_on.value.as_ref()?;
        Some(PrintOn { name: &paper.name, size: (paper.width, paper.height) })
    }
}

/// What there is of a part besides the score.
pub(in crate::check) enum Own {
    Nothing,
    Files(Box<PartFiles>),
    Pages(PrintedPart),
    /// Of an older draft, as far as they can stay, with new ones between them.
    Kept(Layout),
}

/// Printed pages hold the player's own line: everything but the pages is that of the score.
fn printed(basis: &PartBasis<'_>, whole: &EndToEnd, pages: PrintedPart) -> Recorded {
    own_line(basis, whole, vec![pages.name], begun(basis, pages.layout), Some(pages.fit))
}

/// Pages that hold the player's own line; `files` are those that they come from.
fn own_line(basis: &PartBasis<'_>, whole: &EndToEnd, files: Vec<String>, layout: Layout, fit: Option<Fit>) -> Recorded {
    let (turns, backward) = (turns::turns_on(basis, &layout), turns::backward(basis, &layout));
    Recorded {
        player: basis.player.clone(),
        metrics: basis.metrics.clone(),
        blocks: basis.blocks.to_vec(),
        points: basis.points.to_vec(),
        whole: whole.clone(),
        part: RecordedPart { files, layout, turns, backward, fit },
    }
}

/// The same pages, begun on the side that is asked for; where none is, and the file's page numbers tell nothing, on the
/// side that leaves better turns: a part of two pages lies open on the stand.
fn begun(basis: &PartBasis<'_>, layout: Layout) -> Layout {
    let other = {
        let mut other = layout.clone();
        other.pages.iter_mut().for_each(|page| page.side = page.side.other());
        other
    };
    let first = layout.pages.first();
    match (basis.stand.starts, first) {
        (Some(side), Some(first)) if first.side != side => other,
        (None, Some(first)) if first.label == "1" && bad(basis, &other) < bad(basis, &layout) => other,
        _ => layout,
    }
}

/// How many turns leave no time, and how many little.
fn bad(basis: &PartBasis<'_>, layout: &Layout) -> (usize, usize) {
    let turned = part::turned_bars(layout, basis.stand.binding);
    let classes = || turned.iter().filter_map(|(after, _)| basis.points.get(after.at())).map(|point| point.class);
    let of = |class: TurnClass| classes().filter(|own| *own == Some(class)).count();
    (of(TurnClass::None), of(TurnClass::Tight))
}

/// Whether a finding's key names this player, or a place in the player's part.
fn is_of(place: &str, player: &Player) -> bool {
    place.strip_prefix(player.name.as_str()).is_some_and(|rest| rest.is_empty() || rest.starts_with(", "))
}

impl PartsChecked {
    /// Notes which rules ran, and gives what they found.
    fn take(&mut self, judged: Judged) -> Vec<Finding> {
        for rule in judged.ran {
            if !self.ran.contains(&rule) {
                self.ran.push(rule);
            }
        }
        for (rule, needs) in judged.could_not_run {
            if !self.could_not_run.iter().any(|(known, _)| *known == rule) {
                self.could_not_run.push((rule, needs));
            }
        }
        judged.findings
    }
}

/// A part as its own files have it, with all that judging it needs.
struct Recorded {
    player: Player,
    metrics: Metrics,
    blocks: Vec<Block>,
    points: Vec<TurnPoint>,
    whole: EndToEnd,
    part: RecordedPart,
}

impl Recorded {
    fn case<'a>(&'a self, orchestra: &'a Score, stand: &'a Stand) -> PartCase<'a> {
        PartCase {
            player: &self.player,
            orchestra,
            blocks: &self.blocks,
            turns: &self.part.turns,
            backward: &self.part.backward,
            points: &self.points,
            whole: &self.whole,
            stand,
        }
    }
}

/// Pages that are only shown for comparison.
fn beside(basis: &PartBasis<'_>, pages: PartPages) -> Turned {
    let (turns, backward) = (turns::plain_turns(basis, &pages), turns::backward(basis, &pages.layout));
    Turned { pages, turns, backward }
}

fn turned(basis: &PartBasis<'_>, pages: PartPages) -> Turned {
    let (turns, backward) = (turns::turns(basis, &pages), turns::backward(basis, &pages.layout));
    Turned { pages, turns, backward }
}
