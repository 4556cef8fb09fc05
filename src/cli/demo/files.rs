//! The files of the example.

/// The movements, by file name; the pages of the last one have not been set yet.
pub const MOVEMENTS: [(&str, &[u8]); 3] = [
    ("lantern-ferry-1.mxl", include_bytes!("../../demo/lantern-ferry-1.mxl")),
    ("lantern-ferry-2.mxl", include_bytes!("../../demo/lantern-ferry-2.mxl")),
    ("lantern-ferry-3.mxl", include_bytes!("../../demo/lantern-ferry-3.mxl")),
];

/// Pages of the first movement, and a part of it, as they were printed; most have a fault.
pub const PRINTED: (&str, &[u8]) =
    ("lantern-ferry-1-printed.pdf", include_bytes!("../../demo/lantern-ferry-1-printed.pdf"));

/// The first movement again, as its second draft has it.
pub const SECOND_DRAFT: (&str, &[u8]) =
    ("lantern-ferry-1-second.mxl", include_bytes!("../../demo/lantern-ferry-1-second.mxl"));

/// The parts of the last movement as somebody made them; some are wrong.
pub const PARTS: [(&str, &[u8]); 27] = [
    ("Bass trombone.mxl", include_bytes!("../../demo/parts/Bass trombone.mxl")),
    ("Bassoon 1.mxl", include_bytes!("../../demo/parts/Bassoon 1.mxl")),
    ("Bassoon 2.mxl", include_bytes!("../../demo/parts/Bassoon 2.mxl")),
    ("Cellos.mxl", include_bytes!("../../demo/parts/Cellos.mxl")),
    ("Clarinet in Bb 1.mxl", include_bytes!("../../demo/parts/Clarinet in Bb 1.mxl")),
    ("Clarinet in Bb 2.mxl", include_bytes!("../../demo/parts/Clarinet in Bb 2.mxl")),
    ("Double basses.mxl", include_bytes!("../../demo/parts/Double basses.mxl")),
    ("English horn in F.mxl", include_bytes!("../../demo/parts/English horn in F.mxl")),
    ("Flute 1.mxl", include_bytes!("../../demo/parts/Flute 1.mxl")),
    ("Flute 2 (Piccolo).mxl", include_bytes!("../../demo/parts/Flute 2 (Piccolo).mxl")),
    ("Harp.mxl", include_bytes!("../../demo/parts/Harp.mxl")),
    ("Horn in F 1.mxl", include_bytes!("../../demo/parts/Horn in F 1.mxl")),
    ("Horn in F 2.mxl", include_bytes!("../../demo/parts/Horn in F 2.mxl")),
    ("Horn in F 3.mxl", include_bytes!("../../demo/parts/Horn in F 3.mxl")),
    ("Horn in F 4.mxl", include_bytes!("../../demo/parts/Horn in F 4.mxl")),
    ("Oboe 1.mxl", include_bytes!("../../demo/parts/Oboe 1.mxl")),
    ("Oboe 2.mxl", include_bytes!("../../demo/parts/Oboe 2.mxl")),
    ("Percussion 1.mxl", include_bytes!("../../demo/parts/Percussion 1.mxl")),
    ("Percussion 2.mxl", include_bytes!("../../demo/parts/Percussion 2.mxl")),
    ("Timpani.mxl", include_bytes!("../../demo/parts/Timpani.mxl")),
    ("Trombone 2.mxl", include_bytes!("../../demo/parts/Trombone 2.mxl")),
    ("Trumpet in Bb 1.mxl", include_bytes!("../../demo/parts/Trumpet in Bb 1.mxl")),
    ("Trumpet in Bb 2.mxl", include_bytes!("../../demo/parts/Trumpet in Bb 2.mxl")),
    ("Tuba.mxl", include_bytes!("../../demo/parts/Tuba.mxl")),
    ("Violas.mxl", include_bytes!("../../demo/parts/Violas.mxl")),
    ("Violins I.mxl", include_bytes!("../../demo/parts/Violins I.mxl")),
    ("Violins II.mxl", include_bytes!("../../demo/parts/Violins II.mxl")),
];

/// Two parts of the first movement's first draft as they lie on the stands.
pub const FIRST_PARTS: [(&str, &[u8]); 2] = [
    ("Harp.mxl", include_bytes!("../../demo/first-parts/Harp.mxl")),
    ("Violins II.mxl", include_bytes!("../../demo/first-parts/Violins II.mxl")),
];
