//! A short text of all that was read, for snapshots.

use std::fmt::Write;

use rastrum::layout::{BarRecord, StaffRecord};
use rastrum::place::{BarIdx, StaffId};
use rastrum::read::Reading;
use rastrum::score::{
    Bar, Busyness, Cell, Clef, Event, EventKind, Grace, MarkKind, Note, Position, StaffMark, SystemMark, SystemMarkKind,
};
use rastrum::units::Mm;

/// Everything, one line a thing; what is at its default is left out.
pub fn dump(reading: &Reading) -> String {
    let Reading { score, record, remarks, sources } = reading;
    let mut out = String::new();
    let mut line = |text: String| writeln!(out, "{}", text.trim_end()).unwrap();
    for source in sources {
        line(format!("{} ({} bytes)", source.format, source.xml_bytes));
    }
    line(format!("{} by {}", said(&score.title), said(&score.composer)));
    for (at, part) in score.parts.iter().enumerate() {
        let staves = score.staves.iter().filter(|staff| staff.part.at() == at).count();
        let names = format!("{:?} {:?} {:?} {:?}", part.name, part.abbreviation, part.instruments, part.sounds);
        line(format!("part {} {names} {:?}, staves: {staves}, notes: {}", part.id, part.family, part.note_elements));
    }
    for group in &score.groups {
        let span = format!("{}-{} level {}", group.first.0, group.last.0, group.level);
        line(format!("group {span} {:?} {:?} joins {:?}", group.symbol, group.name, group.joins_barlines));
    }
    for credit in &score.credits {
        let (x, y) = (length(credit.x), length(credit.y));
        let rest = format!("{:?} {x} {y} {:?} {:?}", credit.kind, credit.justify, credit.points);
        line(format!("credit page {} {:?} {rest}", credit.page, credit.text));
    }
    if let Some(true) = score.concert_pitch {
        line("at sounding pitch".to_owned());
    }
    for (at, defaults) in record.defaults.iter().enumerate() {
        line(format!("defaults{}, staff height {}", recorded(defaults), length(record.staff_heights[at])));
    }
    for movement in &score.movements {
        let (first, last) = (movement.bars.first.0, movement.bars.last.0);
        line(format!("movement {} bars {first}-{last} of input {}", said(&movement.title), movement.input));
    }
    for at in 0..score.bars.len() {
        line(bar(&score.bars[at]));
        if record.bars[at] != BarRecord::default() {
            line(format!("  record{}", recorded(&record.bars[at])));
        }
        for mark in score.marks.iter().filter(|mark| mark.bar.at() == at) {
            line(format!("  {}", system_mark(mark)));
        }
        for staff in 0..score.staves.len() {
            let cell = score.cell(BarIdx(at as u32), StaffId(staff as u16)).unwrap();
            line(format!("  {staff}: {}", cell_text(cell)));
        }
    }
    if score.tempo_assumed {
        line("the tempo is assumed".to_owned());
    }
    for remark in remarks {
        let place = remark.line.map_or(String::new(), |line| format!("{line}:{} ", remark.column.unwrap()));
        line(format!("{:?}: {place}{}", remark.kind, remark.message));
    }
    out
}

fn said(text: &Option<String>) -> String {
    text.as_ref().map_or("-".to_owned(), |text| format!("{text:?}"))
}

fn length(length: Option<Mm>) -> String {
    length.map_or("-".to_owned(), |mm| format!("{:.3}", mm.0))
}

