//! The sample document, written and read back.

mod faults;
mod flow;
mod links;
mod marks;
mod read;
mod sample;
mod text;
mod tree;

use read::Pdf;
use sample::sample;

fn written() -> Pdf {
    Pdf::read(&sample().finish().unwrap())
}

#[test]
fn the_same_calls_give_the_same_bytes_also_in_threads_side_by_side() {
    let first = sample().finish().unwrap();
    let threads: Vec<_> = (0..4).map(|_| std::thread::spawn(|| sample().finish().unwrap())).collect();
    for thread in threads {
        assert!(thread.join().unwrap() == first);
    }
}

#[test]
fn a_different_document_has_a_different_identifier() {
    let other = super::Document::new(super::Meta::new("Another", "en-GB"));
    let mut other = other;
    other.add_page(super::PageSize::A4, "1");
    let other = Pdf::read(&other.finish().unwrap());
    assert_ne!(written().file.trailer.get(b"ID").unwrap(), other.file.trailer.get(b"ID").unwrap());
}

#[test]
fn the_file_says_what_it_is() {
    let bytes = sample().finish().unwrap();
    assert!(bytes.starts_with(b"%PDF-1.7\n"));
    let pdf = Pdf::read(&bytes);
    let catalog = pdf.file.catalog().unwrap();
    assert_eq!(read::string(catalog, b"Lang"), "en-GB");
    assert_eq!(read::name(catalog, b"PageMode"), "UseOutlines");
    assert!(pdf.dict(catalog.get(b"MarkInfo").unwrap()).get(b"Marked").unwrap().as_bool().unwrap());
    let preferences = pdf.dict(catalog.get(b"ViewerPreferences").unwrap());
    assert!(preferences.get(b"DisplayDocTitle").unwrap().as_bool().unwrap());

    let info = pdf.dict(pdf.file.trailer.get(b"Info").unwrap());
    assert_eq!(read::string(info, b"Title"), "Sample of every mark a report may bear");
    let keys: Vec<String> = info.iter().map(|(key, _)| String::from_utf8_lossy(key).into_owned()).collect();
    assert_eq!(keys, ["Title", "Creator", "Producer", "Subject"], "and no date");

    let metadata = catalog.get(b"Metadata").unwrap().as_reference().unwrap();
    let xmp = pdf.file.get_object(metadata).unwrap().as_stream().unwrap();
    let xmp = String::from_utf8(xmp.content.clone()).unwrap();
    assert!(xmp.contains("<pdfuaid:part>1</pdfuaid:part>"), "{xmp}");
    assert!(xmp.contains("lists &lt;and&gt; tables"), "{xmp}");
}
