//! What the file says of itself: for viewers, and in XMP for catalogues. It bears no date, so that the same input
//! gives the same file.

use lopdf::{ObjectId, Stream, dictionary};

use super::super::document::Meta;
use super::super::error::PdfError;
use super::{File, PROGRAM};

/// Gives back the XMP stream's object.
pub(super) fn add(file: &mut File<'_>) -> Result<ObjectId, PdfError> {
    let meta = &file.doc.meta;
    let mut info = dictionary! {
        "Title" => lopdf::text_string(&meta.title),
        "Creator" => lopdf::text_string(PROGRAM),
        "Producer" => lopdf::text_string(PROGRAM),
    };
    if !meta.subject.is_empty() {
        info.set("Subject", lopdf::text_string(&meta.subject));
    }
    let info = file.pdf.add_object(info);
    file.pdf.trailer.set("Info", info);
    let entries = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    // Kept readable for programs that look for XMP without reading PDF.
    let stream = Stream::new(entries, xmp(meta).into_bytes()).with_compression(false);
    Ok(file.pdf.add_object(stream))
}

fn xmp(meta: &Meta) -> String {
    let (title, language, subject) = (escaped(&meta.title), escaped(&meta.language), escaped(&meta.subject));
    let description = if subject.is_empty() {
        String::new()
    } else {
        format!(
            "   <dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{subject}</rdf:li></rdf:Alt></dc:description>\n"
        )
    };
    format!(
        r#"<?xpacket begin="{bom}" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
 <rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
  <rdf:Description rdf:about=""
    xmlns:dc="http://purl.org/dc/elements/1.1/"
    xmlns:xmp="http://ns.adobe.com/xap/1.0/"
    xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
    xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
   <dc:format>application/pdf</dc:format>
   <dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
{description}   <dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
   <xmp:CreatorTool>{PROGRAM}</xmp:CreatorTool>
   <pdf:Producer>{PROGRAM}</pdf:Producer>
   <pdfuaid:part>1</pdfuaid:part>
  </rdf:Description>
 </rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>"#,
        bom = '\u{FEFF}',
    )
}

/// As text of an XML element; characters that XML cannot hold go.
fn escaped(text: &str) -> String {
    let mut out = String::new();
    for char in text.chars() {
        match char {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '\t' | '\n' | '\r' => out.push(' '),
            '\u{0}'..='\u{1F}' | '\u{FFFE}' | '\u{FFFF}' => {}
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_may_hold_any_character() {
        let text = xmp(&Meta::new("Tristan & <Isolde>\u{0}\n", "de").with_subject("\"quoted\""));
        let xml = text.trim_start_matches(|char| char != '>').trim_start_matches('>');
        let parsed = roxmltree::Document::parse(xml.trim_end_matches("<?xpacket end=\"r\"?>").trim()).unwrap();
        let words: Vec<&str> = parsed
            .descendants()
            .filter(|node| node.has_tag_name(("http://www.w3.org/1999/02/22-rdf-syntax-ns#", "li")))
            .filter_map(|node| node.text())
            .collect();
        assert_eq!(words, ["Tristan & <Isolde> ", "\"quoted\"", "de"]);
    }
}
