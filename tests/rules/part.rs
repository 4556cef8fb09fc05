//! A score that is one player's part, with its turns on its pages and its way from end to end.

use rastrum::casting_off::part::{Binding, PartBasis, Stand};
use rastrum::geometry::Margins;
use rastrum::layout::Layout;
use rastrum::metrics::Metrics;
use rastrum::players::blocks::{Block, blocks};
use rastrum::players::changes::changes;
use rastrum::players::end_to_end::{EndToEnd, Everyone, end_to_end};
use rastrum::players::turning::{self, Around, TurnPoint};
use rastrum::players::{self, Player};
use rastrum::rules::PartCase;
use rastrum::score::Score;
use rastrum::survey::{BackwardTurn, Turn, turns};
use rastrum::units::Mm;

/// What rules on playing look at.
pub struct Alone {
    player: Player,
    orchestra: Score,
    blocks: Vec<Block>,
    turns: Vec<Turn>,
    backward: Vec<BackwardTurn>,
    points: Vec<TurnPoint>,
    whole: EndToEnd,
    stand: Stand,
}

impl Alone {
    /// `None` for scores of several parts.
    pub fn of(score: &Score, orchestra: &Score, layout: &Layout, metrics: &Metrics) -> Option<Alone> {
        if score.parts.len() != 1 {
            return None;
        }
        let player = players::alone(score.clone());
        let stand = stand(layout);
        let blocks = blocks(&player.music);
        let changes = changes(&player);
        let points = turning::points(&player, &Around::of(score), &changes);
        let whole = end_to_end(&player, &Everyone::new(score), changes);
        let basis = PartBasis { player: &player, metrics, blocks: &blocks, points: &points, stand: &stand };
        let (turns, backward) = (turns::turns_on(&basis, layout), turns::backward(&basis, layout));
        Some(Alone { orchestra: orchestra.clone(), blocks, turns, backward, points, whole, stand, player })
    }

    pub fn case(&self) -> PartCase<'_> {
        PartCase {
            player: &self.player,
            orchestra: &self.orchestra,
            blocks: &self.blocks,
            turns: &self.turns,
            backward: &self.backward,
            points: &self.points,
            whole: &self.whole,
            stand: &self.stand,
        }
    }
}

fn stand(layout: &Layout) -> Stand {
    let paper = layout.pages.first().map_or((Mm::ZERO, Mm::ZERO), |page| page.size.value);
    Stand {
        binding: Binding::Booklet,
        paper,
        margins: Margins::default(),
        staff_height: Mm(7.5),
        natural_force: 1.0,
        starts: None,
        headed: true,
    }
}
