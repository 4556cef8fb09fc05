//! Every cap on what a file may ask of the machine, in one place.

/// How much one run accepts. The defaults lie far above any orchestral score; a caller may raise them.
///
/// The largest open movement known here has 36 staves, 943 bars, 49 thousand notes and 26.5 MB of MusicXML.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Bytes of one file's music after decompression: 512 MB.
    pub inflated_bytes: u64,
    /// Times its compressed size that a file may grow to beyond 64 MB: 200. Open scores grow 18 to 28 times.
    pub inflation: u64,
    /// Files in a compressed score: 10,000.
    pub archive_entries: usize,
    /// Elements inside one another: 256 (MusicXML itself needs about 12).
    pub nesting: usize,
    /// Attributes of one element: 256 (a note may have about 30).
    pub attributes: usize,
    /// Bytes of a part's text whose tree is held at one time, if its bars allow: 8 kB. Measured best: larger
    /// trees are so large that the allocator fetches and returns their pages every time.
    pub piece_bytes: usize,
    /// Parts of a work: 2,000.
    pub parts: usize,
    /// Staves of one part: 64.
    pub staves_per_part: usize,
    /// Bars of the whole work: 200,000.
    pub bars: usize,
    /// Bars times staves of the whole work: 2 million (60 staves of 3,000 bars are 180 thousand).
    pub cells: usize,
    /// Movements of an outline: 100.
    pub movements: usize,
    /// Bytes of an outline: 1 MB (a page of text has about 3 kB).
    pub outline_bytes: u64,
    /// Notes, rests, directions and other things of one file that become music: 2 million.
    pub items: usize,
    /// Notes of one chord: 1,000.
    pub chord_notes: usize,
    /// Bars played while repeats are followed, as a multiple of the bars written: 100.
    pub plays_per_bar: usize,
    /// Pages of an engraved PDF: 5,000.
    pub pages: usize,
    /// Bytes that one stream of an engraved PDF may unpack to: 64 MB (a full page of orchestral music has about 1 MB).
    pub page_content_bytes: usize,
    /// Troubles reported for one file: 20.
    pub errors_per_file: usize,
}

impl Default for Limits {
    fn default() -> Self {
        Limits {
            inflated_bytes: 512 << 20,
            inflation: 200,
            archive_entries: 10_000,
            nesting: 256,
            attributes: 256,
            piece_bytes: 8 << 10,
            parts: 2_000,
            staves_per_part: 64,
            bars: 200_000,
            cells: 2_000_000,
            movements: 100,
            outline_bytes: 1 << 20,
            items: 2_000_000,
            chord_notes: 1_000,
            plays_per_bar: 100,
            pages: 5_000,
            page_content_bytes: 64 << 20,
            errors_per_file: 20,
        }
    }
}