fn bar(bar: &Bar) -> String {
    let mut text = format!("bar {:?} {}", bar.label, bar.length);
    let metre = bar.metre.as_ref().map_or("none".to_owned(), |metre| format!("{} = {}", metre.text, metre.length));
    let seconds = bar.seconds.map_or("-".to_owned(), |seconds| format!("{:.3}", seconds.0));
    write!(text, " metre {metre}, {seconds} s").unwrap();
    let flags = [(bar.uncounted, "uncounted"), (bar.metre_changes, "metre printed")];
    for (_, flag) in flags.iter().filter(|(is_set, _)| *is_set) {
        write!(text, ", {flag}").unwrap();
    }
    if bar.times_played != 1 {
        write!(text, ", played {}", bar.times_played).unwrap();
    }
    for (side, line) in [("left", bar.left), ("right", bar.right)] {
        let flags =
            [(line.is_double, "double"), (line.is_final, "final"), (line.repeat, "repeat"), (line.fermata, "fermata")];
        for (_, flag) in flags.iter().filter(|(is_set, _)| *is_set) {
            write!(text, ", {side} {flag}").unwrap();
        }
    }
    if let Some(ending) = &bar.ending {
        write!(text, ", ending {:?}", ending.times).unwrap();
        write!(text, "{}{}", if ending.starts { " starts" } else { "" }, if ending.stops { " stops" } else { "" })
            .unwrap();
    }
    if let Some(bars) = bar.multi_bar_rest {
        write!(text, ", rest of {bars} bars").unwrap();
    }
    text
}

fn recorded(record: &BarRecord) -> String {
    let mut text = String::new();
    let mut add = |name: &str, value: Option<String>| {
        if let Some(value) = value {
            write!(text, ", {name} {value}").unwrap();
        }
    };
    let mm = |length: Option<Mm>| length.map(|mm| format!("{:.3}", mm.0));
    let margins = |margins: Option<rastrum::geometry::Margins>| {
        margins.map(|m| format!("{:.3} {:.3} {:.3} {:.3}", m.left.0, m.right.0, m.top.0, m.bottom.0))
    };
    add("new system", record.new_system.map(|is| is.to_string()));
    add("new page", record.new_page.map(|is| is.to_string()));
    add("page number", record.page_number.clone());
    add("page", record.page.size.map(|(width, height)| format!("{:.3} x {:.3}", width.0, height.0)));
    add("odd", margins(record.page.odd));
    add("even", margins(record.page.even));
    add("left", mm(record.system.left));
    add("right", mm(record.system.right));
    add("distance", mm(record.system.distance));
    add("top distance", mm(record.system.top_distance));
    add("dividers", record.system.dividers.map(|are| are.to_string()));
    add("width", mm(record.width));
    add("numbering", record.bar_numbering.clone());
    for (staff, StaffRecord { distance, shown, lines, scale, role }) in &record.staves {
        let mut parts = Vec::new();
        parts.extend(mm(*distance).map(|mm| format!("distance {mm}")));
        parts.extend(shown.map(|shown| format!("shown {shown}")));
        parts.extend(lines.map(|lines| format!("lines {lines}")));
        parts.extend(scale.map(|scale| format!("scale {scale}")));
        parts.extend(role.map(|role| format!("{role:?}")));
        add(&format!("staff {}:", staff.0), Some(parts.join(" ")));
    }
    text
}

fn system_mark(mark: &SystemMark) -> String {
    let kind = match &mark.kind {
        SystemMarkKind::Tempo { words, metronome, quarters_per_minute } => {
            let beat =
                metronome.as_ref().map_or(String::new(), |mark| format!(" {} = {:?}", mark.beat, mark.per_minute));
            format!("Tempo {words:?}{beat} ({quarters_per_minute:?})")
        }
        other => format!("{other:?}"),
    };
    let over: Vec<u16> = mark.over.iter().map(|staff| staff.0).collect();
    format!("@{} {kind} over {over:?}{}", mark.onset, position(&mark.at))
}

fn cell_text(cell: &Cell) -> String {
    let mut text = clef(cell.clef);
    if cell.key.fifths != 0 {
        write!(text, " key {}", cell.key.fifths).unwrap();
    }
    let flags =
        [(cell.key_changes, "key printed"), (cell.repeats_previous, "repeats previous"), (cell.slashes, "slashes")];
    for (_, flag) in flags.iter().filter(|(is_set, _)| *is_set) {
        write!(text, " {flag}").unwrap();
    }
    if cell.transposition != Default::default() {
        let t = cell.transposition;
        write!(text, " transposes {} {} {}", t.diatonic, t.chromatic, t.octaves).unwrap();
    }
    if let Some(sketch) = cell.sketch {
        write!(text, " planned: {}", sketch.busyness().map_or("rests", Busyness::word)).unwrap();
    }
    for (onset, change) in &cell.clef_changes {
        write!(text, " @{onset} {}", clef(*change)).unwrap();
    }
    for one in &cell.events {
        write!(text, " | {}", event(one)).unwrap();
    }
    for one in &cell.marks {
        write!(text, " ; {}", staff_mark(one)).unwrap();
    }
    text
}

