//! The fonts: which glyph a character has, how wide it is, and the cut-down fonts that go into the file.

use std::collections::BTreeMap;
use std::fmt::Write;

use lopdf::{Dictionary, Document, Object, ObjectId, Stream, dictionary};
use printpdf::ParsedFont;
use rastrum::units::Mm;
use subsetter::GlyphRemapper;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Face {
    Regular,
    Bold,
    Italic,
    /// Its em is a staff of five lines.
    Music,
}

impl Face {
    pub const ALL: [Face; 4] = [Face::Regular, Face::Bold, Face::Italic, Face::Music];

    /// What the pages call it.
    pub fn key(self) -> &'static str {
        ["R", "B", "I", "M"][self as usize]
    }

    fn name(self) -> &'static str {
        ["NotoSans-Regular", "NotoSans-Bold", "NotoSans-Italic", "NotoMusic-Regular"][self as usize]
    }

    fn bytes(self) -> &'static [u8] {
        match self {
            Face::Regular => include_bytes!("../../../fonts/NotoSans-Regular.ttf"),
            Face::Bold => include_bytes!("../../../fonts/NotoSans-Bold.ttf"),
            Face::Italic => include_bytes!("../../../fonts/NotoSans-Italic.ttf"),
            Face::Music => include_bytes!("../../../fonts/NotoMusic-Regular.ttf"),
        }
    }
}

/// All fonts, and what of them has been used.
pub struct Faces(Vec<Used>);

struct Used {
    face: Face,
    font: ParsedFont,
    new_numbers: GlyphRemapper,
    /// By its number in the cut-down font: the character and its width in thousandths of the type size.
    glyphs: BTreeMap<u16, (char, u16)>,
}

impl Faces {
    pub fn load() -> Result<Faces, String> {
        let used = |face: Face| {
            let font = ParsedFont::from_bytes(face.bytes(), 0, &mut Vec::new()).ok_or("a font cannot be read")?;
            Ok(Used { face, font, new_numbers: GlyphRemapper::new(), glyphs: BTreeMap::new() })
        };
        Face::ALL.into_iter().map(used).collect::<Result<_, String>>().map(Faces)
    }

    /// The text as a string of glyph numbers for the page.
    pub fn encoded(&mut self, face: Face, text: &str) -> String {
        let mut hex = String::new();
        for char in text.chars() {
            let _ = write!(hex, "{:04X}", self.0[face as usize].number(char));
        }
        hex
    }

    pub fn width(&self, face: Face, size: Mm, text: &str) -> Mm {
        let own = &self.0[face as usize];
        let units: u32 = text.chars().map(|char| u32::from(own.old(char).1)).sum();
        size * (f64::from(units) / 1000.0)
    }

    /// Puts the fonts into the file: by the key that pages use.
    pub fn embedded(&self, document: &mut Document) -> Result<Dictionary, String> {
        let mut fonts = Dictionary::new();
        for used in self.0.iter().filter(|used| !used.glyphs.is_empty()) {
            fonts.set(used.face.key(), used.embedded(document)?);
        }
        Ok(fonts)
    }
}

impl Used {
    /// Number in the whole font, and width.
    fn old(&self, char: char) -> (u16, u16) {
        let number = self.font.lookup_glyph_index(u32::from(char)).unwrap_or(0);
        (number, self.font.get_glyph_width(number).unwrap_or(0))
    }

    /// Number in the cut-down font.
    fn number(&mut self, char: char) -> u16 {
        let (old, width) = self.old(char);
        let new = self.new_numbers.remap(old);
        self.glyphs.insert(new, (char, width));
        new
    }

    /// Composite font with two-byte glyph numbers (ISO 32000-1, 9.7).
    fn embedded(&self, document: &mut Document) -> Result<ObjectId, String> {
        let cut = subsetter::subset(self.face.bytes(), 0, &self.new_numbers).map_err(|error| error.to_string())?;
        let length = cut.len() as i64;
        let program = document.add_object(Stream::new(dictionary! { "Length1" => length }, cut));
        let name = format!("LNTRNF+{}", self.face.name()).into_bytes();
        let is_music = self.face == Face::Music;
        let descriptor = document.add_object(dictionary! {
            "Type" => "FontDescriptor", "FontName" => Object::Name(name.clone()), "FontFile2" => program,
            "Flags" => if is_music { 4 } else { 32 },
            "FontBBox" => numbers(&[-200, -400, 1500, 1400]),
            "ItalicAngle" => if self.face == Face::Italic { -12 } else { 0 },
            "Ascent" => 1069, "Descent" => -293, "CapHeight" => 714,
            "StemV" => if self.face == Face::Bold { 140 } else { 80 },
        });
        let widths = self.glyphs.iter().flat_map(|(number, (_, width))| {
            [Object::Integer(i64::from(*number)), Object::Array(vec![Object::Integer(i64::from(*width))])]
        });
        let outlines = document.add_object(dictionary! {
            "Type" => "Font", "Subtype" => "CIDFontType2", "BaseFont" => Object::Name(name.clone()),
            "CIDSystemInfo" => dictionary! {
                "Registry" => Object::string_literal("Adobe"), "Ordering" => Object::string_literal("Identity"),
                "Supplement" => 0,
            },
            "FontDescriptor" => descriptor, "DW" => 1000, "W" => widths.collect::<Vec<_>>(),
            "CIDToGIDMap" => "Identity",
        });
        let characters = document.add_object(Stream::new(Dictionary::new(), self.characters().into_bytes()));
        Ok(document.add_object(dictionary! {
            "Type" => "Font", "Subtype" => "Type0", "BaseFont" => Object::Name(name), "Encoding" => "Identity-H",
            "DescendantFonts" => vec![outlines.into()], "ToUnicode" => characters,
        }))
    }

    /// Which character each glyph stands for (ISO 32000-1, 9.10.3).
    fn characters(&self) -> String {
        let mut text = "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n\
             /CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n\
             /CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n\
             1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n"
            .to_owned();
        let all: Vec<(&u16, &(char, u16))> = self.glyphs.iter().collect();
        // No more than a hundred go into one list.
        for some in all.chunks(100) {
            let _ = writeln!(text, "{} beginbfchar", some.len());
            for (number, (char, _)) in some {
                let utf16: String = char.encode_utf16(&mut [0; 2]).iter().map(|unit| format!("{unit:04X}")).collect();
                let _ = writeln!(text, "<{number:04X}> <{utf16}>");
            }
            text.push_str("endbfchar\n");
        }
        text + "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n"
    }
}

fn numbers(all: &[i64]) -> Object {
    Object::Array(all.iter().map(|number| Object::Integer(*number)).collect())
}
