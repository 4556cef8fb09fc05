//! Columns from moments: springs from note values, rods from what stands side by side.

use super::material::{BarMaterial, Content, Material, Moment};
use super::{Column, SpacingRules};
use crate::units::{Fraction, Spaces};

/// Adds the columns of a bar; gives the room after its left barline that no force changes.
pub(super) fn add(material: &Material, bar: &BarMaterial, rules: &SpacingRules, columns: &mut Vec<Column>) -> Spaces {
    let moments = match &bar.content {
        Content::Nothing => return Spaces::ZERO,
        Content::MultiBarRest => {
            columns.push(Column { spring: rules.multi_bar_rest, rod: rules.multi_bar_rest });
            return Spaces::ZERO;
        }
        Content::Empty(length) => {
            columns.push(empty(*length, rules));
            return Spaces::ZERO;
        }
        Content::Planned(column, room) => {
            columns.push(*column);
            return *room;
        }
        Content::Moments(moments) => material.moments.get(moments.clone()).unwrap_or_default(),
    };
    let first = columns.len();
    columns.extend(moments.iter().map(|moment| Column { spring: spring(*moment, rules), rod: rules.head }));
    let own = columns.get_mut(first..).unwrap_or_default();
    push_apart(material, bar, rules, own);
    make_room_for_words(material, bar, rules, own);
    let openings = material.openings.get(bar.openings.clone()).unwrap_or_default();
    openings.iter().map(|item| item.after_barline(rules)).fold(Spaces::ZERO, Spaces::max)
}

/// The one column of a bar of which only its length is known.
fn empty(length: Fraction, rules: &SpacingRules) -> Column {
    Column { spring: Spaces(rules.spring(length.to_f64())), rod: rules.empty_bar }
}

/// Equal notes stay equal, whatever else moves beside them: a gap is its share of the shortest note that sounds
/// through it (principle: Gourlay 1987, from memory).
fn spring(moment: Moment, rules: &SpacingRules) -> Spaces {
    if moment.shortest <= 0.0 {
        return Spaces::ZERO;
    }
    Spaces(rules.spring(moment.shortest) * moment.gap / moment.shortest)
}

/// A column is as long as the staff that needs most in it.
fn push_apart(material: &Material, bar: &BarMaterial, rules: &SpacingRules, columns: &mut [Column]) {
    for pair in material.neighbours.get(bar.neighbours.clone()).unwrap_or_default() {
        let Some(column) = columns.get_mut(pair.column) else { continue };
        let mut need = pair.this.right(rules);
        if let Some(next) = pair.next {
            need += next.left(rules);
            if pair.this.shares_ledgers(next) {
                need += rules.ledgers;
            }
        }
        column.rod = column.rod.max(need);
    }
}

/// What two syllables need is shared among the columns between them as their springs share it.
fn make_room_for_words(material: &Material, bar: &BarMaterial, rules: &SpacingRules, columns: &mut [Column]) {
    for words in material.words.get(bar.words.clone()).unwrap_or_default() {
        let own = columns.get_mut(words.columns.0..words.columns.1).unwrap_or_default();
        let springs: f64 = own.iter().map(|column| column.spring.0).sum();
        if springs <= 0.0 {
            continue;
        }
        let need = words.width * rules.syllable_size.0 + rules.syllable_gap;
        for column in own {
            column.rod = column.rod.max(need * (column.spring.0 / springs));
        }
    }
}