fn clef(clef: Clef) -> String {
    let octave = if clef.octave_change == 0 { String::new() } else { format!("{:+}", clef.octave_change) };
    format!("{:?}{}{octave}", clef.sign, clef.line)
}

fn event(event: &Event) -> String {
    let kind = match &event.kind {
        EventKind::Chord(notes) => notes.iter().map(note).collect::<Vec<_>>().join(" "),
        EventKind::Rest { whole_bar: true } => "bar rest".to_owned(),
        EventKind::Rest { whole_bar: false } => "rest".to_owned(),
    };
    let mut text = format!("{}+{} {kind}", event.onset, event.length);
    let value = event.value.halvings.map_or(String::new(), |value| format!(" value {value}"));
    write!(text, "{value}{}", ".".repeat(usize::from(event.value.dots))).unwrap();
    if event.voice != 1 {
        write!(text, " voice {}", event.voice).unwrap();
    }
    match event.grace {
        Grace::No => {}
        grace => write!(text, " grace {grace:?}").unwrap(),
    }
    let flags = [
        (event.cue, "cue"),
        (!event.printed, "hidden"),
        (event.tremolo_between, "between"),
        (event.fermata, "fermata"),
        (event.arpeggio, "arpeggio"),
        (event.tuplet_starts, "tuplet"),
    ];
    for (_, flag) in flags.iter().filter(|(is_set, _)| *is_set) {
        write!(text, " {flag}").unwrap();
    }
    let counts = [
        (event.beams, "beams"),
        (event.articulations, "articulations"),
        (event.ornaments, "ornaments"),
        (event.tremolo, "tremolo"),
        (event.slurs.starts, "slurs start"),
        (event.slurs.stops, "slurs stop"),
    ];
    for (count, name) in counts.iter().filter(|(count, _)| *count > 0) {
        write!(text, " {name} {count}").unwrap();
    }
    if event.stem != Default::default() {
        write!(text, " stem {:?}", event.stem).unwrap();
    }
    for syllable in &event.lyrics {
        write!(text, " \"{}\"{}", syllable.text, syllable.verse).unwrap();
    }
    text + &position(&event.at)
}

fn note(note: &Note) -> String {
    let letter = "CDEFGAB".as_bytes()[usize::from(note.pitch.step)] as char;
    let alter = match note.pitch.alter {
        0 => String::new(),
        2 => "#".to_owned(),
        -2 => "b".to_owned(),
        other => format!("({other})"),
    };
    let flags = [
        (note.unpitched, " unpitched"),
        (note.accidental, " accidental"),
        (note.tie_stops, " tied from"),
        (note.tie_starts, " tied on"),
    ];
    let flags: String = flags.iter().filter(|(is_set, _)| *is_set).map(|(_, flag)| *flag).collect();
    format!("{letter}{alter}{}{flags}", note.pitch.octave)
}

fn staff_mark(mark: &StaffMark) -> String {
    let kind = match &mark.kind {
        MarkKind::HairpinStart { number, opens } => format!("Hairpin{number} {}", if *opens { "<" } else { ">" }),
        other => format!("{other:?}"),
    };
    let side = mark.above.map_or("", |above| if above { " above" } else { " below" });
    format!("@{} {kind}{side}{}", mark.onset, position(&mark.at))
}

fn position(at: &Position) -> String {
    if *at == Position::default() {
        return String::new();
    }
    format!(" at {} {} {:+.3} {:+.3}", length(at.x), length(at.y), at.dx.0, at.dy.0)
}
