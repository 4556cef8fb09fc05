//! A small writer of indented XML.

use rastrum::units::Spaces;

const INDENT: &str = " ";

pub struct Xml {
    text: String,
    open: Vec<&'static str>,
}

impl Xml {
    pub fn new(root: &'static str, attributes: &[(&str, &str)]) -> Xml {
        let mut xml = Xml { text: "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n".to_owned(), open: Vec::new() };
        xml.open(root, attributes);
        xml
    }

    pub fn open(&mut self, tag: &'static str, attributes: &[(&str, &str)]) {
        self.tag(tag, attributes);
        self.text.push_str(">\n");
        self.open.push(tag);
    }

    pub fn close(&mut self) {
        if let Some(tag) = self.open.pop() {
            self.indent();
            self.text.push_str(&format!("</{tag}>\n"));
        }
    }

    pub fn empty(&mut self, tag: &str, attributes: &[(&str, &str)]) {
        self.tag(tag, attributes);
        self.text.push_str("/>\n");
    }

    pub fn leaf(&mut self, tag: &str, content: impl ToString) {
        self.leaf_with(tag, &[], content);
    }

    pub fn leaf_with(&mut self, tag: &str, attributes: &[(&str, &str)], content: impl ToString) {
        self.tag(tag, attributes);
        self.text.push_str(&format!(">{}</{tag}>\n", escaped(&content.to_string())));
    }

    pub fn finish(mut self) -> String {
        while !self.open.is_empty() {
            self.close();
        }
        self.text
    }

    fn tag(&mut self, tag: &str, attributes: &[(&str, &str)]) {
        self.indent();
        self.text.push('<');
        self.text.push_str(tag);
        for (name, value) in attributes {
            self.text.push_str(&format!(" {name}=\"{}\"", escaped(value)));
        }
    }

    fn indent(&mut self) {
        self.text.push_str(&INDENT.repeat(self.open.len()));
    }
}

/// A length in tenths.
pub fn tenths(length: Spaces) -> String {
    number(length.0 * 10.0)
}

/// At most two decimals and none that say nothing.
pub fn number(value: f64) -> String {
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
