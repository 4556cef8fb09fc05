//! Engraved quartets joined with their music: bars printed in each system, bars matched, and a page taken out.

use std::path::Path;

use lopdf::Document;
use rastrum::engraved::{EngravedPage, TextRole, measure};
use rastrum::join::{Fit, join};
use rastrum::limits::Limits;
use rastrum::score::SystemMarkKind;

use super::figure::{Figure, Row};
use super::folder::{Folder, Truth};

/// The page that is taken out, counted from 1.
const TAKEN: u32 = 5;

pub fn figures(folder: &Folder) -> Vec<Figure> {
    let (mut systems, mut matched, mut taken, mut parts) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut marks = Vec::new();
    for (truth, work) in folder.works() {
        let path = folder.path.join(&truth.file);
        let Ok(bytes) = std::fs::read(path.with_extension("pdf")) else { continue };
        let Ok(pages) = measure(&bytes, &Limits::default()) else { continue };
        if pages.iter().map(|page| page.systems.len()).sum::<usize>() as u64 != truth.systems {
            continue;
        }
        systems.push(printed(truth, &pages));
        marks.push(landmarks(truth, &pages, &work.reading.score));
        let fit = join(&pages, &work.reading.score).fit;
        let same = fit.systems.iter().zip(spans(truth)).filter(|(own, (first, last))| {
            own.bars.is_some_and(|bars| (u64::from(bars.first.0), u64::from(bars.last.0)) == (*first, *last))
        });
        let note = format!("{} of {} bars, {} systems as recorded", fit.bars_matched, fit.bars_total, same.count());
        matched.push(Row::new(&truth.file, u64::from(fit.bars_matched == fit.bars_total), 1).with_note(note));
        taken.push(without_a_page(truth, &bytes, |pages| join(pages, &work.reading.score).fit));
        parts.extend(of_parts(&path, &work.reading.score));
    }
    vec![
        Figure::new("systems with as many printed bars as recorded", "systems", systems),
        Figure::new("engraved scores of which every bar is matched", "scores", matched),
        Figure::new("scores whose fifth page is missed at its place when it is taken out", "scores", taken),
        Figure::new("bars of engraved parts that are matched", "bars", parts),
        Figure::new("rehearsal marks read on the pages as the music has them", "marks", marks),
    ]
}

/// Letters read against letters written, whichever way round some are too many.
fn landmarks(truth: &Truth, pages: &[EngravedPage], music: &rastrum::score::Score) -> Row {
    let texts = pages.iter().flat_map(|page| &page.texts);
    let mut read: Vec<&str> =
        texts.filter(|text| text.role == Some(TextRole::Landmark)).map(|text| text.text.as_str()).collect();
    let mut written: Vec<&str> = music
        .marks
        .iter()
        .filter_map(|mark| match &mark.kind {
            SystemMarkKind::Rehearsal(text) => Some(text.trim()),
            _ => None,
        })
        .collect();
    let all = read.len().max(written.len());
    read.sort_unstable();
    written.retain(|mark| read.binary_search(mark).is_ok());
    Row::new(&truth.file, written.len() as u64, all as u64)
}

/// First and last bar of each system.
fn spans(truth: &Truth) -> Vec<(u64, u64)> {
    let firsts = &truth.first_bar_index_of_each_system;
    let ends = firsts.iter().skip(1).copied().chain([truth.bars]);
    firsts.iter().zip(ends).map(|(first, end)| (*first, end - 1)).collect()
}

fn printed(truth: &Truth, pages: &[EngravedPage]) -> Row {
    let own = pages.iter().flat_map(|page| &page.systems).map(|system| system.bars.len() as u64);
    let spans = spans(truth);
    let same = own.zip(&spans).filter(|(own, (first, last))| *own == last - first + 1).count();
    Row::new(&truth.file, same as u64, spans.len() as u64)
}

/// Exactly the bars of the page are missed, between the pages before and after it.
fn without_a_page(truth: &Truth, bytes: &[u8], fit: impl Fn(&[EngravedPage]) -> Fit) -> Row {
    let told = || {
        let mut document = Document::load_mem(bytes).ok()?;
        document.delete_pages(&[TAKEN]);
        let mut rest = Vec::new();
        document.save_to(&mut rest).ok()?;
        let fit = fit(&measure(&rest, &Limits::default()).ok()?);
        let [missing] = fit.missing.as_slice() else { return None };
        let before: u64 = truth.systems_on_each_page.iter().take(TAKEN as usize - 1).sum();
        let own = *truth.systems_on_each_page.get(TAKEN as usize - 1)?;
        let spans = spans(truth);
        let (first, last) = (spans.get(before as usize)?.0, spans.get((before + own) as usize - 1)?.1);
        let is_right = (u64::from(missing.bars.first.0), u64::from(missing.bars.last.0)) == (first, last)
            && missing.after.is_some_and(|(page, _)| page.0 == TAKEN - 2)
            && missing.before.is_some_and(|(page, _)| page.0 == TAKEN - 1);
        Some(is_right)
    };
    Row::new(&truth.file, u64::from(told() == Some(true)), u64::from(truth.pages >= u64::from(TAKEN)))
}

/// Where it does not fit.
fn told(fit: &Fit) -> String {
    let gaps =
        fit.missing.iter().map(|missing| format!("bars {}-{} missing", missing.bars.first.0, missing.bars.last.0));
    let uneven = fit.systems.iter().filter(|system| !system.is_even()).map(|system| {
        format!(
            "p. {} system {}: {} for {:?}",
            system.page.0 + 1,
            system.system + 1,
            system.bars_counted,
            system.bars.map(|bars| (bars.first.0, bars.count()))
        )
    });
    gaps.chain(uneven).collect::<Vec<_>>().join("; ")
}

/// The parts beside a score, each against its player's line.
fn of_parts(score: &Path, music: &rastrum::score::Score) -> Vec<Row> {
    let players = rastrum::players::draw(music, None);
    let mut files: Vec<_> =
        std::fs::read_dir(score.parent().unwrap_or(score)).into_iter().flatten().flatten().collect();
    files.sort_by_key(std::fs::DirEntry::file_name);
    let parts = files.iter().filter(|file| file.file_name().to_string_lossy().starts_with("part-"));
    let plain = |text: &str| text.to_lowercase().chars().filter(|letter| letter.is_alphanumeric()).collect::<String>();
    let mut rows = Vec::new();
    for file in parts {
        let name = file.file_name().to_string_lossy().into_owned();
        let Some(stem) = name.strip_prefix("part-").and_then(|name| name.strip_suffix(".pdf")) else { continue };
        let player = players.players.iter().find(|player| plain(&player.name) == plain(stem));
        let pages = std::fs::read(file.path()).ok().and_then(|bytes| measure(&bytes, &Limits::default()).ok());
        let (Some(player), Some(pages)) = (player, pages) else { continue };
        let fit = join(&pages, &player.music).fit;
        let folder = score.parent().and_then(Path::file_name).unwrap_or_default().to_string_lossy();
        rows.push(
            Row::new(&format!("{folder}/{name}"), u64::from(fit.bars_matched), u64::from(fit.bars_total))
                .with_note(told(&fit)),
        );
    }
    rows
}
